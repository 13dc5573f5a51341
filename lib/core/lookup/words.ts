/** Words of a clue against words of a name: exact, beginning, or a slip of the finger. */
import { fold } from './clue';

const exact = 1;
const beginning = 0.8;
const slip = 0.6;

/** How well a clue's word fits a name's word, 0 when not at all. */
export function fit(word: string, other: string): number {
  if (word === other) return exact;
  if (word.length >= 3 && other.startsWith(word)) return beginning;
  const allowed = word.length >= 8 ? 2 : word.length >= 4 ? 1 : 0;
  return allowed > 0 && distance(word, other, allowed) <= allowed ? slip : 0;
}

export const wordsOf = (text: string) =>
  text
    .split(/[\s,/-]+/)
    .map(fold)
    .filter(Boolean);

/** Best fit of a word among the words of a text, with the word that it fitted. */
export function bestFit(word: string, text: string): { score: number; as: string } {
  return wordsOf(text).reduce((best, other) => (fit(word, other) > best.score ? { score: fit(word, other), as: other } : best), {
    score: 0,
    as: '',
  });
}

/** Edit distance with neighbours exchanged counted once (optimal string alignment); stops above `most`. */
function distance(a: string, b: string, most: number): number {
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
  return last[b.length] ?? most + 1;
}
