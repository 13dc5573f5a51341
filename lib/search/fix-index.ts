/**
 * The index of fixes, in the memory of this process: every feature with the fixes that have it. A search looks at every fix that has
 * something of the question, so that its best are the best. A fix that changes gets a new slot; old slots go when they are many.
 */

import type { Item, Question } from './ask';
import { Column } from './column';
import { type Counted, type Facet, FacetColumn, facets, type Labels, type Narrowing } from './facet';
import type { Features } from './features';
import { Posting } from './posting';
import type { Standing } from './prior';
import { dayNumber, standingOf } from './prior';
import { Recurrence } from './recurrence';
import { leastFits, leastPart, likePart, sharesOf } from './score';
import { type Sought, Sums } from './sums';

export interface Indexed {
  page: string;
  features: Features;
  words: string[]; // telling stems in order
  standing: Standing;
  labels: Labels;
  /** Cause and circuits on a machine: the same key later is the same fault again. */
  faults: string[];
}
export interface Hit {
  page: string;
  score: number;
  /** Features that fitted, one for each item that did. */
  fits: { item: Item; feature: string; value: number }[];
}
export interface Found {
  hits: Hit[];
  total: number;
  /** Causes of the fixes most like the question, most frequent first. */
  causes: Counted[];
  like: number;
  facets: Record<Facet, Counted[]>;
}

const none = new Uint32Array(0);

export class FixIndex {
  private readonly ids = new Map<string, number>(); // feature → number
  private readonly names: string[] = [];
  private postings: Posting[] = [];
  private readonly slots = new Map<string, number>(); // page → slot
  private pages: (string | null)[] = [];
  private features: Uint32Array[] = [];
  private weights: Uint8Array[] = [];
  private words: Uint32Array[] = [];
  private standings: Standing[] = [];
  private readonly facets = Object.fromEntries(facets.map((facet) => [facet, new FacetColumn()])) as Record<Facet, FacetColumn>;
  private faults: string[][] = [];
  private readonly recurrence = new Recurrence();
  private readonly wordIds = new Map<string, number>();
  private readonly prior = new Column(Float64Array);
  private readonly sums = new Sums();
  private room = none; // for slots that are found
  private dead = 0;

  constructor(private readonly today: () => number = () => Math.floor(Date.now() / 86_400_000)) {}

  /** How many fixes there are. */
  get size() {
    return this.slots.size;
  }

  /** Whether a feature occurs on any fix. */
  has(feature: string): boolean {
    return this.count(feature) > 0;
  }
  /** On how many. */
  count(feature: string): number {
    const id = this.ids.get(feature);
    return id === undefined ? 0 : this.postings[id]!.living;
  }
  /** 0 for what every fix has, 1 for what only one has. */
  readonly rarity = (feature: string): number => {
    const count = this.count(feature);
    return Math.log((this.size + 1) / (count + 0.5)) / Math.log((this.size + 1) / 0.5);
  };
  /** The stems of words that occur. */
  *stems(): Iterable<string> {
    for (const [feature, id] of this.ids) if (feature.startsWith('w:') && this.postings[id]!.living > 0) yield feature.slice(2);
  }

  /** Adds a fix, or replaces it. */
  put(fix: Indexed) {
    this.remove(fix.page);
    const slot = this.pages.length;
    this.slots.set(fix.page, slot);
    this.pages.push(fix.page);
    const size = fix.features.size;
    const [ids, weights] = [new Uint32Array(size), new Uint8Array(size)];
    let at = 0;
    for (const [feature, weight] of fix.features) {
      ids[at] = this.idOf(feature);
      weights[at] = Math.round(weight * 255);
      this.postings[ids[at]!]!.push(slot, weights[at]!);
      at++;
    }
    this.features.push(ids);
    this.weights.push(weights);
    this.words.push(Uint32Array.from(fix.words, (word) => this.wordId(word)));
    this.standings.push(fix.standing);
    for (const facet of facets) this.facets[facet].set(slot, fix.labels[facet]);
    const day = dayNumber(fix.standing.on);
    this.faults.push(Number.isNaN(day) ? [] : fix.faults); // without a day nothing came after it
    this.judge(this.recurrence.add(slot, this.faults[slot]!, day));
  }

