/** What a test would teach: the expected loss of entropy about the culprits, EIG = H(Z) − Σ P(y) H(Z|y), in bits. */
import { type Kind, pairWeight } from './kinds';
import { type Field, firstOf, type Story } from './stories';
import type { Mode, Probe } from './types';

export interface Gain {
  test: string;
  bits: number;
  chance: number[]; // of each outcome
  /** Chance that the culprit is exactly this element, after each outcome. */
  after: (() => ReadonlyMap<string, number>)[];
}
interface Told {
  kinds: readonly Kind[];
  hush: Kind | null;
  stories: readonly Story[];
}

/** Explanations rarer than this share are left out of the advice, never of the posterior. */
const floor = 1e-5;
/** Stories with a silent fault are told apart by it, for the tests that heed it, above this share. */
const hushFloor = 1e-3;

/**
 * Z is the set of culprits, restricted to the focus: each single element, each merged pair, or none. With one mode that a test heeds, its
 * chance is taken from that mode alone.
 */
export function gainsOf(probes: readonly Probe[], field: Field, told: Told): { entropy: number; gains: Gain[] } {
  const { kinds } = told;
  const stories = spellOut(probes, field, told).filter((story) => story.mass > floor);
  const split = splitter(kinds, stories);
  const masses = Float64Array.from(stories, (story) => story.mass);
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  const { entropy } = split(masses);
  const weighted = new Float64Array(masses.length);
  const gains = probes.map((probe): Gain => {
    const chances = chancesOf(probe, stories);
    let left = 0;
    const chance: number[] = [];
    const after: (() => ReadonlyMap<string, number>)[] = [];
    for (const k of probe.outcomes.keys()) {
      let share = 0;
      for (let i = 0; i < masses.length; i++) {
        const mass = (masses[i] ?? 0) * (chances[i]?.[k] ?? 0);
        weighted[i] = mass;
        share += mass;
      }
      const { entropy: rest, elements } = split(weighted);
      chance.push(share / total);
      left += (share / total) * rest;
      after.push(elements);
    }
    return { test: probe.id, bits: Math.max(0, entropy - left), chance, after };
  });
  return { entropy, gains };
}

/** The one kind of all silent faults, taken apart again into those that a test would hear and the rest. */
function spellOut(probes: readonly Probe[], field: Field, { kinds, hush, stories }: Told): Story[] {
  if (!hush) return [...stories];
  const heard = kinds.filter((kind) => kind.silent && probes.some((probe) => probe.heeds?.(kind.modes[0] as Mode) ?? true));
  return stories.flatMap((story): Story[] => {
    if (!story.kinds.includes(hush) || story.mass < hushFloor) return [story];
    const [a] = story.kinds;
    if (story.kinds.length === 2 && a === hush) return [story];
    const other = a === hush ? null : (a as Kind);
    const whole = other ? pairWeight(other, hush, field.together) : hush.weight;
    const parts = heard.map((kind): Story => {
      const share = (other ? pairWeight(other, kind, field.together) : kind.weight) / whole;
      return { ...story, kinds: other ? [other, kind] : [kind], mass: story.mass * share };
    });
    return [...parts, { ...story, mass: story.mass - parts.reduce((sum, part) => sum + part.mass, 0) }];
  });
}

function chancesOf(probe: Probe, stories: readonly Story[]): (readonly number[])[] {
  const none = probe.chance([]);
  const alone = new Map<Kind, readonly number[] | null>();
  const of = (kind: Kind): readonly number[] | null => {
    let found = alone.get(kind);
    if (found === undefined) {
      const [mode] = kind.modes as [Mode];
      const heeded = kind.silent && kind.index < 0 ? false : (probe.heeds?.(mode) ?? true);
      found = heeded ? probe.chance([mode]) : null;
      alone.set(kind, found);
    }
    return found;
  };
  return stories.map(({ kinds }) => {
    const [a, b] = kinds;
    const first = a ? of(a) : null;
    const second = b ? of(b) : null;
    return first && second ? probe.chance(firstOf(kinds)) : (first ?? second ?? none);
  });
}

/** Entropy, in bits, and element masses of these stories with any masses. */
function splitter(kinds: readonly Kind[], stories: readonly Story[]) {
  // Cells below the number of kinds: that kind is the only culprit.
  const known = new Map<string, number>();
  const cells = Int32Array.from(stories, (story) => {
    const culprits = story.kinds.filter((kind) => kind.focus);
    if (culprits.length === 1) return culprits[0]?.index ?? 0;
    const key = culprits.map((kind) => kind.index).join('+');
    const cell = known.get(key) ?? kinds.length + known.size;
    known.set(key, cell);
    return cell;
  });
  const names = [...new Set(kinds.flatMap((kind) => (kind.focus ? [...kind.byElement.keys()] : [])))];
  const place = new Map(names.map((name, i) => [name, i]));
  // Shares of each kind's elements, laid out flat: from starts[k] to starts[k + 1].
  const starts: number[] = [0];
  const at: number[] = [];
  const part: number[] = [];
  for (const kind of kinds) {
    if (kind.focus)
      for (const [name, weight] of kind.byElement) {
        at.push(place.get(name) ?? 0);
        part.push(weight / kind.weight);
      }
    starts.push(at.length);
  }
  const byCell = new Float64Array(kinds.length + known.size);
  const byElement = new Float64Array(names.length);
  return (masses: Float64Array) => {
    byCell.fill(0);
    byElement.fill(0);
    let total = 0;
    for (let i = 0; i < masses.length; i++) {
      const mass = masses[i] ?? 0;
      const cell = cells[i] ?? 0;
      byCell[cell] = (byCell[cell] ?? 0) + mass;
      total += mass;
    }
    let bits = 0;
    const add = (mass: number) => {
      if (mass > 0) bits -= (mass / total) * Math.log2(mass / total);
    };
    for (let k = 0; k < kinds.length; k++) {
      const mass = byCell[k] ?? 0;
      if (mass > 0)
        for (let j = starts[k] ?? 0; j < (starts[k + 1] ?? 0); j++)
          byElement[at[j] ?? 0] = (byElement[at[j] ?? 0] ?? 0) + mass * (part[j] ?? 0);
    }
    for (let e = 0; e < byElement.length; e++) add(byElement[e] ?? 0);
    for (let cell = kinds.length; cell < byCell.length; cell++) add(byCell[cell] ?? 0);
    const shares = byElement.slice();
    return { entropy: bits, elements: () => new Map(names.map((name, i) => [name, total > 0 ? (shares[i] ?? 0) / total : 0])) };
  };
}
