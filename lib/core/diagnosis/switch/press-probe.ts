/** Pressing a switch, as a test: what the counts so far let one expect of the next presses. */

import type { Present, Probe } from '../types';
import { type Evidence, logPresses, passes, pooled, stateOf } from './evidence';
import type { SwitchMode } from './modes';
import { logFlicker, type Rates } from './press';
import type { Wiring } from './wiring';

export type How = 'hand' | 'ball';
/** Presses of one try: enough to call a switch dead, and quick. */
export const pressesOfTry = 3;

export interface Target {
  number: string;
  presses: number;
  how: How;
}

/** `press 44 3` and `ball 46 10`: what people are told to do, and the outcomes that they tick. */
export function pressProbe(wiring: Wiring, evidence: Evidence, rates: Rates, target: Target, heeds: (mode: SwitchMode) => boolean): Probe {
  const { number, presses, how } = target;
  const circuit = wiring.network.circuits.find((c) => c.number === number);
  const name = `${number}${circuit ? ` ${circuit.name}` : ''}`;
  const share = (log: (missed: number) => number): number[] => {
    const [clean, dead] = [Math.exp(log(0)), Math.exp(log(presses))];
    return [clean, Math.max(0, 1 - clean - dead), dead];
  };
  const sound = share((missed) => rates.whole.log(missed, presses));
  /** Presses of an intermittent fault are expected to go on as those so far went. */
  const loose = (mode: SwitchMode): number[] => {
    const own = evidence.presses.filter((seen) => passes(wiring, mode, seen));
    const log = (seen: Evidence['presses']) => logFlicker(mode.quiet, seen, pooled(mode, seen), rates);
    const before = own.length > 0 ? log(own) : 0;
    return share((missed) => log([...own, { kind: 'presses', number, presses, missed, how, others: [] }]) - before);
  };
  const known = new Map<number, number[]>();
  const alone = (mode: SwitchMode): number[] => {
    let shares = known.get(mode.place);
    if (!shares) {
      if (mode.behaviour === 'hard') {
        const state = stateOf(wiring, mode, number);
        shares = share((missed) => logPresses(state, { missed, presses }, rates));
      } else shares = passes(wiring, mode, { number, how }) ? loose(mode) : sound;
      known.set(mode.place, shares);
    }
    return shares;
  };
  const chance = (modes: readonly Present[]): number[] => {
    const present = (modes as readonly SwitchMode[]).filter(heeds).map(alone);
    const [one, two] = present;
    if (!one || !two) return one ?? sound;
    // Advice only: two faults in the way of one switch act as if they did not know of each other.
    const clean = ((one[0] ?? 0) * (two[0] ?? 0)) / (sound[0] ?? 1);
    const dead = 1 - (1 - (one[2] ?? 0)) * (1 - (two[2] ?? 0));
    return [clean, Math.max(0, 1 - clean - dead), dead];
  };
  return {
    id: `${how === 'ball' ? 'ball' : 'press'} ${number} ${presses}`,
    title: how === 'ball' ? `Roll a ball over ${name}, ${presses} times.` : `Press ${name}, ${presses} times.`,
    minutes: how === 'ball' ? 2 : presses > pressesOfTry ? 1 : 0.3,
    power: 'on',
    hazard: how === 'ball' ? 0 : 1,
    outcomes: [
      { id: 'all', label: presses > pressesOfTry ? `All ${presses} register` : 'Registers each time' },
      { id: 'some', label: 'Misses some, or shows another too' },
      { id: 'none', label: 'Never registers' },
    ],
    chance,
    heeds: (mode) => heeds(mode as SwitchMode),
  };
}
