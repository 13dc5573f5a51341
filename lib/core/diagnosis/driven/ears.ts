/** What one look or test makes of any set of faults. It hears only some harms, so that few answers serve many sets; each is worked out once. */
import type { Harm, Hears } from './scenes';

/** The harms of a fault as one look hears them, by number; 0: none of them. */
export type Heard = number;

export interface Ear<D extends string, T> {
  listen(harms: readonly Harm<D>[]): Heard;
  /** The answer when faults with these are present. */
  answer(heard: readonly Heard[]): T;
  pair(a: Heard, b: Heard): T;
}

const most = 65536; // of different things heard

export function earOf<D extends string, T>(hears: Hears<D>, answerTo: (harms: readonly Harm<D>[]) => T): Ear<D, T> {
  const lists: (readonly Harm<D>[])[] = [[]];
  const numbers = new Map<string, Heard>([['', 0]]);
  const words = new Map<string, string>(); // what is heard of each harm, by its id
  const pairs = new Map<number, T>();
  const wordOf = (h: Harm<D>): string => {
    let word = words.get(h.id);
    if (word === undefined) {
      const names = hears(h);
      word = names.length > 0 ? `${h.does}:${names.join(',')}` : '';
      words.set(h.id, word);
    }
    return word;
  };
  const pair = (a: Heard, b: Heard): T => {
    const key = a < b ? a * most + b : b * most + a;
    let found = pairs.get(key);
    if (found === undefined) {
      found = answerTo(a === b ? (lists[a] ?? []) : [...(lists[a] ?? []), ...(lists[b] ?? [])]);
      pairs.set(key, found);
    }
    return found;
  };
  return {
    listen(harms) {
      let key = '';
      for (const h of harms) {
        const word = wordOf(h);
        if (word !== '') key = key === '' ? word : `${key}&${word}`;
      }
      const known = numbers.get(key);
      if (known !== undefined) return known;
      numbers.set(key, lists.length);
      return lists.push(harms.filter((h) => wordOf(h) !== '')) - 1;
    },
    pair,
    answer(heard) {
      const [a = 0, b = 0, ...more] = [...new Set(heard)].filter((h) => h !== 0);
      return more.length === 0 ? pair(a, b) : answerTo([a, b, ...more].flatMap((h) => lists[h] ?? []));
    },
  };
}

/** Looks and tests that are kept for a chart keep their ears, and with them all that was worked out. */
const ears = new WeakMap<object, Ear<string, unknown>>();

/** The ear of one look or test, known by its function: what that answers to any harms. */
export function earFor<D extends string, A, T>(
  hears: Hears<D>,
  answers: (harms: readonly Harm<D>[]) => A,
  as: (answer: A) => T,
): Ear<D, T> {
  const known = ears.get(answers);
  if (known) return known as unknown as Ear<D, T>;
  const ear = earOf(hears, (harms) => as(answers(harms)));
  ears.set(answers, ear as unknown as Ear<string, unknown>);
  return ear;
}
