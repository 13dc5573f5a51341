/**
 * What a sentence may mean that no known phrase fits: a softmax regression over its words and pieces of words, learnt from the phrases.
 * Learnt by AdaGrad (Duchi, Hazan, Singer 2011); the same phrases always give the same weights.
 */
import type { Token } from './tokens';
import type { Saying } from './types';

export interface Chance {
  id: string;
  /** 0 to 1; those of all ids together are 1. */
  chance: number;
}
/** Of the words that are left when devices and the like are taken away; the likeliest first. Empty when none of them tells anything. */
export type Guess = (tokens: readonly Token[]) => Chance[];

const rounds = 12;
const step = 0.5;
const decay = 1e-4;
const piece = 5; // letters
const scale = 0.15; // of what one clue says

/** Stems, stems side by side, beginnings, and runs of letters over the whole: a word that is new shares pieces with known ones. */
function cluesOf(tokens: readonly Token[]): Set<string> {
  const clues = new Set<string>();
  for (const [k, { stem }] of tokens.entries()) {
    clues.add(`u${stem}`);
    if (stem.length > piece) clues.add(`p${stem.slice(0, piece)}`);
    if (k > 0) clues.add(`b${tokens[k - 1]!.stem} ${stem}`);
  }
  const text = ` ${tokens.map((t) => t.text.toLowerCase()).join(' ')} `;
  for (let at = 0; at + piece <= text.length; at++) clues.add(`c${text.slice(at, at + piece)}`);
  return clues;
}

function softmax(scores: Float64Array): Float64Array {
  const most = Math.max(...scores);
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

/** Learns from phrases, and from others that tell nothing; some 6,000 take half a second. */
export function learn(sayings: readonly Saying[], neutral: readonly string[], wordsOf: (phrase: string) => Token[]): Guess {
  const count = sayings.length;
  const ids = new Map<string, number>();
  const known = (clue: string) => {
    const id = ids.get(clue) ?? ids.size;
    ids.set(clue, id);
    return id;
  };
  const learnable = (phrase: string, answer: number | null) => ({
    answer,
    clues: Uint32Array.from([...cluesOf(wordsOf(phrase))].map(known)),
  });
  const phrases = [
    ...sayings.flatMap(({ says }, answer) => says.map((phrase) => learnable(phrase, answer))),
    ...neutral.map((phrase) => learnable(phrase, null)),
  ];
  const weights = new Float64Array(ids.size * count);
  const slopes = new Float64Array(ids.size * count).fill(1e-6);
  const chances = (clues: ArrayLike<number>) => {
    const scores = new Float64Array(count);
    for (let k = 0; k < clues.length; k++) for (let c = 0; c < count; c++) scores[c]! += scale * weights[clues[k]! * count + c]!;
    return softmax(scores);
  };
  for (let round = 0; round < rounds; round++)
    for (const n of shuffled(phrases.length, round)) {
      const { answer, clues } = phrases[n]!;
      const errors = chances(clues);
      if (answer === null) for (let c = 0; c < count; c++) errors[c]! -= 1 / count;
      else errors[answer]! -= 1;
      for (const clue of clues)
        for (let c = 0; c < count; c++) {
          const at = clue * count + c;
          const slope = errors[c]! * scale + decay * weights[at]!;
          slopes[at]! += slope * slope;
          weights[at]! -= (step * slope) / Math.sqrt(slopes[at]!);
        }
    }
  return (tokens) => {
    const clues = [...cluesOf(tokens)].flatMap((clue) => ids.get(clue) ?? []);
    if (clues.length === 0) return [];
    return [...chances(clues)].map((chance, c) => ({ id: sayings[c]!.id, chance })).sort((a, b) => b.chance - a.chance);
  };
}
