/** Finds known phrases in a sentence: all lists of them in one walk. */
import { type Token, wordsOf } from './tokens';

/** What a phrase stands for, and the list that it belongs to. */
export interface Said {
  list: string;
  id: string;
  name: string;
  /** Further phrases that mean the same. */
  also?: string[];
}
export interface Hit {
  /** Places among the words that carry meaning: the first, and the one behind the last. */
  from: number;
  to: number;
  /** Of the sentence, characters. */
  span: [from: number, to: number];
  said: Said;
}
interface Node {
  next: Map<string, Node>;
  here: Said[];
}
const node = (): Node => ({ next: new Map(), here: [] });
const none: Hit[] = [];

/** Small words ("the", "is", "of") are passed over on both sides, unless a phrase is hardly more than them: "as well as", "it is out". */
export class Phrases {
  private readonly root = node();
  /** Every stem that occurs in a phrase. */
  readonly stems = new Set<string>();

  add(phrase: string, said: Said) {
    const all = wordsOf(phrase);
    const telling = all.filter(({ filler }) => !filler);
    const words = telling.length > 1 || all.length === 1 ? telling : all;
    if (words.length === 0) return;
    let at = this.root;
    for (const { stem } of words) {
      this.stems.add(stem);
      let next = at.next.get(stem);
      if (!next) {
        next = node();
        at.next.set(stem, next);
      }
      at = next;
    }
    if (!at.here.includes(said)) at.here.push(said);
  }

  /** Of each list the longest phrase at each place, without overlaps; one that means several things gives each. */
  find(words: readonly Token[]): (list: string) => Hit[] {
    const places = new Uint32Array(words.length + 1); // of each word, how many telling ones come before it
    for (let at = 0; at < words.length; at++) places[at + 1] = places[at]! + (words[at]!.filler ? 0 : 1);
    const hits = new Map<string, Hit[]>();
    const ends = new Map<string, number>(); // of each list, the word behind its last phrase
    const best = new Map<string, { end: number; said: Said[] }>();
    for (let at = 0; at < words.length; at++) {
      if (!this.root.next.has(words[at]!.stem)) continue;
      best.clear();
      this.walk(words, at, this.root, best);
      for (const [list, { end, said }] of best) {
        if (at < (ends.get(list) ?? 0)) continue;
        ends.set(list, end);
        const found = hits.get(list) ?? [];
        hits.set(list, found);
        const [from, to] = [places[at]!, places[end]!];
        for (const one of said) found.push({ from, to, span: [words[at]!.from, words[end - 1]!.to], said: one });
      }
    }
    return (list) => hits.get(list) ?? none;
  }

  /** Notes for each list the longest phrase that begins at the first word. */
  private walk(words: readonly Token[], at: number, from: Node, best: Map<string, { end: number; said: Said[] }>) {
    const word = words[at];
    if (!word) return;
    const next = from.next.get(word.stem);
    if (next) {
      for (const said of next.here) {
        const known = best.get(said.list);
        if (!known || known.end < at + 1) best.set(said.list, { end: at + 1, said: [said] });
        else if (known.end === at + 1 && !known.said.includes(said)) known.said.push(said);
      }
      this.walk(words, at + 1, next, best);
    }
    if (word.filler && from !== this.root) this.walk(words, at + 1, from, best);
  }
}
