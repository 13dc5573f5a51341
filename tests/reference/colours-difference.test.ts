/** CIEDE2000 and CIELAB against the published pairs and an independent library. */
import { converter, differenceCiede2000 } from 'culori';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ciede2000, colours, type Lab, labOfSrgb } from '@/lib/core/wire';
import published from './colours-ciede2000.json';

const lab = (l = 0, a = 0, b = 0): Lab => ({ l, a, b });
const pairs = published.rows.map(([l1, a1, b1, l2, a2, b2, difference = 0], i) => ({
  pair: i + 1,
  one: lab(l1, a1, b1),
  two: lab(l2, a2, b2),
  difference,
}));

describe('CIEDE2000 (Sharma, Wu, Dalal 2005, table 1)', () => {
  it('has all 34 pairs', () => expect(pairs).toHaveLength(34));

  it.each(pairs)('pair $pair is $difference apart, either way round', ({ one, two, difference }) => {
    expect(Math.abs(ciede2000(one, two) - difference)).toBeLessThan(1e-4);
    expect(Math.abs(ciede2000(two, one) - difference)).toBeLessThan(1e-4);
  });

  it('agrees with culori 4.0.2 (MIT) everywhere else, in its mode lab65', () => {
    const theirs = differenceCiede2000();
    const value = (least: number, most: number) => fc.integer({ min: least * 100, max: most * 100 }).map((n) => n / 100);
    const any = fc.record({ l: value(0, 100), a: value(-120, 120), b: value(-120, 120) });
    fc.assert(
      fc.property(any, any, (one, two) => {
        const wanted = theirs({ mode: 'lab65', ...one }, { mode: 'lab65', ...two });
        expect(Math.abs(ciede2000(one, two) - wanted)).toBeLessThan(1e-6);
        expect(ciede2000(one, one)).toBe(0);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('CIELAB of a pixel', () => {
  const theirs = converter('lab65');

  // culori rounds D65 to 0.3127, 0.329 as IEC 61966-2-1 does.
  it('agrees with culori 4.0.2, mode lab65', () => {
    const hex = fc.integer({ min: 0, max: 0xffffff }).map((n) => `#${n.toString(16).padStart(6, '0')}`);
    fc.assert(
      fc.property(hex, (srgb) => {
        const [ours, wanted] = [labOfSrgb(srgb), theirs(srgb)];
        for (const axis of ['l', 'a', 'b'] as const)
          expect(Math.abs((ours?.[axis] ?? 999) - (wanted?.[axis] ?? 0)), srgb).toBeLessThan(2e-3);
      }),
      { numRuns: 1000 },
    );
  });

  it('is white against its own white patch, whatever the lamp', () => {
    for (const patch of ['#f0e0b0', '#a0b0d0', '#505050']) {
      const white = labOfSrgb(patch, patch);
      for (const [axis, wanted] of [
        ['l', 100],
        ['a', 0],
        ['b', 0],
      ] as const)
        expect(white?.[axis]).toBeCloseTo(wanted, 2);
    }
  });

  it('reads nothing but #rrggbb, and no white patch that is black in a channel', () => {
    for (const bad of ['', 'red', '#fff', '#12345', '#12345g']) expect(labOfSrgb(bad)).toBeNull();
    expect(labOfSrgb('#808080', '#ff0000')).toBeNull();
    for (const c of colours) expect(labOfSrgb(c.srgb), c.name).not.toBeNull();
  });
});
