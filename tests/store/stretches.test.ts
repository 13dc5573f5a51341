import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type EntryMark, groupEntries, longestStretch, pauseMs, type StretchMark, togetherMs } from '@/lib/store/stretches';

const noon = Date.UTC(2025, 10, 8, 12);
const marks = (...entries: [member: string | null, at: number][]): EntryMark[] =>
  entries.map(([member, at], n) => ({ number: n + 1, member, at }));
const ends = (groups: StretchMark[]) => groups.map((g) => [g.first, g.number]);
const none = new Set<number>();

test('another member, a pause of ten minutes, midnight and a name each end a stretch', () => {
  const minute = 60_000;
  const later = noon + togetherMs;
  const latest = later + togetherMs;
  expect(
    ends(groupEntries(null, marks(['a', noon], ['a', noon], ['b', later], [null, latest], [null, latest + togetherMs]), none)),
  ).toEqual([
    [1, 2],
    [3, 3],
    [4, 5],
  ]);
  expect(pauseMs).toBe(10 * minute);
  expect(ends(groupEntries(null, marks(['a', noon], ['a', noon + pauseMs - 1], ['a', noon + 2 * pauseMs - 1]), none))).toEqual([
    [1, 2],
    [3, 3],
  ]);
  const midnight = Date.UTC(2025, 10, 9);
  expect(ends(groupEntries(null, marks(['a', midnight - 1], ['a', midnight], ['a', midnight + 1]), none))).toEqual([
    [1, 1],
    [2, 3],
  ]);
  expect(ends(groupEntries(null, marks(['a', noon], ['a', noon], ['a', noon]), new Set([2])))).toEqual([
    [1, 2],
    [3, 3],
  ]);
});

test('those who write at the same time share a stretch, and both are named', () => {
  const turns = Array.from({ length: 400 }, (_, n): [string | null, number] => [n % 40 === 7 ? null : 'ab'[n % 2]!, noon + n * 900]);
  expect(groupEntries(null, marks(...turns), none)).toMatchObject([{ first: 1, number: 400, members: ['a', 'b'] }]);
  // One of them goes on alone: still theirs; somebody else who begins later is not.
  const after = noon + 400 * 900 + togetherMs;
  const groups = groupEntries(null, marks(...turns, ['b', after], ['c', after + togetherMs]), none);
  expect(groups).toMatchObject([
    { number: 401, members: ['a', 'b'] },
    { number: 402, members: ['c'] },
  ]);
});

test('a stretch that never pauses still ends', () => {
  const many = marks(...Array.from({ length: longestStretch + 1 }, (): [string, number] => ['a', noon]));
  expect(ends(groupEntries(null, many, none))).toEqual([
    [1, longestStretch],
    [longestStretch + 1, longestStretch + 1],
  ]);
});

test('grouping in two goes gives what one go gives, wherever it is cut', () => {
  const entry = fc.record({
    member: fc.constantFrom('a', 'b', null),
    wait: fc.constantFrom(0, 1000, togetherMs, pauseMs - 1, pauseMs, 6 * 3_600_000),
  });
  const log = fc.record({ entries: fc.array(entry, { minLength: 1, maxLength: 40 }), cut: fc.nat(40), named: fc.uniqueArray(fc.nat(40)) });
  fc.assert(
    fc.property(log, ({ entries, cut, named }) => {
      let at = noon;
      const all = entries.map(({ member, wait }, n) => {
        at += wait;
        return { number: n + 1, member, at };
      });
      const names = new Set(named);
      const whole = groupEntries(null, all, names);
      const before = groupEntries(null, all.slice(0, cut), names);
      const after = groupEntries(before.at(-1) ?? null, all.slice(cut), names);
      const joined = after[0]?.first === before.at(-1)?.first ? [...before.slice(0, -1), ...after] : [...before, ...after];
      expect(joined).toEqual(whole);
      // Without gaps, each entry in a stretch that names its member; who is named wrote in it.
      expect(whole.map((s) => s.first)).toEqual([1, ...whole.slice(0, -1).map((s) => s.number + 1)]);
      for (const s of whole) {
        const own = new Set(all.slice(s.first - 1, s.number).flatMap((e) => e.member ?? []));
        expect(s.members).toEqual([...own]);
      }
    }),
  );
});
