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
  const pairs = new Map<number, T>();
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
      const list = harms.filter(hears);
      const key = list.map((h) => h.id).join('&');
      const known = numbers.get(key);
      if (known !== undefined) return known;
      numbers.set(key, lists.length);
      return lists.push(list) - 1;
    },
    pair,
    answer(heard) {
      const [a = 0, b = 0, ...more] = [...new Set(heard)].filter((h) => h !== 0);
      return more.length === 0 ? pair(a, b) : answerTo([a, b, ...more].flatMap((h) => lists[h] ?? []));
    },
  };
}
