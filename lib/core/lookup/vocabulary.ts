/** The words of a chart: which things have each in their name or place. */
import { perChart } from './per-chart';
import { type Thing, thingsOf } from './things';
import { plainlyAlike, slipAlike } from './words';

interface Word {
  named: Thing[];
  placed: Thing[];
}

export const vocabularyOf = perChart((chart): ReadonlyMap<string, Word> => {
  const words = new Map<string, Word>();
  const at = (word: string) => {
    const known = words.get(word) ?? { named: [], placed: [] };
    words.set(word, known);
    return known;
  };
  for (const thing of thingsOf(chart)) {
    for (const word of new Set(thing.name)) at(word).named.push(thing);
    for (const word of new Set(thing.place)) at(word).placed.push(thing);
  }
  return words;
});

export interface Heard extends Word {
  as: string; // the chart's word
  score: number;
}

/** Words of the chart that a word of a clue may mean, likest first. A slip is thought of only when nothing fits as it is written. */
export function hear(words: ReadonlyMap<string, Word>, word: string): Heard[] {
  const by = (alike: typeof plainlyAlike): Heard[] => {
    const heard: Heard[] = [];
    for (const [as, things] of words) {
      const score = alike(word, as);
      if (score > 0) heard.push({ ...things, as, score });
    }
    return heard.sort((a, b) => b.score - a.score);
  };
  const plain = by(plainlyAlike);
  return plain.length > 0 ? plain : by(slipAlike);
}

/** A word of the chart, or the beginning of one, as it is written. */
export const isHeardPlainly = (words: ReadonlyMap<string, Word>, word: string): boolean =>
  words.has(word) || [...words.keys()].some((as) => plainlyAlike(word, as) > 0);
