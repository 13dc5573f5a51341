/** Measures of a ranking. Grades are 0–3; the list of grades is in the order that was shown. */

/** Of everything there is; of many, bytes: lists of them would be work for the garbage collector while searches are timed. */
type Grades = readonly number[] | Uint8Array;

/** Discounted cumulative gain with linear gain: Σ rel_i / log2(i + 1), i from 1 (Järvelin and Kekäläinen 2002, in the later usual form). */
export const dcg = (grades: readonly number[], k = grades.length): number =>
  grades.slice(0, k).reduce((sum, grade, i) => sum + grade / Math.log2(i + 2), 0);

/** DCG over that of the best order of everything there is; 0 when nothing is relevant. */
export function ndcg(shown: readonly number[], all: Grades, k: number): number {
  const ideal = dcg([...Float64Array.from(all).sort().reverse().subarray(0, k)]);
  return ideal === 0 ? 0 : dcg(shown, k) / ideal;
}

/** One over the rank of the first that is at least `from`; 0 when none is. */
export function reciprocalRank(shown: readonly number[], from = 1): number {
  const at = shown.findIndex((grade) => grade >= from);
  return at < 0 ? 0 : 1 / (at + 1);
}

/** Share of what is at least `from` that stands among the first k; of more than k, k count as all. */
export function recall(shown: readonly number[], all: Grades, k: number, from = 1): number {
  let relevant = 0;
  for (const grade of all) if (grade >= from) relevant++;
  return relevant === 0 ? 0 : shown.slice(0, k).filter((grade) => grade >= from).length / Math.min(k, relevant);
}

export const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
