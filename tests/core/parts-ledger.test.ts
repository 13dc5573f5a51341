/** What an entry may do, and what to order. Laws of the ledger, held for every sequence of wishes; the figures are worked by hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Balance, changeOf, free, lowParts, takeable, type Wish } from '@/lib/core/parts/ledger';
import { fixtureCatalogue } from './parts-fixture';

fc.configureGlobal({ seed: 1985 }); // the same cases at every run

describe('an entry', () => {
  const at = (onHand: number, reserved: number, here: number): Balance => ({ onHand, reserved, here });
  it('uses the job’s own reservation first, and no other’s', () => {
    expect(takeable(at(10, 7, 3))).toBe(6);
    expect(changeOf({ kind: 'used', pieces: 6 }, at(10, 7, 3))).toEqual({ quantity: -6, held: -3 });
    expect(changeOf({ kind: 'used', pieces: 7 }, at(10, 7, 3))).toEqual({ atMost: 6 });
    expect(changeOf({ kind: 'used', pieces: 2 }, at(10, 7, 3))).toEqual({ quantity: -2, held: -2 });
  });
  it('reserves what is free and releases what is one’s own', () => {
    expect(changeOf({ kind: 'reserved', pieces: 3 }, at(10, 7, 0))).toEqual({ quantity: 0, held: 3 });
    expect(changeOf({ kind: 'reserved', pieces: 4 }, at(10, 7, 0))).toEqual({ atMost: 3 });
    expect(changeOf({ kind: 'reserved', pieces: 1 }, at(5, 7, 7))).toEqual({ atMost: 0 });
    expect(changeOf({ kind: 'released', pieces: 4 }, at(10, 7, 3))).toEqual({ atMost: 3 });
  });
  it('counts to what was found, whatever the book said', () => {
    expect(changeOf({ kind: 'counted', pieces: 4 }, at(10, 7, 0))).toEqual({ quantity: -6, held: 0 });
    expect(changeOf({ kind: 'counted', pieces: 0 }, at(-3, 0, 0))).toEqual({ quantity: 3, held: 0 });
  });

  it('never takes the stock below zero, nor more than is reserved, in any sequence of two jobs', () => {
    const wish: fc.Arbitrary<{ job: 0 | 1; wish: Wish }> = fc.record({
      job: fc.constantFrom(0 as const, 1 as const),
      wish: fc.record({
        kind: fc.constantFrom('received' as const, 'used' as const, 'reserved' as const, 'released' as const),
        pieces: fc.integer({ min: 1, max: 20 }),
      }),
    });
    fc.assert(
      fc.property(fc.array(wish, { maxLength: 40 }), (wishes) => {
        let onHand = 0;
        const held: [number, number] = [0, 0];
        for (const { job, wish } of wishes) {
          const change = changeOf(wish, { onHand, reserved: held[0] + held[1], here: held[job] });
          if ('atMost' in change) {
            expect(change.atMost).toBeLessThan(wish.pieces);
            continue;
          }
          onHand += change.quantity;
          held[job] += change.held;
          expect(Math.min(...held)).toBeGreaterThanOrEqual(0);
          expect(free({ onHand, reserved: held[0] + held[1] })).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });
});

describe('what is low', () => {
  const low = (onHand: number, reserved: number, mark?: number) =>
    lowParts(fixtureCatalogue.parts, { 'K-254': { onHand, reserved } }, mark === undefined ? {} : { 'K-254': mark });
  it('is fewer free than the mark; whole packs bring it back', () => {
    expect(low(12, 0, 12)).toEqual([]);
    expect(low(11, 0, 12)).toMatchObject([{ part: 'K-254', free: 11, packs: 1, pieces: 10, cost: 180 }]);
    expect(low(12, 11, 12)).toMatchObject([{ free: 1, packs: 2, pieces: 20, cost: 360 }]);
    expect(low(1, 5, 7)).toMatchObject([{ free: -4, packs: 2, pieces: 20 }]);
    expect(low(0, 0)).toEqual([]);
  });
  it('counts a part without any entry as none', () => {
    expect(lowParts(fixtureCatalogue.parts, {}, { 'K-254': 1 })).toMatchObject([{ part: 'K-254', free: 0, packs: 1 }]);
  });
});
