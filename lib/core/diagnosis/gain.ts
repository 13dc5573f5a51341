/** What a test would teach: the expected loss of entropy about the culprits, EIG = H(Z) − Σ P(y) H(Z|y), in bits. */
import type { Kind } from './kinds';
import { firstOf, type Story } from './stories';
import type { Probe } from './types';

export interface Gain {
  test: string;
  bits: number;
  chance: number[]; // of each outcome
  /** Chance that the culprit is exactly this element, after each outcome. */
  after: (() => ReadonlyMap<string, number>)[];
}

/** Explanations rarer than this share are left out of the advice, never of the posterior. */
const floor = 1e-6;

/**
 * Z is the set of culprits, restricted to the focus: each single element, each merged pair, or none. With one mode that a test heeds, its
 * chance is taken from that mode alone. Modes that the field leaves out are taken to change nothing in a test.
 */
export function gainsOf(probes: readonly Probe[], kinds: readonly Kind[], all: readonly Story[]): { entropy: number; gains: Gain[] } {
  const stories = all.filter((story) => story.mass > floor);
  const split = splitter(kinds, stories);
  const masses = Float64Array.from(stories, (story) => story.mass);
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  const { entropy } = split(masses);
  const scratch: Float64Array[] = [];
  const gains = probes.map((probe): Gain => {
    const byOutcome = weighted(probe, kinds.length + 1, stories, scratch);
    let left = 0;
    const chance: number[] = [];
    const after: (() => ReadonlyMap<string, number>)[] = [];
    for (const part of byOutcome) {
      let share = 0;
      for (const mass of part) share += mass;
      const { entropy: rest, elements } = split(part);
      chance.push(share / total);
      left += (share / total) * rest;
      after.push(elements);
    }
    return { test: probe.id, bits: Math.max(0, entropy - left), chance, after };
  });
  return { entropy, gains };
}

/** The masses of the stories, parted by the outcomes of a test, into lists that are used again for the next. */
function weighted(probe: Probe, kinds: number, stories: readonly Story[], scratch: Float64Array[]): Float64Array[] {
  const none = probe.chance([]);
  const known = new Array<readonly number[] | null | undefined>(kinds);
  const alone = (kind: Kind): readonly number[] | null => {
    let found = known[kind.index];
    if (found === undefined) {
      const [mode] = kind.modes;
      found = mode && (probe.heeds?.(mode) ?? true) ? probe.chance([mode]) : null;
      known[kind.index] = found;
    }
    return found;
  };
  const parts = probe.outcomes.map((_, k) => {
    const list = scratch[k] ?? new Float64Array(stories.length);
    scratch[k] = list;
    return list;
  });
  for (let i = 0; i < stories.length; i++) {
    const { kinds: of, mass } = stories[i] as Story;
    const first = of[0] ? alone(of[0]) : null;
    const second = of[1] ? alone(of[1]) : null;
    const chances = first && second ? probe.chance(firstOf(of)) : (first ?? second ?? none);
    for (let k = 0; k < parts.length; k++) (parts[k] as Float64Array)[i] = mass * (chances[k] ?? 0);
  }
  return parts;
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
  return (masses: Float64Array) => {
    byCell.fill(0);
    const byElement = new Float64Array(names.length);
    let total = 0;
    for (let i = 0; i < masses.length; i++) {
      const mass = masses[i] ?? 0;
      const cell = cells[i] ?? 0;
      byCell[cell] = (byCell[cell] ?? 0) + mass;
      total += mass;
    }
    for (let k = 0; k < kinds.length; k++) {
      const mass = byCell[k] ?? 0;
      if (mass === 0) continue;
      for (let j = starts[k] ?? 0; j < (starts[k + 1] ?? 0); j++) {
        const element = at[j] ?? 0;
        byElement[element] = (byElement[element] ?? 0) + mass * (part[j] ?? 0);
      }
    }
    // −Σ p log p with p = m / total is log total − Σ m log m / total.
    let sum = 0;
    for (const mass of byElement) if (mass > 0) sum += mass * Math.log2(mass);
    for (let cell = kinds.length; cell < byCell.length; cell++) {
      const mass = byCell[cell] ?? 0;
      if (mass > 0) sum += mass * Math.log2(mass);
    }
    const entropy = total > 0 ? Math.max(0, Math.log2(total) - sum / total) : 0;
    return { entropy, elements: () => new Map(names.map((name, i) => [name, total > 0 ? (byElement[i] ?? 0) / total : 0])) };
  };
}
