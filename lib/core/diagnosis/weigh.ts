/**
 * The exact posterior over no fault, single faults and pairs, and what each test would teach.
 *
 * P(one i) ∝ w_i, P(pair i, j) ∝ ρ κ w_i w_j, P(none) ∝ w_0; two faults in one group (housing, header, package) are κ times likelier
 * together. Modes with the same key are merged first: the sums are the same, and far shorter.
 */
import { type Gain, gainsOf } from './gain';
import { type Kind, kindsOf, partners } from './kinds';
import { type Field, firstOf, type Story, storiesOf } from './stories';
import type { Mode, Probe } from './types';

export type { Gain } from './gain';
export type { Field } from './stories';

export interface Weighed {
  none: number;
  /** Chance that the element is at fault, alone or with another. Those that nothing seen depends on are left out. */
  elements: ReadonlyMap<string, number>;
  modes: ReadonlyMap<string, number>;
  /** Chance that the culprits of the focus are exactly this one element. */
  only: ReadonlyMap<string, number>;
  pairs: number; // chance that two elements of the focus are at fault
  entropy: number; // bits, of the culprit set restricted to the focus
  /** ln of the chance of everything seen, over all explanations, times the sum of the weights: what a share is a share of. */
  logTotal: number;
  best: { modes: readonly Mode[]; mass: number }[]; // likeliest explanations, merged modes by their first
  gains: Gain[]; // in the order of the probes
}

const shownBest = 8;
const leastShown = 1e-3;

export function weigh(field: Field, probes: readonly Probe[]): Weighed {
  const kinds = kindsOf(field);
  const { stories, hush, shared } = storiesOf(field, kinds);
  const top = stories.reduce((most, s) => Math.max(most, s.log), -Infinity);
  let total = 0;
  for (const story of stories) {
    story.mass = story.prior * Math.exp(story.log - top);
    total += story.mass;
  }
  for (const story of stories) story.mass /= total;
  return {
    ...marginals(field, stories, hush, shared),
    none: stories[0]?.mass ?? 0,
    logTotal: top + Math.log(total),
    best: stories
      .filter((story) => story.mass > leastShown)
      .sort((a, b) => b.mass - a.mass)
      .slice(0, shownBest)
      .map(({ kinds: of, mass }) => ({ modes: firstOf(of), mass })),
    ...gainsOf(probes, kinds, stories),
  };
}

function marginals(field: Field, stories: readonly Story[], hush: Kind | null, shared: (a: Kind, b: Kind) => boolean) {
  const sums = new Map<Kind, Sums>();
  const of = (kind: Kind): Sums => {
    let found = sums.get(kind);
    if (!found) {
      found = { alone: 0, only: 0, near: [] };
      sums.set(kind, found);
    }
    return found;
  };
  let pairs = 0;
  for (const { kinds, prior, mass } of stories) {
    const [a, b] = kinds;
    if (!a || mass === 0) continue;
    if (!b) {
      of(a).alone += mass / a.weight;
      of(a).only += mass / a.weight;
      continue;
    }
    const each = (mass * field.pair) / prior;
    of(a).near.push({ other: b, each });
    if (a !== b) of(b).near.push({ other: a, each });
    if (a.focus && b.focus) pairs += mass;
  }
  const modes = new Map<string, number>();
  const elements = new Map<string, number>();
  const only = new Map<string, number>();
  for (const [kind, { alone, near }] of sums) {
    if (kind === hush) continue;
    const meets = (other: Kind) => other === hush || shared(kind, other);
    const apart = near.filter(({ other }) => !meets(other));
    const close = near.filter(({ other }) => meets(other));
    const flat = apart.reduce((sum, { other, each }) => sum + each * other.weight, 0);
    const flatOnly = apart.reduce((sum, { other, each }) => sum + (other.focus ? 0 : each * other.weight), 0);
    for (const mode of kind.modes) {
      let beside = flat;
      let besideOnly = flatOnly;
      for (const { other, each } of close) {
        const share = each * partners(mode, other, field.together);
        beside += share;
        if (!other.focus) besideOnly += share;
      }
      const mass = mode.weight * (alone + beside);
      modes.set(mode.id, mass);
      elements.set(mode.element, (elements.get(mode.element) ?? 0) + mass);
      if (kind.focus) only.set(mode.element, (only.get(mode.element) ?? 0) + mode.weight * (alone + besideOnly));
    }
  }
  return { modes, elements, only, pairs };
}

interface Sums {
  alone: number; // mass for each unit of weight, as the only fault
  only: number;
  near: { other: Kind; each: number }[];
}
