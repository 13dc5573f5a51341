/** Cutting plans against HiGHS (npm highs 1.15.3), which solves another model of the same problem: tests/core/cutting-mip.ts. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Piece, planCuts } from '@/lib/core/harness/cutting';
import type { StripKind } from '@/lib/core/harness/cutting-strips';
import { type Highs, loadHighs, solveMip } from './cutting-mip';

const reusable = 3;
const kind = fc
  .record({
    positions: fc.integer({ min: 3, max: 24 }),
    cut: fc.constantFrom<StripKind['cut'][]>('sawn', 'sawn', 'scored', 'no'),
    onHand: fc.integer({ min: 0, max: 4 }),
    value: fc.integer({ min: 0, max: 60 }).map((n) => n * 50),
    pack: fc.option(fc.record({ size: fc.integer({ min: 1, max: 10 }), pence: fc.integer({ min: 0, max: 12 }).map((n) => n * 25) }), {
      freq: 3,
    }),
  })
  .map((k): Omit<StripKind, 'part'> => ({ ...k, value: k.pack ? Math.round((100 * k.pack.pence) / k.pack.size) : k.value, offcut: false }));
const instance = fc.record({
  kinds: fc.array(kind, { minLength: 1, maxLength: 5 }).map((list) => list.map((k, i): StripKind => ({ ...k, part: `H-${i}` }))),
  pieces: fc
    .array(fc.integer({ min: 2, max: 14 }), { minLength: 1, maxLength: 11 })
    .map((list) => list.map((length, i): Piece => ({ id: `A1J${i}`, length }))),
});

describe('the plan is the best there is', () => {
  let highs: Highs;
  beforeAll(async () => {
    highs = await loadHighs();
  });

  it('costs what HiGHS finds to be least, in all seven costs, in 220 random jobs', { timeout: 120_000 }, () => {
    for (const { kinds, pieces } of fc.sample(instance, { seed: 1985, numRuns: 220 })) {
      const { cost, unproven } = planCuts(pieces, kinds);
      expect(unproven).toBeNull();
      expect(cost, JSON.stringify({ kinds, pieces })).toEqual(solveMip(highs, pieces, kinds, reusable, 4));
    }
  });

  it('gives a true bound when the budget ends early', { timeout: 60_000 }, () => {
    let cutShort = 0;
    for (const { kinds, pieces } of fc.sample(instance, { seed: 1986, numRuns: 60 })) {
      const { cost, unproven } = planCuts(pieces, kinds, { reusable, nodes: 1 });
      if (!unproven) continue;
      cutShort += 1;
      const least = solveMip(highs, pieces, kinds, reusable, 4)[unproven.level]!;
      expect(unproven.bound).toBeLessThanOrEqual(cost[unproven.level]);
      // The bound holds while the costs before it are at their least, which is what was proved.
      expect(unproven.bound).toBeLessThanOrEqual(least);
      expect(cost[unproven.level]).toBeGreaterThanOrEqual(least);
    }
    expect(cutShort).toBeGreaterThan(5);
  });
});