  remove(page: string) {
    const slot = this.slots.get(page);
    if (slot === undefined) return;
    this.slots.delete(page);
    this.pages[slot] = null;
    this.prior.set(slot, 0); // and with it every score
    for (const id of this.features[slot]!) this.postings[id]!.living--;
    this.judge(this.recurrence.remove(slot, this.faults[slot]!));
    this.dead++;
    if (this.dead > 1000 && this.dead > this.slots.size) this.sweep();
  }

  /** The best fixes for a question, best first; equal ones the newer first. */
  find(question: Question, limit: number, narrowing: Narrowing = {}, without?: string): Found {
    const scores = this.score(question);
    const wanted = this.wanted(narrowing, question.quotes, without);
    const best = highest(scores, wanted);
    const slots = best > 0 ? this.atLeast(best * leastPart, scores, wanted) : none;
    const hits = firstOf(slots, scores, limit, (a, b) => this.newer(a, b));
    const found = {
      total: slots.length,
      facets: Object.fromEntries(facets.map((facet) => [facet, this.facets[facet].count(slots)])) as Found['facets'],
      hits: hits.map((slot) => ({ page: this.pages[slot]!, score: scores[slot]!, fits: this.fits(slot, question.items) })),
    };
    const like = onlyAtLeast(slots, scores, best * likePart);
    return { ...found, like: like.length, causes: this.facets.cause.count(like) };
  }

  /** The slots with at least a score, in room that is kept from one search to the next. */
  private atLeast(least: number, scores: Float32Array, wanted: Wanted): Uint32Array {
    if (this.room.length < scores.length) this.room = new Uint32Array(Math.ceil(scores.length * 1.25));
    const { room } = this;
    let count = 0;
    for (let slot = 0; slot < scores.length; slot++) if (scores[slot]! >= least && (!wanted || wanted(slot))) room[count++] = slot;
    return room.subarray(0, count);
  }

  /** The score of every slot. */
  private score({ items, asked }: Question): Float32Array {
    const { sums } = this;
    sums.begin(this.pages.length);
    const wholes = new Map<Item['group'], number>();
    for (const { group, weight, without } of items) if (!without) wholes.set(group, (wholes.get(group) ?? 0) + weight);
    const sought = ({ options }: Item): Sought =>
      options.flatMap(([feature, by]) => {
        const id = this.ids.get(feature);
        return id === undefined ? [] : [{ posting: this.postings[id]!, by: by / 255 }];
      });
    for (const item of items) if (!item.without) sums.add(sought(item), sharesOf(item.group, asked), item.weight / wholes.get(item.group)!);
    return sums.finish(leastFits(asked), this.prior, items.filter((item) => item.without).map(sought));
  }

  /** What is asked for, and says what was put in quotes; null: all. */
  private wanted(narrowing: Narrowing, quotes: string[][], without?: string): Wanted {
    const labels = facets.flatMap((facet) => {
      const label = narrowing[facet];
      return label === undefined ? [] : [{ column: this.facets[facet], code: this.facets[facet].codeOf(label) }];
    });
    const out = without === undefined ? undefined : this.slots.get(without);
    if (labels.length === 0 && quotes.length === 0 && out === undefined) return null;
    return (slot) =>
      slot !== out && labels.every(({ column, code }) => column.at(slot) === code) && (quotes.length === 0 || this.says(slot, quotes));
  }

  private fits(slot: number, items: readonly Item[]): Hit['fits'] {
    const own = new Map<number, number>();
    for (const [k, id] of this.features[slot]!.entries()) own.set(id, this.weights[slot]![k]! / 255);
    return items.flatMap((item) => {
      if (item.without) return [];
      let best: { feature: string; value: number } | null = null;
      for (const [feature, by] of item.options) {
        const worth = by * (own.get(this.ids.get(feature) ?? -1) ?? 0);
        if (worth > (best?.value ?? 0)) best = { feature, value: worth };
      }
      return best ? [{ item, ...best }] : [];
    });
  }

