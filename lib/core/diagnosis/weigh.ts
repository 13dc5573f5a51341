/**
 * The exact posterior over no fault, single faults and pairs, and what each test would teach.
 *
 * P(one i) ∝ w_i, P(pair i, j) ∝ ρ κ w_i w_j, P(none) ∝ w_0; two faults in one group (housing, header, package) are κ times likelier
 * together. Modes with the same key are merged first: the sums are the same, and far shorter.
 */
import { cellOf, type Kind, kindsOf, pairWeight, partners } from './kinds';
import type { Mode, Probe } from './types';

export interface Field {
  modes: readonly Mode[];
  nothing: number; // w_0
  pair: number; // ρ
  together: number; // κ
  /** ln of the chance of everything that was seen and tested, when exactly these modes are present. */
  given(modes: readonly Mode[]): number;
  /** True for elements that can be behind the complaint; the next test is chosen to tell these apart. */
  focus(element: string): boolean;
}
export interface Gain {
  test: string;
  bits: number; // expected information about the culprits
  chance: number[]; // of each outcome
  /** Chance that the culprit is exactly this element, after each outcome. */
  after: ReadonlyMap<string, number>[];
}
export interface Weighed {
  none: number;
  /** Chance that the element is at fault, alone or with another. */
  elements: ReadonlyMap<string, number>;
  modes: ReadonlyMap<string, number>;
  /** Chance that the culprits of the focus are exactly this one element. */
  only: ReadonlyMap<string, number>;
  pairs: number; // chance that two elements of the focus are at fault
  entropy: number; // bits, of the culprit set restricted to the focus
  best: { modes: readonly Mode[]; mass: number }[]; // likeliest explanations, merged modes by their first
  evidence: number; // ln of the chance of all that was seen, over all explanations
  gains: Gain[]; // in the order of the probes
}

/** One explanation, merged: no kind, one, or two. */
interface Story {
  kinds: readonly Kind[];
  modes: readonly Mode[];
  log: number;
  mass: number; // after normalising: its share of the posterior
}

/** Explanations rarer than this share are left out of the advice, never of the posterior. */
const adviceFloor = 1e-7;
const shownBest = 8;

export function weigh(field: Field, probes: readonly Probe[]): Weighed {
  const kinds = kindsOf(field);
  const stories = storiesOf(field, kinds);
  const top = stories.reduce((most, s) => Math.max(most, s.log), -Infinity);
  const total = stories.reduce((sum, s) => sum + Math.exp(s.log - top), 0);
  for (const story of stories) story.mass = Math.exp(story.log - top) / total;
  const shares = marginals(field, kinds, stories);
  const likely = stories.filter((s) => s.mass > adviceFloor);
  const before = cells(kinds, likely, null, 0);
  return {
    ...shares,
    none: stories[0]?.mass ?? 0,
    entropy: entropyOf(before),
    best: [...stories].sort((a, b) => b.mass - a.mass).slice(0, shownBest),
    evidence: top + Math.log(total) - Math.log(priorOf(field, kinds)),
    gains: probes.map((probe) => gainOf(probe, kinds, likely, entropyOf(before))),
  };
}

function storiesOf(field: Field, kinds: readonly Kind[]): Story[] {
  const story = (of: readonly Kind[], prior: number): Story => {
    const modes = of.map((kind) => kind.modes[0] as Mode);
    return { kinds: of, modes, log: Math.log(prior) + field.given(modes), mass: 0 };
  };
  const stories = [story([], field.nothing), ...kinds.map((kind) => story([kind], kind.weight))];
  for (const [i, a] of kinds.entries())
    for (const b of kinds.slice(i)) {
      const prior = field.pair * pairWeight(a, b, field.together);
      if (prior > 0) stories.push(story([a, b], prior));
    }
  return stories;
}

/** What all prior weights come to. */
function priorOf(field: Field, kinds: readonly Kind[]): number {
  let sum = field.nothing;
  for (const [i, a] of kinds.entries()) {
    sum += a.weight;
    for (const b of kinds.slice(i)) sum += field.pair * pairWeight(a, b, field.together);
  }
  return sum;
}

function marginals(field: Field, kinds: readonly Kind[], stories: readonly Story[]) {
  const modes = new Map<string, number>();
  const elements = new Map<string, number>();
  const only = new Map<string, number>();
  const add = (map: Map<string, number>, key: string, mass: number) => map.set(key, (map.get(key) ?? 0) + mass);
  const credit = (kind: Kind, other: Kind | null, perWeight: number) => {
    for (const mode of kind.modes) {
      const mass = perWeight * mode.weight * (other ? partners(mode, other, field.together) : 1);
      add(modes, mode.id, mass);
      add(elements, mode.element, mass);
      if (kind.focus && !other?.focus) add(only, mode.element, mass);
    }
  };
  let pairs = 0;
  for (const { kinds: of, mass } of stories) {
    const [a, b] = of;
    if (!a || mass === 0) continue;
    if (!b) {
      credit(a, null, mass / a.weight);
      continue;
    }
    const each = mass / pairWeight(a, b, field.together);
    credit(a, b, each);
    if (a !== b) credit(b, a, each);
    if (a.focus && b.focus) pairs += mass;
  }
  return { modes, elements, only, pairs };
}

/** Mass of each culprit set of the focus, all outcomes or one: single elements apart, merged pairs as one. */
function cells(kinds: readonly Kind[], stories: readonly Story[], chances: readonly (readonly number[])[] | null, outcome: number) {
  const byKind = new Float64Array(kinds.length);
  const rest = new Map<string, number>();
  for (const [i, story] of stories.entries()) {
    const mass = chances ? story.mass * (chances[i]?.[outcome] ?? 0) : story.mass;
    const culprits = story.kinds.filter((kind) => kind.focus);
    const [one, two] = culprits;
    if (one && !two) byKind[one.index] = (byKind[one.index] ?? 0) + mass;
    else {
      const key = cellOf(culprits);
      rest.set(key, (rest.get(key) ?? 0) + mass);
    }
  }
  const elements = new Map<string, number>();
  for (const kind of kinds) {
    const mass = byKind[kind.index] ?? 0;
    if (mass > 0)
      for (const [element, weight] of kind.byElement) elements.set(element, (elements.get(element) ?? 0) + (mass * weight) / kind.weight);
  }
  return { elements, rest };
}

/** In bits; the masses need not sum to one. */
function entropyOf({ elements, rest }: ReturnType<typeof cells>): number {
  const masses = [...elements.values(), ...rest.values()].filter((mass) => mass > 0);
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  return total === 0 ? 0 : masses.reduce((sum, mass) => sum - (mass / total) * Math.log2(mass / total), 0);
}

function gainOf(probe: Probe, kinds: readonly Kind[], stories: readonly Story[], entropy: number): Gain {
  const chances = stories.map((story) => probe.chance(story.modes));
  const total = stories.reduce((sum, story) => sum + story.mass, 0);
  let left = 0;
  const chance: number[] = [];
  const after: Map<string, number>[] = [];
  for (const k of probe.outcomes.keys()) {
    const share = stories.reduce((sum, story, i) => sum + story.mass * (chances[i]?.[k] ?? 0), 0) / total;
    const split = cells(kinds, stories, chances, k);
    chance.push(share);
    left += share * entropyOf(split);
    after.push(new Map([...split.elements].map(([element, mass]) => [element, share > 0 ? mass / (share * total) : 0])));
  }
  return { test: probe.id, bits: Math.max(0, entropy - left), chance, after };
}
