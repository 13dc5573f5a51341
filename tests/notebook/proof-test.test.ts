/** The proof test's shared state: who counted what in which run, and what the page says of it. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { fromMarkdown, readableMarkdown, toMarkdown } from '@/lib/notebook/markdown';
import type { PageContent } from '@/lib/notebook/types';
import type { WidgetState } from '@/lib/widgets/definition';
import type { Model } from '@/lib/widgets/proof-test/definition';
import { fixtureChart } from '../core/fixture';
import { context, read } from './story';
import { told } from './told';

const contentOf = (state: WidgetState): PageContent => ({
  doc: { type: 'doc', content: [{ type: 'widget', attrs: { id: 'w', kind: 'proof-test' } }] },
  widgets: { w: state },
});
const page = (state: WidgetState, chart: typeof fixtureChart | null = fixtureChart) =>
  evaluatePage(contentOf(state), { ...context, chart });
const model = (state: WidgetState) => {
  const [widget] = page(state).widgets;
  if (widget?.error) throw new Error(widget.error);
  return widget?.model as Model;
};
const before = { 'before.missed': 5, 'before.presses': 20 };
const wen = { by: 'Wen', at: '2026-11-21T14:31:00.000Z' };

describe('counters', () => {
  it('of several writers add up, by condition', () => {
    const { proof } = model({ ...before, 'run.0.cold.11': 4, 'run.0.cold.12': 2, 'run.0.warm.11': 8, 'run.0.ball.12': 1 });
    expect(proof.run.clean).toEqual({ cold: 6, warm: 8, coils: 0, ball: 1 });
    expect(proof.clean).toBe(15);
  });

  it('of a writer who took back what another counted lessen the sum, never below nothing', () => {
    expect(model({ ...before, 'run.0.cold.11': 4, 'run.0.cold.12': -1 }).proof.clean).toBe(3);
    expect(model({ ...before, 'run.0.cold.11': 1, 'run.0.cold.12': -2, 'run.0.warm.11': 1 }).proof.clean).toBe(1);
  });

  it('of a condition or run that this version does not know are kept and not counted', () => {
    const state = { ...before, 'run.0.upside-down.11': 4, 'run.x.cold.11': 4, 'run.0.cold': 3, 'miss.0.elsewhere.a': wen };
    expect(model(state).proof).toMatchObject({ clean: 0, ended: [] });
    expect(page(state).widgets[0]?.state).toEqual(state);
  });

  it('refuse what is no count, under its key', () => {
    expect(page({ 'run.0.cold.11': 1.5 }).widgets[0]?.error).toBe('run.0.cold.11: write a whole number');
    expect(page({ 'run.0.cold.11': 1e9 }).widgets[0]?.error).toBe('run.0.cold.11: too many');
    expect(page({ 'before.missed': -1 }).widgets[0]?.error).toBe('before.missed: write a number of 0 or more');
    expect(page({ condition: 'tilted' }).widgets[0]?.error).toBe('condition: write cold, warm, coils, ball');
    expect(page({ 'miss.0.cold.a': true }).widgets[0]?.error).toBe('miss.0.cold.a: a tick is {"by": name, "at": time}');
  });
});

describe('runs', () => {
  const missed = { ...before, condition: 'warm', 'run.0.cold.11': 6, 'run.0.warm.12': 12, 'miss.0.ball.a': wen };

  it('a miss closes its run; the next press opens another', () => {
    const m = model(missed);
    expect(m.proof).toMatchObject({ clean: 0, ended: [{ clean: { cold: 6, warm: 12 }, misses: [{ condition: 'ball', by: 'Wen' }] }] });
    expect(m.run).toBe(1);
    expect(model({ ...missed, 'run.1.warm.11': 2 }).proof).toMatchObject({ clean: 2, run: { clean: { warm: 2 } } });
  });

  it('two misses seen at once in one run both stand', () => {
    const m = model({ ...missed, 'miss.0.warm.b': { by: 'Ines', at: '2026-11-21T14:30:00.000Z' } });
    expect(m.proof.ended[0]?.misses.map(({ by }) => by)).toEqual(['Ines', 'Wen']);
    expect(m.run).toBe(1);
  });

  it('presses that another counted in a run after its miss stay in that run', () => {
    const m = model({ ...missed, 'run.0.warm.99': 5 });
    expect(m.proof.clean).toBe(0);
    expect(m.proof.ended[0]?.clean.warm).toBe(17);
  });

  it('a miss can be taken back until somebody presses again', () => {
    expect(model(missed).lastMiss).toBe('miss.0.ball.a');
    expect(model({ ...missed, 'run.1.warm.11': 1 }).lastMiss).toBeNull();
    expect(model(before).lastMiss).toBeNull();
  });

  it('taken back while another pressed on, it joins what it parted, and counting goes on where the last press was', () => {
    const { 'miss.0.ball.a': _, ...rest } = missed;
    const m = model({ ...rest, 'run.1.warm.11': 2 });
    expect(m.proof).toMatchObject({ clean: 20, ended: [] });
    expect(m.run).toBe(1);
    expect(m.takeBack).toBe('run.1.warm');
    expect(model({ ...rest, condition: 'cold', 'run.1.warm.11': 2 }).takeBack).toBe('run.0.cold');
    expect(model({ ...rest, condition: 'ball' }).takeBack).toBeNull();
  });
});

describe('what the page says', () => {
  it('names the switch and, once pressed, the verdict', () => {
    const facts = page({ ...before, what: '46', 'run.0.cold.1': 13 }).facts;
    expect(facts).toContainEqual({ kind: 'circuit', value: '46', label: '46 Spinner' });
    expect(facts.find((f) => f.kind === 'text')?.value).toContain('13 clean presses in a row');
    expect(page({ ...before, what: '46' }).facts.filter((f) => f.kind === 'text')).toEqual([]);
    expect(page({ what: '999' }, null).facts).toEqual([{ kind: 'circuit', value: '999', label: '999' }]);
  });

  it('is open until presses and conditions are complete; a refusal has no progress', () => {
    expect(page({ ...before, 'run.0.cold.1': 18 }).progress).toEqual([
      { widget: 'w', label: 'Proof', done: 18, of: 24 },
      { widget: 'w', label: 'Proof, conditions', done: 1, of: 4 },
    ]);
    expect(page({ ...before, 'run.0.cold.1': 99 }).progress[0]).toMatchObject({ done: 24, of: 24 });
    expect(page({ 'before.missed': 0, 'before.presses': 20 }).progress).toEqual([]);
    expect(page({}).progress).toEqual([]);
  });

  it('reads as Markdown with every run, and comes back as it was', () => {
    const state = { ...before, what: '46', 'run.0.cold.1': 6, 'miss.0.warm.a': wen, 'run.1.cold.1': 2 };
    const text = readableMarkdown(contentOf(state), page(state)).replaceAll('\u00a0', ' ');
    expect(text).toContain('**Proof test**, 46 Spinner');
    expect(text).toContain('Run 1, clean: 6 cold; 0 warm, 30 min; 0 coils firing; 0 by ball; then missed, warm, 30 min, Wen');
    const back = fromMarkdown(toMarkdown(contentOf(state)));
    expect(back.ok && back.content.widgets.w).toEqual(state);
  });
});

describe('the write-up', () => {
  const of = (text: string) => {
    const content = read(text);
    return told(content).proof;
  };
  const counted = '```widget proof-test p\nbefore.missed: 5\nbefore.presses: 20\nrun.0.cold.a: 13\nwhat: "46"\n```\n';

  it('quotes the verdict before what the record says, once', () => {
    const lines = of(`${counted}\n\`\`\`widget fix-record r\nproof: "An evening’s play"\n\`\`\`\n`);
    expect(lines).toHaveLength(2);
    expect(lines[0]).toContain('made cold only');
    expect(lines[1]).toBe('An evening’s play');
    const [verdict] = of(counted);
    expect(of(`${counted}\n\`\`\`widget fix-record r\nproof: ${JSON.stringify(verdict)}\n\`\`\`\n`)).toEqual([verdict]);
  });

  it('says nothing while nothing was pressed', () => {
    expect(of('```widget proof-test p\nbefore.missed: 5\nbefore.presses: 20\n```\n')).toEqual([]);
  });

  it('of the demo page is held back: no press by ball yet', () => {
    const content = fromMarkdown(readFileSync('content/pages/spinner-misses-counts-when-warm.md', 'utf8'));
    if (!content.ok) throw new Error(content.message);
    const evaluated = evaluatePage(content.content, context);
    const proof = told(content.content, evaluated).proof.join('\n').replaceAll('\u00a0', ' ');
    expect(proof).toContain('18 clean presses in a row: 6 cold, 8 warm and 4 with coils firing.');
    expect(proof).toContain('none by ball yet');
    expect(evaluated.progress).toContainEqual({ widget: 'proof', label: 'Proof', done: 18, of: 24 });
  });
});

describe('beside a fix record', () => {
  const clean = { 'run.0.cold.1': 10, 'run.0.warm.1': 10, 'run.0.coils.1': 10, 'run.0.ball.1': 10 };
  const both = (proofState: WidgetState, fix: WidgetState): PageContent => ({
    doc: {
      type: 'doc',
      content: [
        { type: 'widget', attrs: { id: 'fix', kind: 'fix-record' } },
        { type: 'widget', attrs: { id: 'w', kind: 'proof-test' } },
      ],
    },
    widgets: { fix, w: proofState },
  });
  const fixOf = (proofState: WidgetState, fix: WidgetState = {}) => {
    const evaluated = evaluatePage(both(proofState, fix), context);
    const [widget] = evaluated.widgets;
    return { evaluated, markdown: widget?.definition?.markdown(widget.model) ?? '' };
  };

  it('is named there, so that nobody types it again', () => {
    const { markdown } = fixOf({ ...before, ...clean });
    expect(markdown).toMatch(/^- Proof: See the proof test: Before the mend 5 of 20 presses were missed\. Since then 40 clean presses/m);
    expect(fixOf({ ...before, ...clean }, { proof: 'Watched for a week.' }).markdown).toContain(
      '- Proof: Watched for a week. See the proof test: Before',
    );
  });

  it('is not named while it has nothing to tell', () => {
    expect(fixOf({}).markdown).not.toContain('Proof');
    expect(fixOf({ 'before.missed': 3 }).markdown).not.toContain('Proof'); // 3 of 0 cannot be
  });

  it('is told to the customer once', () => {
    const content = both({ ...before, ...clean }, { proof: 'Watched for a week.', outcome: 'mended' });
    const { proof } = told(content);
    expect(proof).toHaveLength(2);
    expect(proof[0]).toBe('Watched for a week.');
    expect(proof[1]).toContain('40 clean presses');
  });
});
