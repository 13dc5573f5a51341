/** Words of a clue against words of a name: exact, beginning, or a slip of the finger. */

/** Lower case without accents. */
export const fold = (text: string): string => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

export const wordsOf = (text: string): string[] =>
  fold(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter(Boolean);

/** How well two words fit, 0 when not at all. */
export const likeness = { same: 1, beginning: 0.85, longer: 0.7, slip: 0.6, twoSlips: 0.5, slipInBeginning: 0.45 } as const;

/** Likeness without a slip, both words folded. */
export function plainlyAlike(word: string, other: string): number {
  if (word === other) return likeness.same;
  if (word.length >= 3 && other.startsWith(word)) return likeness.beginning;
  if (other.length >= 3 && word.startsWith(other) && word.length - other.length <= 3) return likeness.longer; // "lanes", "middle" for "mid"
  return 0;
}

const shortest = { oneSlip: 4, beginning: 5, twoSlips: 8 }; // letters

/** Slips that are forgiven in a word of this many letters: 1 in 4 to 7, 2 in 8 and more; none in a word with a digit. */
const forgiven = (word: string, length: number): number =>
  /\d/.test(word) ? 0 : length >= shortest.twoSlips ? 2 : length >= shortest.oneSlip ? 1 : 0;

/** Likeness of a word that was meant as the other but has letters exchanged, missing, doubled or wrong; or begins it with one such slip. */
export function slipAlike(word: string, other: string): number {
  const most = Math.min(forgiven(word, Math.max(word.length, other.length)), word.length >= shortest.oneSlip ? 2 : 0);
  if (most === 0) return 0;
  if (letterGap(word, other) <= 2 * most) {
    const slips = distance(word, other, most);
    if (slips <= most) return slips === 1 ? likeness.slip : likeness.twoSlips;
  }
  if (word.length < shortest.beginning || word.length + 1 >= other.length) return 0;
  const begins = [word.length - 1, word.length, word.length + 1].some((n) => distance(word, other.slice(0, n), 1) <= 1);
  return begins ? likeness.slipInBeginning : 0;
}

/** Letters that only one of the two has: more than two for each slip, and the words are farther apart than that. */
function letterGap(a: string, b: string): number {
  let bits = letters(a) ^ letters(b);
  let count = 0;
  for (; bits !== 0; bits &= bits - 1) count += 1;
  return count;
}

function letters(word: string): number {
  let mask = 0;
  for (let i = 0; i < word.length; i += 1) mask |= 1 << (word.charCodeAt(i) & 31);
  return mask;
}

/** The nearest of these within the slips that are forgiven (those of a word of its length); null when none is, or two are as near. */
export function nearest(word: string, among: readonly string[], most = forgiven(word, word.length)): string | null {
  let [best, found, twice] = [most + 1, null as string | null, false];
  for (const other of most === 0 ? [] : among) {
    const slips = distance(word, other, most);
    if (slips < best) [best, found, twice] = [slips, other, false];
    else if (slips === best && slips <= most) twice = true;
  }
  return twice ? null : found;
}

/** Edit distance in which exchanged neighbours count once (optimal string alignment); `most` + 1 for anything farther. */
export function distance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let cost = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      row.push(cost);
      if (cost < least) least = cost;
    }
    if (least > most) return most + 1;
    before = last;
    last = row;
  }
  return Math.min(last[b.length] ?? most + 1, most + 1);
}
