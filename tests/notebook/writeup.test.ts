import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { standingCaution } from '@/lib/notebook/writeup';
import { page as generated } from './arbitrary';
import { context, read, spinner } from './story';
import { told } from './told';

describe('write-up', () => {
  const of = (text: string) => told(read(text));

  it('is derived from the page', () => {
    expect(of(spinner)).toEqual({
      title: ['Spinner misses counts when warm'],
      machine: 'Lantern Regatta, no. 3',
      complaint: ['Spinner drops one turn in four once warm'],
      found: ['Worn contact in a housing at the plug of the switch rows. It concerns 26 Tide gate, 46 Spinner.'],
      done: ['New housing, every wire crimped'],
      proof: ['24 clean presses, cold and warm'],
      parts: [expect.stringMatching(/^10 × .* \(T-254-S\)$/)],
      watch: ['Row 6 after an evening’s play'],
      cautions: [standingCaution],
      photos: [],
      time: ['1 h 35 min'],
    });
  });

  it('names the wire of a pin', () => {
    expect(of('```widget fix-record r\ncause: "worn-contact"\nplace: "A3P4-7"\n```\n').found).toEqual([
      'Worn contact in a housing at A3P4-7 (grey/orange wire).',
    ]);
    expect(of('```widget fix-record r\noutcome: "not-found"\n```\n').found).toEqual([
      'No fault showed itself while the machine was with us.',
    ]);
  });

  it('takes the complaint from the prose when no widget has one', () => {
    const without = spinner.replace(/^symptom.*\n/m, '');
    expect(of(without).complaint).toEqual([
      'From cold the spinner counts every turn. After half an hour it drops about one in four.',
      'The slings never miss.',
    ]);
    expect(of('# t\n\nIt is dead.\n\nVery.').complaint).toEqual(['It is dead.']);
    expect(of('# t').complaint).toEqual([]);
  });

  it('always ends its cautions with the one that defers to local codes and licensed practice', () => {
    fc.assert(
      fc.property(generated, (content) => {
        const { cautions } = told(content, evaluatePage(content, context), null);
        expect(cautions.at(-1)).toBe(standingCaution);
        expect(cautions.filter((c) => c === standingCaution)).toHaveLength(1);
      }),
      { numRuns: 30 },
    );
    expect(standingCaution).toMatch(/local codes/);
    expect(standingCaution).toMatch(/licen[cs]e/);
  });
});
