/** What a test would teach: the expected loss of entropy about the culprits, EIG = H(Z) − Σ P(y) H(Z|y), in bits. */
import type { Kind } from './kinds';
import type { Mode, Probe } from './types';
import type { Story } from './weigh';

export interface Gain {
  test: string;
  bits: number;
  chance: number[]; // of each outcome
  /** Chance that the culprit is exactly this element, after each outcome. */
  after: ReadonlyMap<string, number>[];
}

/** Explanations rarer than this share are left out of the advice, never of the posterior. */
const floor = 1e-6;

/**
 * Z is the set of culprits, restricted to the focus: each single element, each merged pair, or none. With one mode that a test heeds, its
 * chance is taken from that mode alone.
 */
export function gainsOf(probes: readonly Probe[], kinds: readonly Kind[], all: readonly Story[]): { entropy: number; gains: Gain[] } {
  const stories = all.filter((story) => story.mass > floor);
  const cells = cellsOf(stories, kinds.length);
  const split = splitter(kinds, cells);
  const masses = Float64Array.from(stories, (story) => story.mass);
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  const entropy = split.entropy(masses);
  const gains = probes.map((probe): Gain => {
    const chances = chancesOf(probe, stories);
    let left = 0;
    const chance: number[] = [];
    const after: Map<string, number>[] = [];
    for (const k of probe.outcomes.keys()) {
      const weighted = masses.map((mass, i) => mass * (chances[i]?.[k] ?? 0));
      const share = weighted.reduce((sum, mass) => sum + mass, 0) / total;
      chance.push(share);
      left += share * split.entropy(weighted);
      after.push(split.elements(weighted));
    }
    return { test: probe.id, bits: Math.max(0, entropy - left), chance, after };
  });
  return { entropy, gains };
}

function chancesOf(probe: Probe, stories: readonly Story[]): (readonly number[])[] {
  const none = probe.chance([]);
  const alone = new Map<Kind, readonly number[] | null>();
  const of = (kind: Kind): readonly number[] | null => {
    let found = alone.get(kind);
    if (found === undefined) {
      const [mode] = kind.modes as [Mode];
      found = probe.heeds(mode) ? probe.chance([mode]) : null;
      alone.set(kind, found);
    }
    return found;
  };
  return stories.map(({ kinds: [a, b] }) => {
    const first = a ? of(a) : null;
    const second = b ? of(b) : null;
    if (first && second) return probe.chance([a?.modes[0] as Mode, b?.modes[0] as Mode]);
    return first ?? second ?? none;
  });
}

interface Cells {
  of: Int32Array; // cell of each story; below the number of kinds: that kind is the only culprit
  count: number;
}

function cellsOf(stories: readonly Story[], kinds: number): Cells {
  const known = new Map<string, number>();
  const of = Int32Array.from(stories, (story) => {
    const culprits = story.kinds.filter((kind) => kind.focus);
    if (culprits.length === 1) return culprits[0]?.index ?? 0;
    const key = culprits.map((kind) => kind.index).join('+');
    const cell = known.get(key) ?? kinds + known.size;
    known.set(key, cell);
    return cell;
  });
  return { of, count: kinds + known.size };
}

/** Entropy and element masses of stories with any masses. */
function splitter(kinds: readonly Kind[], cells: Cells) {
  const names = [...new Set(kinds.flatMap((kind) => (kind.focus ? [...kind.byElement.keys()] : [])))];
  const place = new Map(names.map((name, i) => [name, i]));
  const shares = kinds.map((kind) =>
    kind.focus ? [...kind.byElement].map(([name, weight]) => [place.get(name) ?? 0, weight / kind.weight] as const) : [],
  );
  const spread = (masses: Float64Array) => {
    const byCell = new Float64Array(cells.count);
    for (let i = 0; i < masses.length; i++) {
      const cell = cells.of[i] ?? 0;
      byCell[cell] = (byCell[cell] ?? 0) + (masses[i] ?? 0);
    }
    const byElement = new Float64Array(names.length);
    for (const [k, list] of shares.entries()) {
      const mass = byCell[k] ?? 0;
      if (mass > 0) for (const [at, share] of list) byElement[at] = (byElement[at] ?? 0) + mass * share;
    }
    return { byElement, rest: byCell.subarray(kinds.length) };
  };
  return {
    entropy(masses: Float64Array): number {
      const { byElement, rest } = spread(masses);
      let total = 0;
      for (const mass of byElement) total += mass;
      for (const mass of rest) total += mass;
      if (total === 0) return 0;
      let bits = 0;
      const add = (mass: number) => {
        if (mass > 0) bits -= (mass / total) * Math.log2(mass / total);
      };
      byElement.forEach(add);
      rest.forEach(add);
      return bits;
    },
    elements(masses: Float64Array): Map<string, number> {
      const total = masses.reduce((sum, mass) => sum + mass, 0);
      const { byElement } = spread(masses);
      return new Map(names.map((name, i) => [name, total > 0 ? (byElement[i] ?? 0) / total : 0]));
    },
  };
}
