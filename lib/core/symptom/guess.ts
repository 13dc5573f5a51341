/**
 * What a sentence may mean that no known phrase fits: a softmax regression over its words and pieces of words, learnt from the phrases.
 * Learnt by AdaGrad (Duchi, Hazan, Singer 2011); the same phrases always give the same weights.
 */
import type { Token } from './tokens';

export interface Chance {
  id: string;
  /** 0 to 1; those of all ids together are 1. */
  chance: number;
}
/** Of the words that are left when devices and the like are taken away; the likeliest first. Empty when none of them tells anything. */
export type Guess = (tokens: readonly Token[]) => Chance[];

const step = 0.5;
const decay = 1e-4;
const piece = 5; // letters
const scale = 0.15; // of what one clue says
const atOnce = 200; // examples; a few milliseconds

/** Goes on with a clue's number, by the letters of a text (FNV-1a, 32 bits): of some ten thousand clues hardly two have the same. */
function number(from: number, text: string, start = 0, end = text.length): number {
  let n = from;
  for (let at = start; at < end; at++) n = Math.imul(n ^ text.charCodeAt(at), 16777619);
  return n;
}
const kindOf = (kind: string) => number(0x811c9dc5, kind);
const ofStem = kindOf('stem');
const ofBeginning = kindOf('beginning');
const ofPair = kindOf('pair');
const ofRun = kindOf('run');

/** Stems, stems side by side, beginnings, and runs of letters over the whole: a word that is new shares pieces with known ones. */
function cluesOf(tokens: readonly Token[]): Set<number> {
  const clues = new Set<number>();
  let text = ' ';
  let before: string | undefined;
  for (const { stem, text: written } of tokens) {
    clues.add(number(ofStem, stem));
    if (stem.length > piece) clues.add(number(ofBeginning, stem, 0, piece));
    if (before !== undefined) clues.add(number(number(number(ofPair, before), ' '), stem));
    before = stem;
    text += `${written.toLowerCase()} `;
  }
  for (let at = 0; at + piece <= text.length; at++) clues.add(number(ofRun, text, at, at + piece));
  return clues;
}

function softmax(scores: Float64Array): Float64Array {
  let most = Number.NEGATIVE_INFINITY;
  for (let c = 0; c < scores.length; c++) most = Math.max(most, scores[c]!);
  let sum = 0;
  for (let c = 0; c < scores.length; c++) {
    scores[c] = Math.exp(scores[c]! - most);
    sum += scores[c]!;
  }
  for (let c = 0; c < scores.length; c++) scores[c]! /= sum;
  return scores;
}

/** Every order of 0 … n − 1 that this gives is the same at each run. */
function* shuffled(n: number, round: number): Iterable<number> {
  const order = Array.from({ length: n }, (_, i) => i);
  let seed = round + 1;
  for (let i = n - 1; i > 0; i--) {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    const j = seed % (i + 1);
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  yield* order;
}

/** Words, and what they say; null: nothing. */
export interface Example {
  words: readonly Token[];
  /** Of each id, 0 to 1, together 1. */
  shares: ReadonlyMap<string, number> | null;
}

/** Learns step by step, so that others can have their turn between; 6,000 examples take half a second. */
export function* learn(ids: readonly string[], examples: readonly Example[], rounds = 12): Generator<void, Guess> {
  const count = ids.length;
  const places = new Map<number, number>(); // of each clue, among the weights
  const placeOf = (clue: number) => {
    const place = places.get(clue) ?? places.size;
    places.set(clue, place);
    return place;
  };
  const learnable: { clues: Uint32Array; target: Float64Array }[] = [];
  for (const { words, shares } of examples) {
    const target = Float64Array.from(ids, (id) => (shares ? (shares.get(id) ?? 0) : 1 / count));
    learnable.push({ clues: Uint32Array.from(cluesOf(words), placeOf), target });
    if (learnable.length % atOnce === 0) yield;
  }
  const weights = new Float64Array(places.size * count);
  const slopes = new Float64Array(places.size * count).fill(1e-6);
  const chances = (clues: Uint32Array, of: Float64Array | Float32Array) => {
    const scores = new Float64Array(count);
    for (let k = 0; k < clues.length; k++) for (let c = 0, at = clues[k]! * count; c < count; c++, at++) scores[c]! += of[at]!;
    for (let c = 0; c < count; c++) scores[c]! *= scale;
    return softmax(scores);
  };
  for (let round = 0; round < rounds; round++) {
    let seen = 0;
    for (const n of shuffled(learnable.length, round)) {
      const { target, clues } = learnable[n]!;
      const errors = chances(clues, weights);
      for (let c = 0; c < count; c++) errors[c]! -= target[c]!;
      for (const clue of clues)
        for (let c = 0; c < count; c++) {
          const at = clue * count + c;
          const slope = errors[c]! * scale + decay * weights[at]!;
          slopes[at]! += slope * slope;
          weights[at]! -= (step * slope) / Math.sqrt(slopes[at]!);
        }
      if (++seen % atOnce === 0) yield;
    }
  }
  const learnt = Float32Array.from(weights); // half the memory, which is what looking up takes its time for
  return (tokens) => {
    const all = cluesOf(tokens);
    const known = new Uint32Array(all.size);
    let length = 0;
    for (const clue of all) {
      const place = places.get(clue);
      if (place !== undefined) known[length++] = place;
    }
    if (length === 0) return [];
    return Array.from(chances(known.subarray(0, length), learnt), (chance, c) => ({ id: ids[c]!, chance })).sort(
      (a, b) => b.chance - a.chance,
    );
  };
}

/** Lets a generator run to its end. */
export function atOneGo<T>(steps: Generator<void, T>): T {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}
