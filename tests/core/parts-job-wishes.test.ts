/** What a job writes down for all its parts; figures worked by hand. */
import { describe, expect, it } from 'vitest';
import { tally } from '@/lib/core/parts';
import { jobWishes } from '@/lib/core/parts/job-wishes';
import { fixtureCatalogue } from './parts-fixture';

const lines = (needed: number, onHand: number, { here = 0, elsewhere = 0, used = 0 } = {}) =>
  tally(
    [
      { part: 'K-254', name: 'Key', quantity: needed, from: 'typed' },
      { name: 'Flux', quantity: 1, from: 'typed' },
      { part: 'GONE-1', name: 'Gone', quantity: 1, from: 'typed' },
    ],
    fixtureCatalogue,
    { 'K-254': onHand },
    { here: { 'K-254': here }, elsewhere: { 'K-254': elsewhere }, used: { 'K-254': used } },
  ).lines;
const pieces = (...of: Parameters<typeof lines>) => [
  jobWishes(lines(...of), 'reserve')[0]?.wish.pieces,
  jobWishes(lines(...of), 'take')[0]?.wish.pieces,
  jobWishes(lines(...of), 'release')[0]?.wish.pieces,
];

describe('a job', () => {
  it('reserves what it still needs, as far as others have not, and leaves plain words and unknown parts out', () => {
    expect(jobWishes(lines(10, 12), 'reserve')).toEqual([{ part: 'K-254', wish: { kind: 'reserved', pieces: 10 } }]);
    expect(pieces(10, 12, { elsewhere: 7 })).toEqual([5, 5, undefined]);
    expect(pieces(10, 12, { here: 4 })).toEqual([6, 10, 4]);
    expect(pieces(10, 12, { here: 10 })).toEqual([undefined, 10, 10]);
  });
  it('takes no more than it needs, counting what it took', () => {
    expect(pieces(10, 12, { used: 10 })).toEqual([undefined, undefined, undefined]);
    expect(pieces(10, 2, { used: 6 })).toEqual([2, 2, undefined]);
    expect(pieces(10, 0)).toEqual([undefined, undefined, undefined]);
    expect(pieces(4, 12, { here: 9 })).toEqual([undefined, 4, 9]);
  });
});
