/** Modes that nothing seen or testable tells apart, merged, with the sums that the posterior needs. */
import type { Mode } from './types';

/** Weights by name. */
type Weights = Pick<ReadonlyMap<string, number>, 'get' | 'keys'> & Iterable<[string, number]>;

export interface Kind {
  index: number;
  modes: readonly Mode[];
  focus: boolean;
  weight: number; // of all its modes
  byElement: Weights;
  byGroup: Weights;
  /** Two modes of different elements, to stand for a pair within the kind; null when it has only one element. */
  two: readonly [Mode, Mode] | null;
}

interface Faults {
  modes: readonly Mode[];
  focus(element: string): boolean;
}

/** Kinds by key. */
export function kindsOf(field: Faults): Kind[] {
  const lists = new Map<string, Mode[]>();
  for (const mode of field.modes) {
    if (mode.weight <= 0) continue;
    const key = `${field.focus(mode.element) ? '!' : ''}${mode.key}`;
    const list = lists.get(key);
    if (list) list.push(mode);
    else lists.set(key, [mode]);
  }
  return [...lists.values()].map((modes, index) => kindOf(modes, index, field));
}

export function kindOf(modes: readonly Mode[], index: number, field: Pick<Faults, 'focus'>): Kind {
  const first = modes[0];
  const sums = { element: null as ReadonlyMap<string, number> | null, group: null as ReadonlyMap<string, number> | null };
  let weight = 0;
  for (const mode of modes) weight += mode.weight;
  return {
    index,
    modes,
    focus: first !== undefined && field.focus(first.element),
    weight,
    // Made when they are asked for: most kinds meet no other.
    get byElement() {
      sums.element ??= sumBy(modes, (mode) => mode.element);
      return sums.element;
    },
    get byGroup() {
      sums.group ??= sumBy(modes, (mode) => mode.group);
      return sums.group;
    },
    get two() {
      const other = modes.find((mode) => mode.element !== first?.element);
      return first && other ? ([first, other] as const) : null;
    },
  };
}

function sumBy(modes: readonly Mode[], nameOf: (mode: Mode) => string | undefined): ReadonlyMap<string, number> {
  const sums = new Map<string, number>();
  for (const mode of modes) {
    const name = nameOf(mode);
    if (name !== undefined) sums.set(name, (sums.get(name) ?? 0) + mode.weight);
  }
  return sums;
}

/** What is left of a kind without some others that it holds: for its weight, and for what others share with it. */
export function without(all: Kind, parts: readonly Kind[], index: number): Kind {
  const less = (weightsOf: (kind: Kind) => Weights): Weights => {
    const taken = new Map<string, number>();
    for (const part of parts) for (const [name, weight] of weightsOf(part)) taken.set(name, (taken.get(name) ?? 0) + weight);
    const get = (name: string) => Math.max(0, (weightsOf(all).get(name) ?? 0) - (taken.get(name) ?? 0));
    const keys = () => weightsOf(all).keys();
    return {
      get,
      keys,
      *[Symbol.iterator]() {
        for (const name of keys()) yield [name, get(name)];
      },
    };
  };
  const weight = parts.reduce((left, part) => left - part.weight, all.weight);
  return {
    index,
    modes: [],
    focus: false,
    weight,
    byElement: less((k) => k.byElement),
    byGroup: less((k) => k.byGroup),
    two: null,
  };
}

/** Weight of all modes of `other` that can be present beside this one: not of its own element, κ times in its own group. */
export function partners(mode: Mode, other: Kind, together: number): number {
  const own = other.byElement.get(mode.element) ?? 0;
  const near = mode.group ? (other.byGroup.get(mode.group) ?? 0) - own : 0;
  return Math.max(0, other.weight - own + (together - 1) * near);
}

/** Tells whether two of these kinds, by index, share an element or a group: for all others the pair weight is a plain product. */
export function sharing(kinds: readonly Kind[]): (a: Kind, b: Kind) => boolean {
  const owners = new Map<string, number[]>();
  for (const kind of kinds)
    for (const name of [...kind.byElement.keys(), ...[...kind.byGroup.keys()].map((group) => `group ${group}`)]) {
      const list = owners.get(name);
      if (list) list.push(kind.index);
      else owners.set(name, [kind.index]);
    }
  const pairs = new Uint8Array(kinds.length * kinds.length);
  for (const list of owners.values()) for (const a of list) for (const b of list) pairs[a * kinds.length + b] = 1;
  return (a, b) => pairs[a.index * kinds.length + b.index] === 1;
}

/** Σ w_i w_j over the pairs of two kinds that share something, or within one: different elements only, κ times within one group. */
export function pairWeight(a: Kind, b: Kind, together: number): number {
  const [small, large] = b.modes.length === 0 || (a.modes.length > 0 && a.modes.length <= b.modes.length) ? [a, b] : [b, a];
  const sum = small.modes.reduce((total, mode) => total + mode.weight * partners(mode, large, together), 0);
  return a === b ? sum / 2 : sum;
}

const within = new WeakMap<Kind, Map<number, number>>();

/** Pair weight of a kind with itself, worked out once. */
export function pairsWithin(kind: Kind, together: number): number {
  const known = within.get(kind) ?? new Map<number, number>();
  within.set(kind, known);
  const sum = known.get(together) ?? pairWeight(kind, kind, together);
  known.set(together, sum);
  return sum;
}
