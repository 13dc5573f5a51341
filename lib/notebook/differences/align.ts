/** Two lists laid side by side: what stayed, what belongs together though it changed, what came and went. */
import { diffArrays } from 'diff';

/** A place in the first list, in the second, or in both. */
export interface Pair {
  before: number | null;
  after: number | null;
  same: boolean;
}
const mostEdits = 2000; // beyond that everything counts as different: the time grows with its square
const mostCells = 250_000; // of the table that finds what belongs together

/**
 * `keys` are equal for what stayed; `likeness` says how much two that differ are alike, 0 when they cannot belong together. Pairs come in
 * reading order; what went stands before what came in its place.
 */
export function align(before: readonly string[], after: readonly string[], likeness: (before: number, after: number) => number): Pair[] {
  const hunks = diffArrays([...before], [...after], { maxEditLength: mostEdits }) ?? [
    { count: before.length, removed: true, added: false },
    { count: after.length, removed: false, added: true },
  ];
  const pairs: Pair[] = [];
  let [b, a] = [0, 0];
  let run = { b: 0, a: 0 }; // how many of each wait to be paired
  const settle = () => {
    pairs.push(...together(b - run.b, b, a - run.a, a, likeness));
    run = { b: 0, a: 0 };
  };
  for (const { count, removed, added } of hunks) {
    if (removed) {
      b += count;
      run.b += count;
    } else if (added) {
      a += count;
      run.a += count;
    } else {
      settle();
      for (let k = 0; k < count; k++) pairs.push({ before: b++, after: a++, same: true });
    }
  }
  settle();
  return pairs;
}

/** The pairing, in order, whose likeness is greatest in sum. */
function together(b0: number, b1: number, a0: number, a1: number, likeness: (before: number, after: number) => number): Pair[] {
  const [rows, columns] = [b1 - b0, a1 - a0];
  const gone = (before: number): Pair => ({ before, after: null, same: false });
  const come = (after: number): Pair => ({ before: null, after, same: false });
  const all = (from: number, to: number, make: (at: number) => Pair) => Array.from({ length: to - from }, (_, k) => make(from + k));
  if (rows * columns === 0 || rows * columns > mostCells) return [...all(b0, b1, gone), ...all(a0, a1, come)];
  const like = Array.from({ length: rows }, (_, i) => Array.from({ length: columns }, (_, j) => likeness(b0 + i, a0 + j)));
  const best = Array.from({ length: rows + 1 }, () => new Float64Array(columns + 1));
  const at = (i: number, j: number) => best[i]?.[j] ?? 0;
  const likeAt = (i: number, j: number) => like[i]?.[j] ?? 0;
  for (let i = rows - 1; i >= 0; i--)
    for (let j = columns - 1; j >= 0; j--) {
      const paired = likeAt(i, j) > 0 ? likeAt(i, j) + at(i + 1, j + 1) : 0;
      best[i]![j] = Math.max(paired, at(i + 1, j), at(i, j + 1));
    }
  const pairs: Pair[] = [];
  let [i, j] = [0, 0];
  while (i < rows && j < columns) {
    if (likeAt(i, j) > 0 && at(i, j) === likeAt(i, j) + at(i + 1, j + 1)) pairs.push({ before: b0 + i++, after: a0 + j++, same: false });
    else if (at(i, j) === at(i + 1, j)) pairs.push(gone(b0 + i++));
    else pairs.push(come(a0 + j++));
  }
  return [...pairs, ...all(b0 + i, b1, gone), ...all(a0 + j, a1, come)];
}
