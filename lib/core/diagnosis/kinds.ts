/** Modes that nothing seen or testable tells apart, merged, with the sums that the posterior needs. */
import type { Mode } from './types';

export interface Kind {
  index: number;
  modes: Mode[];
  focus: boolean;
  weight: number; // of all its modes
  byElement: Map<string, number>;
  byGroup: Map<string, number>;
}

export function kindsOf(field: { modes: readonly Mode[]; focus(element: string): boolean }): Kind[] {
  const kinds = new Map<string, Kind>();
  for (const mode of field.modes) {
    if (mode.weight <= 0) continue;
    const focus = field.focus(mode.element);
    const key = `${focus ? '!' : ''}${mode.key}`;
    let kind = kinds.get(key);
    if (!kind) {
      kind = { index: kinds.size, modes: [], focus, weight: 0, byElement: new Map(), byGroup: new Map() };
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
  const small = a.modes.length <= b.modes.length ? a : b;
  const large = small === a ? b : a;
  const sum = small.modes.reduce((total, mode) => total + mode.weight * partners(mode, large, together), 0);
  return a === b ? sum / 2 : sum;
}

/** A name for a set of culprits. */
export const cellOf = (kinds: readonly Kind[]): string => kinds.map((kind) => kind.index).join('+');
