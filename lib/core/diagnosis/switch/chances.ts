/**
 * The chance of everything seen and tested, for one fault and for two. Most pairs follow from their single faults at once; those that do
 * not get an upper bound, so that only the promising ones need the solver.
 */

import type { Mode, Probe } from '../types';
import { type Evidence, isBreak, logSeen, logTry, mostOf, passes, pooled } from './evidence';
import type { FaultSpace, SwitchMode } from './modes';
import { logFlicker, type Rates } from './press';
import type { Wiring } from './wiring';

export type Weighable = SwitchMode & Mode;
/** A result of a test that the chart knows. */
export interface Said {
  probe: Probe;
  outcome: number;
}
const leastChance = 1e-6; // of a test result that no fault present explains

export interface Chances {
  /** Modes (by place) that something seen or tested depends on, each with the name of the set of those things. */
  loud: ReadonlyMap<number, string>;
  /** Those of them that only a list of several held speaks of, by its length. */
  far: ReadonlySet<number>;
  given(modes: readonly Mode[]): number;
  both(a: Mode, b: Mode, least: number): number | { most: number };
}

const heeded = new WeakMap<Probe, readonly number[]>();

/** Places of the modes that a bench test depends on: they follow from the chart alone. */
function heededBy(probe: Probe, space: FaultSpace): readonly number[] {
  let places = heeded.get(probe);
  if (!places) {
    places = space.modes.flatMap((mode) => ((probe.heeds?.(mode) ?? true) ? [mode.place] : []));
    heeded.set(probe, places);
  }
  return places;
}

