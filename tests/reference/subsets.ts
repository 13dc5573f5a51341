/**
 * The posterior by plain enumeration of all sets of faults up to a size: slow and obvious, a check of the fast one over pairs and of three at
 * once. Observations enter as the chance of all that was seen.
 */
import { compareSets } from '@/lib/core/diagnosis/hitting-sets';

/** One way in which one element can be at fault. Modes of one element exclude each other. */
export interface Suspect {
  id: string;
  element: string;
  odds: number; // present : absent, before anything was seen
}
export interface Question {
  modes: readonly Suspect[];
  /** Largest number of faults together. */
  atMost: number;
  /** These alone (ids) are also tried in larger sets, up to `atMost` of them. */
  shortlist?: { ids: ReadonlySet<string>; atMost: number };
  /** Chance of all that was seen when exactly these modes are present. */
  given(modes: readonly Suspect[]): number;
  /** Weight of a set before anything was seen; without it the product of its odds. */
  prior?(modes: readonly Suspect[]): number;
}
export interface Candidate {
  modes: readonly Suspect[]; // in the order of the question
  probability: number;
}
export interface Posterior {
  /** What is possible, likeliest first; equally likely ones by size, then by ids. */
  candidates: readonly Candidate[];
  elements: ReadonlyMap<string, number>; // chance that the element is at fault, alone or with others
  modes: ReadonlyMap<string, number>;
  entropy: number; // bits, over the candidates
  /** Chance of all that was seen, over all sets, relative to their weight before. */
  evidence: number;
}
export interface Expected {
  outcomes: { chance: number; entropy: number }[];
  entropy: number; // bits, expected after the measurement
  gain: number; // bits
}

/** Null when nothing considered can have produced what was seen. */
export function posterior(question: Question): Posterior | null {
  const prior = question.prior ?? ((modes) => modes.reduce((product, mode) => product * mode.odds, 1));
  let before = 0;
  let total = 0;
  const weighed: Candidate[] = [];
  for (const modes of subsets(question)) {
    const weight = prior(modes);
    const mass = weight === 0 ? 0 : weight * question.given(modes);
    before += weight;
    total += mass;
    if (mass > 0) weighed.push({ modes, probability: mass });
  }
  if (total === 0) return null;
  const candidates = weighed.map(({ modes, probability }) => ({ modes, probability: probability / total })).sort(byProbability);
  const modes = new Map(question.modes.map((mode) => [mode.id, 0]));
  const elements = new Map(question.modes.map((mode) => [mode.element, 0]));
  for (const { modes: present, probability } of candidates)
    for (const mode of present) {
      modes.set(mode.id, (modes.get(mode.id) ?? 0) + probability);
      elements.set(mode.element, (elements.get(mode.element) ?? 0) + probability);
    }
  return { candidates, elements, modes, entropy: bits(candidates.map((c) => c.probability)), evidence: total / before };
}

const byProbability = (a: Candidate, b: Candidate) =>
  b.probability - a.probability ||
  compareSets(
    a.modes.map((m) => m.id),
    b.modes.map((m) => m.id),
  );

/** Every set of modes with at most one of each element, the empty set first. */
function* subsets({ modes, atMost, shortlist }: Question): Generator<Suspect[]> {
  const largest = Math.max(atMost, shortlist?.atMost ?? 0);
  function* grow(chosen: Suspect[], from: number): Generator<Suspect[]> {
    yield chosen;
    if (chosen.length >= largest) return;
    for (let i = from; i < modes.length; i++) {
      const mode = modes[i] as Suspect;
      if (chosen.some((other) => other.element === mode.element)) continue;
      const grown = [...chosen, mode];
      if (grown.length > atMost && !grown.every((m) => shortlist?.ids.has(m.id))) continue;
      yield* grow(grown, i + 1);
    }
  }
  yield* grow([], 0);
}

/** Entropy in bits of masses that need not sum to one. */
export function bits(masses: Iterable<number>): number {
  const positive = [...masses].filter((mass) => mass > 0);
  const total = positive.reduce((sum, mass) => sum + mass, 0);
  return positive.reduce((sum, mass) => sum - (mass / total) * Math.log2(mass / total), 0);
}

/** Shares of what the question is about: candidates with the same name are one answer. */
export function sharesOf({ candidates }: Posterior, name: (modes: readonly Suspect[]) => string): Map<string, number> {
  const shares = new Map<string, number>();
  for (const { modes, probability } of candidates) shares.set(name(modes), (shares.get(name(modes)) ?? 0) + probability);
  return shares;
}

const nameOf = (modes: readonly Suspect[]) => modes.map((mode) => mode.id).join('+');

/**
 * What a measurement teaches. `chances` gives the chance of each outcome (they sum to 1) when exactly these modes are present; `name`
 * says what is to be told apart, by default the candidates themselves.
 */
export function expectedAfter(known: Posterior, chances: (modes: readonly Suspect[]) => readonly number[], name = nameOf): Expected {
  const now = bits(sharesOf(known, name).values());
  const split: Map<string, number>[] = [];
  for (const { modes, probability } of known.candidates) {
    const cell = name(modes);
    for (const [k, chance] of chances(modes).entries()) {
      split[k] ??= new Map();
      const shares = split[k] as Map<string, number>;
      shares.set(cell, (shares.get(cell) ?? 0) + probability * chance);
    }
  }
  const outcomes = split.map((shares) => ({
    chance: [...shares.values()].reduce((sum, mass) => sum + mass, 0),
    entropy: bits(shares.values()),
  }));
  const entropy = outcomes.reduce((sum, outcome) => sum + outcome.chance * outcome.entropy, 0);
  return { outcomes, entropy, gain: now - entropy };
}
