/** A way to fail in the switch network, and how the faults that force something are written down. */
import type { Behaviour, Effect, Element } from '../types';
import type { PathElement } from './network';
import { type PriorKind, priorOf } from './priors';

/** A way to fail in a switch network. `key` is made later, from what was seen. */
export interface SwitchMode {
  id: string;
  element: string;
  kind: PriorKind;
  weight: number;
  group?: string;
  behaviour: Behaviour;
  quiet: number; // chance that an intermittent one keeps quiet for a whole session
  /** Its misses depend on how the switch is pressed. */
  mechanical: boolean;
  effect: Effect;
  words: string; // what is wrong, for a list: "open", "now and then"
  mend?: string; // how it is put right, where that is not plain
  place: number; // in the list of all modes
}
export type Unplaced = Omit<SwitchMode, 'place'>;

/** A fault that is always there and does something of its own, beside breaking paths. */
export function forced(
  element: Pick<PathElement, 'id' | 'group'>,
  kind: PriorKind,
  weight: number,
  effect: Effect,
  words: string,
): Unplaced {
  const group = element.group ? { group: element.group } : {};
  return {
    id: `${element.id} | ${kind} ${words}`,
    element: element.id,
    kind,
    weight,
    ...group,
    behaviour: 'hard',
    quiet: 0,
    mechanical: false,
    effect,
    words,
  };
}

/** Modes of one element, which may be one that no path passes. */
export interface Forced {
  element: Element & { group?: string };
  modes: Unplaced[];
}

/** The whole weight of a kind, where it is not split. */
export const whole = (kind: PriorKind): number => priorOf(kind).weight;
