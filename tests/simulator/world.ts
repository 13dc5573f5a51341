/** One machine with its faults during one session: which faults are there at a given moment, and what the board then reads. */
import { type Network, network } from './network';
import type { Random } from './random';
import { shownBy } from './solve';
import type { Physical, SimFault } from './types';
import type { Wiring } from './wiring';

export interface World {
  wiring: Wiring;
  faults: readonly SimFault[];
  random: Random;
  /** Netlists by the faults that are present, and what they show by what is pressed; both only save time. */
  nets: Map<string, Known>;
}
export interface Known {
  net: Network;
  shown: Map<string, readonly string[]>;
}

export const world = (wiring: Wiring, faults: readonly SimFault[], random: Random): World => ({ wiring, faults, random, nets: new Map() });

/** Faults that are there at this moment: a new draw for each that comes and goes. */
export const presentNow = (w: World, how: 'hand' | 'ball' = 'hand'): SimFault[] =>
  w.faults.filter((fault) => !fault.comesAndGoes || w.random.chance(fault.comesAndGoes[how]));

/** The netlist with exactly these faults, and further conditions of a test. */
export function netWith(w: World, faults: readonly SimFault[], conditions: readonly Physical[] = []): Known {
  const key = `${faults.map((fault) => w.faults.indexOf(fault)).join()} ${conditions.length > 0 ? JSON.stringify(conditions) : ''}`;
  const found = w.nets.get(key) ?? { net: network(w.wiring, [...faults.map((fault) => fault.what), ...conditions]), shown: new Map() };
  w.nets.set(key, found);
  return found;
}

/** Active numbers with these switches pressed. */
export function show({ net, shown }: Known, pressed: readonly string[]): readonly string[] {
  const key = [...pressed].sort().join();
  const found = shown.get(key) ?? shownBy(net, new Set(pressed.map((n) => indexOf(net.wiring, n))));
  shown.set(key, found);
  return found;
}

/** Index of a switch by its printed number; throws for a number that the chart does not have. */
export function indexOf(w: Wiring, number: string): number {
  const i = w.contact.get(number);
  if (i === undefined) throw new Error(`The simulator does not know switch ${number}.`);
  return i;
}
