import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { fromMarkdown, readableMarkdown } from '@/lib/notebook/markdown';
import { fixtureChart } from '../core/fixture';
import { fixtureCatalogue, fixtureStock } from '../core/parts-fixture';

describe('readable Markdown', () => {
  const read = fromMarkdown(readFileSync('content/pages/spinner-misses-counts-when-warm.md', 'utf8'));
  if (!read.ok) throw new Error(read.message);
  const page = evaluatePage(read.content, { chart: fixtureChart, catalogue: fixtureCatalogue, stock: fixtureStock, record: {} });
  const text = readableMarkdown(read.content, page);

  it('keeps the prose and writes widgets out, without their state', () => {
    expect(text).toMatch(/^# Spinner misses counts when warm\n/);
    expect(text).toContain('From cold the spinner counts every turn');
    expect(text).toContain('**Circuit lookup**');
    expect(text).toContain('violet/yellow');
    expect(text).not.toContain('```widget');
  });

  it('keeps the data of a widget that this version does not know', () => {
    const unknown = fromMarkdown('# A page\n\n```widget moon-phase w1\nphase: "full"\n```\n');
    if (!unknown.ok) throw new Error(unknown.message);
    const evaluated = evaluatePage(unknown.content, { chart: null, catalogue: fixtureCatalogue, stock: fixtureStock, record: {} });
    expect(readableMarkdown(unknown.content, evaluated)).toContain('phase: "full"');
  });
});
