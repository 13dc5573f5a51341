/** The index of exact clues gives what the general reading gives. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lookup } from '@/lib/core/lookup';
import { exactClues } from '@/lib/core/lookup/exact';
import { readAnew } from '@/lib/core/lookup/lookup';
import { demoCharts } from './lookup-charts';

const charts = demoCharts();
for (const chart of charts) lookup(chart, ''); // the index is made at the second call

describe.each(charts.map((chart) => [chart.title, chart] as const))('%s', (_, chart) => {
  const clues = exactClues(chart);

  it('has some thousand exact clues, each of which leads somewhere', () => {
    expect(clues.length).toBeGreaterThan(2500);
    expect(clues.filter((clue) => !['one', 'several'].includes(lookup(chart, clue).outcome))).toEqual([]);
  });

  it('answers every one, twice, in capitals and between spaces, as the general reading does', () => {
    for (const clue of clues) {
      for (const typed of [clue, clue, clue.toUpperCase(), ` ${clue}  `]) {
        expect(lookup(chart, typed), typed).toStrictEqual(readAnew(chart, typed.trim()));
      }
    }
  });

  it('holds for every circuit its number, its pins, its cell and its wires', () => {
    for (const c of chart.circuits) {
      const [column = '', row = ''] = c.nets.map((net) => chart.nets.get(net)?.colour ?? '');
      const own = [
        c.number,
        `SW${c.number}`,
        `#${c.number}`,
        ...(c.kind === 'matrix' ? [`C${c.column}R${c.row}`, `${column} ${row}`] : []),
      ];
      for (const clue of own) {
        expect(clues, clue).toContain(clue.toLowerCase());
        // Two switches where a wire was found in the colour of another line.
        const result = lookup(chart, clue);
        const first =
          result.outcome === 'several'
            ? result.candidates.filter((x) => x.score === 1)
            : result.outcome === 'one'
              ? [result.candidate]
              : [];
        expect(
          first.map((x) => x.id),
          clue,
        ).toContain(c.number);
      }
      for (const net of c.nets) for (const tap of chart.taps.get(net) ?? []) expect(clues).toContain(tap.pin.toLowerCase());
    }
  });
});

it('capitals anywhere make no difference', () => {
  const [chart] = charts;
  if (!chart) throw new Error('no demo chart');
  const clue = fc
    .constantFrom(...exactClues(chart))
    .chain((text) =>
      fc
        .array(fc.boolean(), { minLength: text.length, maxLength: text.length })
        .map((up) => [...text].map((c, i) => (up[i] ? c.toUpperCase() : c)).join('')),
    );
  fc.assert(
    fc.property(clue, (text) => {
      expect(lookup(chart, text)).toStrictEqual(readAnew(chart, text));
    }),
    { numRuns: 300 },
  );
});

it('a choice among several is taken past the index', () => {
  const [chart] = charts;
  if (!chart) throw new Error('no demo chart');
  for (const clue of exactClues(chart)) {
    const open = lookup(chart, clue);
    if (open.outcome !== 'several') continue;
    const { kind, id } = open.candidates[1] ?? { kind: '', id: '' };
    expect(lookup(chart, clue, `${kind}:${id}`), clue).toMatchObject({ outcome: 'one', candidate: { kind, id } });
    expect(lookup(chart, clue).outcome).toBe('several');
  }
});