export function chancesOf(wiring: Wiring, space: FaultSpace, evidence: Evidence, results: readonly Said[], rates: Rates): Chances {
  const { presses, rest, hold } = evidence;
  const alone = (part: Partial<Evidence>) => ({ presses: [], rest: [], hold: [], ...part });
  // Everything seen, one thing at a time: presses first, so that the index of a press is its own.
  const seen = [
    ...presses.map((o) => alone({ presses: [o] })),
    ...rest.map((o) => alone({ rest: [o] })),
    ...hold.map((o) => alone({ hold: [o] })),
  ];
  const numbers = [...presses.map((o) => [o.number]), ...rest.map((o) => [o.number]), ...hold.map((o) => [...o.held, ...o.shown])];
  const things = seen.length + results.length;
  const logResult = (thing: number, present: readonly Mode[]): number => {
    const said = results[thing - seen.length];
    return said ? Math.log(Math.max(said.probe.chance(present)[said.outcome] ?? 0, leastChance)) : 0;
  };
  const touched = new Map<number, string>();
  const mark = (place: number, thing: number) => touched.set(place, `${touched.get(place) ?? ''}${thing},`);
  for (const [thing, list] of numbers.entries())
    for (const place of new Set(list.flatMap((number) => [...(space.touching.get(number) ?? [])]))) mark(place, thing);
  const logThing = (thing: number, present: readonly SwitchMode[]): number => {
    const one = seen[thing];
    return one ? logSeen(wiring, one, present, rates) : logResult(thing, present as readonly Weighable[]);
  };
  const sound = Float64Array.from({ length: things }, (_, thing) => logThing(thing, []));
  // A break shows on a list only where it parts a switch that is closed at rest.
  const closes = (mode: SwitchMode) => !isBreak(mode) || [...wiring.normallyClosed].some((n) => space.touching.get(n)?.has(mode.place));
  // A list of all that reads closed speaks of every fault that closes something, wherever it is.
  const far = new Set<number>();
  for (let thing = presses.length + rest.length; thing < seen.length; thing++)
    for (const mode of space.modes) {
      if (!closes(mode) || touched.get(mode.place)?.split(',').includes(`${thing}`) || logThing(thing, [mode]) === sound[thing]) continue;
      if (!touched.has(mode.place)) far.add(mode.place);
      mark(mode.place, thing);
    }
  for (const [k, { probe }] of results.entries()) for (const place of heededBy(probe, space)) mark(place, seen.length + k);

  const most = presses.map((o) => mostOf(o, rates, wiring));

  /** One fault: the log of each thing by itself, and the presses that share its unknown rate (their logs are 0). */
  interface Part {
    hit: Uint8Array;
    logs: Float64Array;
    shares: Uint8Array;
    quiet: number;
  }
  const parts = new Map<number, Part>();
  const partOf = (mode: Weighable): Part => {
    let part = parts.get(mode.place);
    if (part) return part;
    part = { hit: new Uint8Array(things), logs: Float64Array.from(sound), shares: new Uint8Array(things), quiet: mode.quiet };
    for (const name of (touched.get(mode.place) ?? '').split(',').filter(Boolean)) {
      const thing = Number(name);
      part.hit[thing] = 1;
      const press = presses[thing];
      if (press && passes(wiring, mode, press)) part.shares[thing] = 1;
      // What came up beside a pressed switch stays, also where the presses themselves share a rate.
      if (press && part.shares[thing]) part.logs[thing] = (sound[thing] ?? 0) - rates.whole.log(press.missed, press.presses);
      else part.logs[thing] = press && mode.behaviour === 'hard' ? logTry(wiring, [mode], press, rates) : logThing(thing, [mode]);
    }
    parts.set(mode.place, part);
    return part;
  };
  /** The presses of a shared rate, those for which `mine` holds. */
  function flicker(mode: Weighable, part: Part, mine: (thing: number) => boolean): number {
    const own = presses.filter((_, thing) => part.shares[thing] === 1 && mine(thing));
    return own.length === 0 ? 0 : logFlicker(part.quiet, own, pooled(mode, own), rates);
  }
  const singles = new Map<number, number>();
  const single = (mode: Weighable): number => {
    let log = singles.get(mode.place);
    if (log === undefined) {
      const part = partOf(mode);
      log = part.logs.reduce((sum, one) => sum + one, 0) + flicker(mode, part, () => true);
      singles.set(mode.place, log);
      best = Math.max(best, log);
    }
    return log;
  };
  const nothing = sound.reduce((sum, one) => sum + one, 0);
  let best = nothing;

  function given(modes: readonly Mode[]): number {
    const [a, b] = modes as readonly Weighable[];
    if (!a) return nothing;
    if (!b) return single(a);
    const [one, two] = [partOf(a), partOf(b)];
    if (modes.length > 2 || a.behaviour !== 'hard' || b.behaviour !== 'hard') return together(modes as readonly Weighable[]);
    // Two faults that are always there: only what both touch has to be worked out anew.
    let log = 0;
    const common: number[] = [];
    for (let thing = 0; thing < things; thing++) {
      if (one.hit[thing] === 1 && two.hit[thing] === 1) common.push(thing);
      else log += (one.hit[thing] === 1 ? one : two).logs[thing] ?? 0;
    }
    const pick = <T>(list: readonly T[], from: number) => list.filter((_, k) => common.includes(from + k));
    const pair = [a, b];
    for (const press of pick(presses, 0)) log += logTry(wiring, pair, press, rates);
    const part = { presses: [], rest: pick(rest, presses.length), hold: pick(hold, presses.length + rest.length) };
    if (part.rest.length + part.hold.length > 0) log += logSeen(wiring, part, pair, rates);
    return common.reduce((sum, thing) => sum + (thing >= seen.length ? logResult(thing, [a, b]) : 0), log);
  }
  function together(present: readonly Weighable[]): number {
    let log = logSeen(wiring, evidence, present, rates);
    for (let thing = seen.length; thing < things; thing++) log += logResult(thing, present);
    return log;
  }

  function both(first: Mode, second: Mode, least: number): number | { most: number } {
    const [a, b] = [first as Weighable, second as Weighable];
    const [one, two] = [partOf(a), partOf(b)];
    const cuts = isBreak(a) && isBreak(b);
    const bothHard = a.behaviour === 'hard' && b.behaviour === 'hard';
    let log = 0;
    let exact = true;
    for (let thing = 0; thing < things; thing++) {
      const inOne = one.hit[thing] === 1;
      const inTwo = two.hit[thing] === 1;
      if (!inOne || !inTwo) log += (inOne ? one : two).logs[thing] ?? 0;
      else if (thing >= presses.length + rest.length) log += logThing(thing, [a, b]);
      else if (cuts && one.shares[thing] === 0 && two.shares[thing] === 0) {
        // The one that is broken for good decides.
        const first = bears(one, thing) || (b.behaviour === 'hard' && !bears(two, thing)) ? two : one;
        log += first.logs[thing] ?? 0;
      } else if (cuts && one.shares[thing] !== two.shares[thing]) {
        // One loose, the other hard: a hard break decides, unless these presses do not feel it.
        const hard = one.shares[thing] === 1 ? two : one;
        if (bears(hard, thing)) exact = false;
        else log += hard.logs[thing] ?? 0;
      } else {
        exact = false;
        log += (bothHard ? most[thing]?.hard : most[thing]?.any) ?? 0;
      }
      // Every chance is at most 1: the sum so far is a bound.
      if (log < least) return log;
    }
    if (a.behaviour !== 'hard')
      log += flicker(a, one, (thing) => two.hit[thing] === 0 || (cuts && two.shares[thing] === 0 && bears(two, thing)));
    if (b.behaviour !== 'hard')
      log += flicker(b, two, (thing) => one.hit[thing] === 0 || (cuts && one.shares[thing] === 0 && bears(one, thing)));
    return exact ? log : { most: log };
  }
  /** Presses that a cut leaves as they are: those of a slow contact by hand. */
  const bears = (part: Part, thing: number) => part.logs[thing] === sound[thing];

  return { loud: touched, far, given, both };
}
