/** Words of a clue against words of a name: exact, beginning, or a slip of the finger. */

/** Lower case without accents. */
export const fold = (text: string): string => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

export const wordsOf = (text: string): string[] =>
  fold(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter(Boolean);

/** How well two words fit, 0 when not at all. */
export const likeness = { same: 1, beginning: 0.85, longer: 0.7, slip: 0.6 } as const;

/** Likeness of a clue's word to a name's word, both folded. */
export function alike(word: string, other: string): number {
  if (word === other) return likeness.same;
  if (word.length >= 3 && other.startsWith(word)) return likeness.beginning;
  if (other.length >= 3 && word.startsWith(other) && word.length - other.length <= 3) return likeness.longer; // "lanes", "middle" for "mid"
  const allowed = word.length >= 8 ? 2 : word.length >= 5 ? 1 : 0;
  return allowed > 0 && distance(word, other, allowed) <= allowed ? likeness.slip : 0;
}

/** Best fit of a word among others, and the word that it fitted. */
export function bestFit(word: string, others: readonly string[]): { score: number; as: string } {
  return others.reduce((best, other) => (alike(word, other) > best.score ? { score: alike(word, other), as: other } : best), {
    score: 0,
    as: '',
  });
}

/** Edit distance in which exchanged neighbours count once (optimal string alignment); `most` + 1 for anything farther. */
export function distance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let cost = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      row.push(cost);
    }
    before = last;
    last = row;
  }
  return Math.min(last[b.length] ?? most + 1, most + 1);
}
