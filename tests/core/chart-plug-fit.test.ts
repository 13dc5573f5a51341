/** Where a plug goes on although it does not belong there. Common practice, no source. */
import { describe, expect, it } from 'vitest';
import { goesOn, goesOnShifted, goesOnTurned, shifted, turned } from '@/lib/core/chart/plug-fit';
import { type Header, header } from '@/lib/core/chart/schema';

const made = (more: Partial<Header> = {}): Header =>
  header.parse({ id: 'A1J1', positions: 6, pitchMm: 2.54, plating: 'tin', termination: 'crimp', pins: [], lock: 'none', ...more });
const keyed = (...keys: number[]) => ({ plug: keys, pins: keys });
const all = (of: Header, place: (position: number) => number | null) => Array.from({ length: of.positions }, (_, i) => place(i + 1));

describe('where terminals come to sit', () => {
  it('one row', () => {
    expect(all(made(), shifted(made(), 1))).toEqual([2, 3, 4, 5, 6, null]);
    expect(all(made(), shifted(made(), -1))).toEqual([null, 1, 2, 3, 4, 5]);
    expect(all(made(), turned(made()))).toEqual([6, 5, 4, 3, 2, 1]);
  });
  it('two rows, odd positions before even ones', () => {
    const two = made({ rows: 2, numbering: 'zigzag' });
    expect(all(two, shifted(two, 1))).toEqual([3, 4, 5, 6, null, null]);
    expect(all(two, turned(two))).toEqual([6, 5, 4, 3, 2, 1]);
  });
  it('two rows, one after the other', () => {
    const two = made({ rows: 2, numbering: 'per-row' });
    expect(all(two, shifted(two, 1))).toEqual([2, 3, null, 5, 6, null]);
    expect(all(two, turned(two))).toEqual([6, 5, 4, 3, 2, 1]);
  });
  it('turned twice is where it was', () => {
    for (const numbering of ['zigzag', 'per-row', 'lettered'] as const) {
      const two = made({ rows: 2, numbering, positions: 10 });
      for (const position of all(two, (p) => p)) expect(turned(two)(turned(two)(position ?? 0) ?? 0)).toBe(position);
    }
  });
});

describe('one place over', () => {
  it('without a key, in both directions', () => {
    for (const by of [1, -1]) expect(goesOnShifted(made(), keyed(), by)).toBe(true);
  });
  it('a key inside stops it; a key at the end leaves one direction, over the edge', () => {
    for (const by of [1, -1]) expect(goesOnShifted(made(), keyed(3), by)).toBe(false);
    expect(goesOnShifted(made(), keyed(6), 1)).toBe(true);
    expect(goesOnShifted(made(), keyed(6), -1)).toBe(false);
  });
  it('a plug that has lost its key goes on, whatever pin is cut', () => {
    expect(goesOnShifted(made(), { plug: [], pins: [3] }, 1)).toBe(true);
    expect(goesOnShifted(made(), { plug: [3], pins: [] }, 1)).toBe(false);
  });
  it('a friction wall does not stop it, a shroud does', () => {
    expect(goesOnShifted(made({ lock: 'friction' }), keyed(), 1)).toBe(true);
    expect(goesOnShifted(made({ lock: 'shroud' }), keyed(), 1)).toBe(false);
  });
});

describe('turned round', () => {
  it('a friction wall and a shroud stop it', () => {
    expect(goesOnTurned(made(), keyed())).toBe(true);
    for (const lock of ['friction', 'shroud'] as const) expect(goesOnTurned(made({ lock }), keyed())).toBe(false);
  });
  it('a key stops it, unless it stands the same from both ends', () => {
    expect(goesOnTurned(made(), keyed(2))).toBe(false);
    expect(goesOnTurned(made({ positions: 7 }), keyed(4))).toBe(true);
    expect(goesOnTurned(made(), { plug: [2], pins: [2, 5] })).toBe(true);
  });
  it('two rows have a notch to go by, unless the chart denies it', () => {
    const two = made({ rows: 2, numbering: 'zigzag' });
    expect(goesOnTurned(two, keyed())).toBe(true);
    expect(goesOnTurned({ ...two, lock: undefined }, keyed())).toBe(false);
  });
});

describe('on another header', () => {
  it('of the same size and pitch', () => {
    expect(goesOn(made(), [], made(), [])).toBe(true);
    for (const more of [{ positions: 7 }, { pitchMm: 3.96 as const }, { rows: 2 as const }])
      expect(goesOn(made(), [], made(more), []), JSON.stringify(more)).toBe(false);
  });
  it('2.5 mm goes on 2.54 mm', () => expect(goesOn(made({ pitchMm: 2.5 }), [], made(), [])).toBe(true));
  it('its key must find no pin; a cut pin too many is no hindrance', () => {
    expect(goesOn(made(), [2], made(), [2])).toBe(true);
    expect(goesOn(made(), [2], made(), [3])).toBe(false);
    expect(goesOn(made(), [], made(), [3])).toBe(true);
  });
  it('pins of another thickness or shape', () => {
    expect(goesOn(made({ pinMm: 0.64 }), [], made({ pinMm: 1.14 }), [])).toBe(false);
    expect(goesOn(made({ pinMm: 0.64 }), [], made(), [])).toBe(true);
    expect(goesOn(made({ pinShape: 'square' }), [], made({ pinShape: 'round' }), [])).toBe(false);
  });
});
