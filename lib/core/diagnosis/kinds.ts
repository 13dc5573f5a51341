/** Modes that nothing seen or testable tells apart, merged, with the sums that the posterior needs. */
import type { Mode } from './types';

export interface Kind {
  index: number;
  modes: Mode[];
  focus: boolean;
  silent: boolean;
  weight: number; // of all its modes
  byElement: Map<string, number>;
  byGroup: Map<string, number>;
}

export function kindsOf(field: { modes: readonly Mode[]; focus(element: string): boolean }): Kind[] {
  const kinds = new Map<string, Kind>();
  for (const mode of field.modes) {
    if (mode.weight <= 0) continue;
    const focus = field.focus(mode.element);
    const silent = mode.silent ?? false;
    const key = `${focus ? '!' : ''}${silent ? '?' : ''}${mode.key}`;
    let kind = kinds.get(key);
    if (!kind) {
      kind = { index: kinds.size, modes: [], focus, silent, weight: 0, byElement: new Map(), byGroup: new Map() };
      kinds.set(key, kind);
    }
    kind.modes.push(mode);
    kind.weight += mode.weight;
    kind.byElement.set(mode.element, (kind.byElement.get(mode.element) ?? 0) + mode.weight);
    if (mode.group) kind.byGroup.set(mode.group, (kind.byGroup.get(mode.group) ?? 0) + mode.weight);
  }
  return [...kinds.values()];
}

/** Weight of all modes of `other` that can be present beside this one: not of its own element, κ times in its own group. */
export function partners(mode: Mode, other: Kind, together: number): number {
  const own = other.byElement.get(mode.element) ?? 0;
  const near = mode.group ? (other.byGroup.get(mode.group) ?? 0) - own : 0;
  return Math.max(0, other.weight - own + (together - 1) * near);
}

/** Σ w_i w_j over the pairs of two kinds, or within one: different elements only, κ times within one group. */
export function pairWeight(a: Kind, b: Kind, together: number): number {
  const [small, large] = a.byElement.size <= b.byElement.size ? [a, b] : [b, a];
  let same = 0;
  for (const [element, weight] of small.byElement) same += weight * (large.byElement.get(element) ?? 0);
  let near = 0;
  for (const [group, weight] of small.byGroup) near += weight * (large.byGroup.get(group) ?? 0);
  // Within a group the pairs of one element are taken out again; an element stands in one group or none.
  const grouped = near === 0 ? 0 : near - sameInGroups(small, large);
  const sum = Math.max(0, small.weight * large.weight - same + (together - 1) * grouped);
  return a === b ? sum / 2 : sum;
}

function sameInGroups(small: Kind, large: Kind): number {
  const counted = new Set<string>();
  let sum = 0;
  for (const { element, group } of small.modes) {
    if (!group || counted.has(element)) continue;
    counted.add(element);
    sum += (small.byElement.get(element) ?? 0) * (large.byElement.get(element) ?? 0);
  }
  return sum;
}
