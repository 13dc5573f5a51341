/** Labels and seats of connector positions. Letters of edge connectors are from memory; the mirror laws hold for any connector. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type EndView, orderOf, positionLabel, rowsInView, seatOf } from '@/lib/core/chart';
import { fixtureDesign } from './fixture';

fc.configureGlobal({ seed: 46 }); // the same run every time; change it to search further

const base = { positions: 8, keys: [] as number[] };
const labels = (shape: Parameters<typeof positionLabel>[0]) =>
  Array.from({ length: shape.positions }, (_, i) => positionLabel(shape, i + 1));

const shapes = fc.record({
  positions: fc.integer({ min: 1, max: 60 }),
  keys: fc.uniqueArray(fc.integer({ min: 1, max: 60 }), { maxLength: 3 }),
  rows: fc.constantFrom<1 | 2>(1, 2),
  numbering: fc.constantFrom('along' as const, 'zigzag' as const, 'per-row' as const, 'lettered' as const),
  skipLetters: fc.constantFrom('', 'GIOQ'),
  keyCounted: fc.boolean(),
});

describe('positionLabel', () => {
  it('is the position itself on an ordinary header', () => {
    const header = fixtureDesign.headers[2]!;
    expect(labels(header)).toEqual(['1', '2', '3', '4', '5', '6', '7', '8', '9', '10', '11']);
  });

  it('leaves a key without a number where the chart does not count it', () => {
    expect(labels({ ...base, positions: 6, keys: [3], keyCounted: false })).toEqual(['1', '2', '', '3', '4', '5']);
    expect(labels({ ...base, positions: 6, keys: [5, 2], keyCounted: false })).toEqual(['1', '', '2', '3', '', '4']);
  });

  it('letters one row, or the second face of two', () => {
    expect(labels({ ...base, numbering: 'lettered' })).toEqual(['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H']);
    expect(labels({ ...base, rows: 2, numbering: 'lettered' })).toEqual(['1', '2', '3', '4', 'A', 'B', 'C', 'D']);
    expect(labels({ ...base, rows: 2, keys: [2, 6], keyCounted: false, numbering: 'lettered' })).toEqual([
      '1',
      '',
      '2',
      '3',
      'A',
      '',
      'B',
      'C',
    ]);
  });

  it('has 22 letters without G, I, O and Q, as edge connectors of 22 a side have, then goes on in small letters', () => {
    const edge = labels({ ...base, positions: 56, rows: 2, numbering: 'lettered', skipLetters: 'GIOQ' });
    expect(edge.slice(0, 28).at(-1)).toBe('28');
    expect(edge.slice(28, 50).join('')).toBe('ABCDEFHJKLMNPRSTUVWXYZ');
    expect(edge.slice(50).join('')).toBe('abcdef');
  });

  it('never gives two positions one label', () => {
    fc.assert(
      fc.property(shapes, (shape) => {
        const printed = labels(shape).filter((label) => label !== '');
        expect(new Set(printed).size).toBe(printed.length);
        const keys = shape.keyCounted ? 0 : shape.keys.filter((key) => key <= shape.positions).length;
        expect(printed.length).toBe(shape.positions - keys);
      }),
    );
  });
});

describe('seats', () => {
  it('puts odd positions in the first row of a ribbon, the first half in that of a card edge', () => {
    expect(rowsInView({ ...base, rows: 2, numbering: 'zigzag' }, 'H1')).toEqual([
      [1, 3, 5, 7],
      [2, 4, 6, 8],
    ]);
    expect(rowsInView({ ...base, rows: 2, numbering: 'per-row' }, 'H1')).toEqual([
      [1, 2, 3, 4],
      [5, 6, 7, 8],
    ]);
    expect(rowsInView({ ...base, rows: 2, numbering: 'zigzag' }, 'P2')).toEqual([
      [7, 5, 3, 1],
      [8, 6, 4, 2],
    ]);
    expect(seatOf({ ...base, rows: 2, numbering: 'zigzag' }, 6)).toEqual({ row: 2, along: 3 });
  });

  it('is orderOf on one row', () => {
    for (const view of ['H1', 'H2', 'P1', 'P2'] as const) expect(rowsInView(base, view)).toEqual([orderOf(8, view)]);
  });

  it('shows each position once; the plugged housing as the header, their backs as the mirror', () => {
    fc.assert(
      fc.property(shapes, (shape) => {
        const seen = (view: EndView) => rowsInView(shape, view);
        const all = Array.from({ length: shape.positions }, (_, i) => i + 1);
        expect(
          seen('H1')
            .flat()
            .sort((a, b) => a - b),
        ).toEqual(all);
        expect(seen('P1')).toEqual(seen('H1'));
        expect(seen('P2')).toEqual(seen('H2'));
        expect(seen('H2').map((row) => [...row].reverse())).toEqual(seen('H1'));
      }),
    );
  });
});
