/**
 * The exact posterior over no fault, single faults and pairs, and what each test would teach.
 *
 * P(one i) ∝ w_i, P(pair i, j) ∝ ρ κ w_i w_j, P(none) ∝ w_0; two faults in one group (housing, header, package) are κ times likelier
 * together. Modes with the same key are merged first: the sums are the same, and far shorter.
 */
import { type Gain, gainsOf } from './gain';
import { type Kind, kindsOf, pairWeight, partners } from './kinds';
import type { Mode, Probe } from './types';

export type { Gain } from './gain';

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
  gains: Gain[]; // in the order of the probes
}

/** One explanation, merged: no kind, one, or two. */
export interface Story {
  kinds: readonly Kind[];
  prior: number;
  log: number; // ln of the chance of the evidence
  mass: number; // its share of the posterior
}

const shownBest = 8;

export function weigh(field: Field, probes: readonly Probe[]): Weighed {
  const kinds = kindsOf(field);
  const stories = storiesOf(field, kinds);
  const top = stories.reduce((most, s) => Math.max(most, s.log), -Infinity);
  let total = 0;
  for (const story of stories) {
    story.mass = story.prior * Math.exp(story.log - top);
    total += story.mass;
  }
  for (const story of stories) story.mass /= total;
  return {
    ...marginals(field, stories),
    none: stories[0]?.mass ?? 0,
    best: [...stories]
      .sort((a, b) => b.mass - a.mass)
      .slice(0, shownBest)
      .map(({ kinds: of, mass }) => ({ modes: firstOf(of), mass })),
    ...gainsOf(probes, kinds, stories),
  };
}

export const firstOf = (kinds: readonly Kind[]): Mode[] => kinds.flatMap((kind) => kind.modes[0] ?? []);

function storiesOf(field: Field, kinds: readonly Kind[]): Story[] {
  const nothing = field.given([]);
  const alone = kinds.map((kind) => (kind.silent ? nothing : field.given(firstOf([kind]))));
  const log = (i: number) => alone[i] ?? nothing;
  const stories: Story[] = [{ kinds: [], prior: field.nothing, log: nothing, mass: 0 }];
  for (const [i, kind] of kinds.entries()) stories.push({ kinds: [kind], prior: kind.weight, log: log(i), mass: 0 });
  for (const [i, a] of kinds.entries())
    for (let j = i; j < kinds.length; j++) {
      const b = kinds[j] as Kind;
      const prior = field.pair * pairWeight(a, b, field.together);
      if (prior <= 0) continue;
      const both = a.silent ? log(j) : b.silent ? log(i) : field.given(firstOf([a, b]));
      stories.push({ kinds: [a, b], prior, log: both, mass: 0 });
    }
  return stories;
}

function marginals(field: Field, stories: readonly Story[]) {
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
  for (const { kinds, prior, mass } of stories) {
    const [a, b] = kinds;
    if (!a || mass === 0) continue;
    if (!b) {
      credit(a, null, mass / a.weight);
      continue;
    }
    const each = (mass * field.pair) / prior;
    credit(a, b, each);
    if (a !== b) credit(b, a, each);
    if (a.focus && b.focus) pairs += mass;
  }
  return { modes, elements, only, pairs };
}