  private says(slot: number, quotes: string[][]): boolean {
    const words = this.words[slot]!;
    return quotes.every((quote) => {
      const sought = quote.map((word) => this.wordIds.get(word));
      if (sought.includes(undefined)) return false;
      for (let at = 0; at + sought.length <= words.length; at++) if (sought.every((id, k) => words[at + k] === id)) return true;
      return false;
    });
  }

  private newer(a: number, b: number): number {
    const [x, y] = [this.standings[a]!.on, this.standings[b]!.on];
    return x === y ? (this.pages[a]! < this.pages[b]! ? -1 : 1) : x < y ? 1 : -1;
  }

  private judge(slots: Iterable<number>) {
    for (const slot of slots) {
      const standing = { ...this.standings[slot]!, recurred: this.recurrence.cameBack(slot, this.faults[slot]!) };
      this.standings[slot] = standing;
      this.prior.set(slot, standingOf(standing, this.today()));
    }
  }

  private idOf(feature: string): number {
    const known = this.ids.get(feature);
    if (known !== undefined) return known;
    const id = this.names.push(feature) - 1;
    this.ids.set(feature, id);
    this.postings.push(new Posting());
    return id;
  }
  private wordId(word: string): number {
    const known = this.wordIds.get(word);
    if (known !== undefined) return known;
    this.wordIds.set(word, this.wordIds.size);
    return this.wordIds.size - 1;
  }

  /** Numbers the living slots anew. */
  private sweep() {
    const living = this.pages.flatMap((page, slot) => (page === null ? [] : [slot]));
    const to = new Map(living.map((slot, at) => [slot, at]));
    const pick = <T>(all: T[]) => living.map((slot) => all[slot]!);
    this.pages = pick(this.pages);
    this.features = pick(this.features);
    this.weights = pick(this.weights);
    this.words = pick(this.words);
    this.standings = pick(this.standings);
    for (const facet of facets) this.facets[facet].keep(living);
    this.faults = pick(this.faults);
    this.prior.keep(living);
    this.dead = 0;
    for (const [page, slot] of this.slots) this.slots.set(page, to.get(slot)!);
    this.recurrence.keep(living);
    this.postings = this.postings.map(() => new Posting());
    for (const [slot, ids] of this.features.entries())
      for (const [k, id] of ids.entries()) this.postings[id]!.push(slot, this.weights[slot]![k]!);
  }
}

type Wanted = ((slot: number) => boolean) | null; // null: all

function highest(scores: Float32Array, wanted: Wanted): number {
  let best = 0;
  for (let slot = 0; slot < scores.length; slot++) if (scores[slot]! > best && (!wanted || wanted(slot))) best = scores[slot]!;
  return best;
}

/** Those of the slots with at least a score, put in the first places of the same array. */
function onlyAtLeast(slots: Uint32Array, scores: Float32Array, least: number): Uint32Array {
  let count = 0;
  for (let k = 0; k < slots.length; k++) {
    const slot = slots[k]!;
    if (scores[slot]! >= least) slots[count++] = slot;
  }
  return slots.subarray(0, count);
}

/** The first by score, then by an order, without sorting all of them. */
function firstOf(all: Uint32Array, scores: Float32Array, limit: number, order: (a: number, b: number) => number): number[] {
  const kept: number[] = [];
  let least = 0; // score of the last that is kept, when there are enough
  for (let k = 0; k < all.length; k++) {
    const one = all[k]!;
    const score = scores[one]!;
    if (score < least) continue;
    let at = kept.length;
    while (at > 0 && (scores[kept[at - 1]!]! - score || order(one, kept[at - 1]!)) < 0) at--;
    kept.splice(at, 0, one);
    if (kept.length > limit) kept.pop();
    if (kept.length === limit) least = scores[kept[limit - 1]!]!;
  }
  return kept;
}
