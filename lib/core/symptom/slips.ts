/** A word that nobody knows: taken for the nearest that is known, or for one that it begins. */
import { stemOf, wordsOf } from './tokens';

const shortest = 4; // letters; shorter words are too near each other
const leastBegun = 2; // letters of a word that is being typed
const longWord = 8; // from here on two slips are forgiven

export interface KnownWord {
  word: string;
  /** How common; of equally near words the commoner is meant. */
  weight: number;
  /** On how many fixes it is: what is begun is a word that finds something, sooner than one that does not. */
  fixes: number;
}

/** Such as "the": it is known, and nothing is taken for it. */
export const isFiller = (word: string): boolean => wordsOf(word)[0]?.filler ?? false;

/** Words by length, so that few are compared. */
export class Slips {
  private readonly byLength = new Map<number, Map<string, KnownWord>>(); // by form: the word, or its stem
  private readonly stems = new Set<string>();

  add(known: KnownWord) {
    const { word, weight } = known;
    this.stems.add(stemOf(word));
    if (isFiller(word)) return;
    for (const form of new Set([word, stemOf(word)])) {
      const same = this.byLength.get(form.length) ?? new Map<string, KnownWord>();
      this.byLength.set(form.length, same);
      if (weight > (same.get(form)?.weight ?? -1)) same.set(form, known);
    }
  }

  /** A word that is let stand, but that nothing is taken for. */
  know(stem: string) {
    this.stems.add(stem);
  }

  /** The word that was meant; null when this one is known, short, a number, or nothing is near. */
  meant(word: string): string | null {
    if (word.length < shortest || !/^\p{L}+$/u.test(word) || this.stems.has(stemOf(word))) return null;
    return this.nearest(word) ?? this.nearest(stemOf(word));
  }

  /** The word on most fixes that begins so, for one that is still being typed; null when this one is known, or nothing begins so. */
  begun(word: string): string | null {
    if (word.length < leastBegun || !/^\p{L}+$/u.test(word) || (this.stems.has(stemOf(word)) && !isFiller(word))) return null;
    let best: KnownWord | null = null;
    for (const forms of this.byLength.values())
      for (const [form, known] of forms)
        if (form.startsWith(word) && (!best || known.fixes > best.fixes || (known.fixes === best.fixes && known.weight > best.weight)))
          best = known;
    return best?.word ?? null;
  }

  private nearest(word: string): string | null {
    const most = word.length >= longWord ? 2 : 1;
    let best: (KnownWord & { far: number }) | null = null;
    for (let length = word.length - most; length <= word.length + most; length++)
      for (const [form, known] of this.byLength.get(length) ?? []) {
        if (form.length < shortest || (form[0] !== word[0] && form[0] !== word[1])) continue;
        const far = distance(word, form, best ? Math.min(most, best.far) : most);
        if (far <= most && (!best || far < best.far || (far === best.far && known.weight > best.weight))) best = { ...known, far };
      }
    return best?.word ?? null;
  }
}

/** Optimal string alignment distance (insert, delete, replace, exchange two neighbours), or more than `most`. */
export function distance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      let cell = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cell = Math.min(cell, before[j - 2]! + 1);
      row.push(cell);
      least = Math.min(least, cell);
    }
    if (least > most) return most + 1;
    before = last;
    last = row;
  }
  return last[b.length]!;
}
