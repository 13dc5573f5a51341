/** Everything that was seen, made ready: the chance of it for any set of faults. */

import type { SwitchMode } from './modes';
import { type Count, logFlicker, logTwoFlickers, looks, type Rates, sum } from './press';
import { logMisses } from './rates';
import { type Reading, readings } from './solve';
import type { Observation } from './types';
import type { Wiring } from './wiring';

type Presses = Extract<Observation, { kind: 'presses' }>;
type Rest = Extract<Observation, { kind: 'rest' }>;
type Hold = Extract<Observation, { kind: 'hold' }>;

export interface Evidence {
  presses: readonly Presses[];
  rest: readonly Rest[];
  hold: readonly Hold[];
}

/** Observations of switches that the chart has, by kind. */
export function sorted(observations: readonly Observation[], wiring: Wiring): Evidence {
  const known = (o: Observation) => (o.kind === 'hold' ? o.held : [o.number]).every((n) => wiring.cellOf.has(n));
  const all = observations.filter(known);
  return {
    presses: all.flatMap((o) => (o.kind === 'presses' && o.presses > 0 ? [o] : [])),
    rest: all.flatMap((o) => (o.kind === 'rest' ? [o] : [])),
    hold: all.flatMap((o) => (o.kind === 'hold' ? [o] : [])),
  };
}

/** ln of the chance of what was seen when exactly these modes are present. */
export function logSeen(wiring: Wiring, { presses, rest, hold }: Evidence, modes: readonly SwitchMode[], rates: Rates): number {
  const view = viewOf(wiring, modes);
  const flicker = new Map<SwitchMode, { own: Presses[]; both: Presses[] }>();
  let log = 0;
  for (const seen of presses) {
    const state = view.pressed(seen.number, seen.how);
    if (state.is === 'flickers') for (const mode of state.by) note(flicker, mode, seen, state.by.length > 1);
    else log += logPresses(state.is, seen, rates);
    log += logOthers(seen.others, view.others(seen.number));
  }
  log += logFlickers([...flicker], rates);
  for (const seen of rest) log += logRest(seen.reads === 'active', view.atRest(seen.number));
  for (const seen of hold) log += logHold(wiring, seen, view.held(seen.held));
  return log;
}

function note(map: Map<SwitchMode, { own: Presses[]; both: Presses[] }>, mode: SwitchMode, seen: Presses, shared: boolean) {
  const entry = map.get(mode) ?? { own: [], both: [] };
  (shared ? entry.both : entry.own).push(seen);
  map.set(mode, entry);
}

type State = { is: 'whole' | 'broken' | 'either' | 'always' } | { is: 'flickers'; by: SwitchMode[] };

function logPresses(state: 'whole' | 'broken' | 'either' | 'always', { missed, presses }: Presses, rates: Rates): number {
  if (state === 'broken') return logMisses(rates.broken, missed, presses);
  if (state === 'either') return logMisses({ a: 1, b: 1 }, missed, presses);
  return logMisses(rates.whole, missed, presses) + (state === 'always' ? Math.log(looks.alwaysUnnoticed) : 0);
}

/** Presses of a mechanical fault by hand and by ball have rates of their own; an electrical fault has one for all. */
function countsOf(mode: SwitchMode, seen: readonly Presses[]): Count[] {
  if (!mode.mechanical) return seen.length > 0 ? [sum(seen)] : [];
  const ball = seen.filter((s) => s.how === 'ball');
  const hand = seen.filter((s) => s.how !== 'ball');
  return [hand, ball].filter((list) => list.length > 0).map(sum);
}

function logFlickers(all: [SwitchMode, { own: Presses[]; both: Presses[] }][], rates: Rates): number {
  const [first, second] = all;
  if (!first) return 0;
  const [mode, seen] = first;
  if (!second || seen.both.length === 0)
    return all.reduce((log, [m, s]) => log + logFlicker({ quiet: m.quiet, counts: countsOf(m, s.own) }, rates, s.own), 0);
  const part = (m: SwitchMode, s: { own: Presses[] }) => ({ quiet: m.quiet, counts: countsOf(m, s.own) });
  return logTwoFlickers(part(mode, seen), part(second[0], second[1]), sum(seen.both), rates);
}

function logOthers(reported: readonly string[], predicted: ReadonlySet<string>): number {
  let log = 0;
  let surprises = 0;
  for (const number of reported) if (!predicted.has(number)) log += Math.log(surprises++ === 0 ? looks.misread : looks.misread * 10);
  const left = [...predicted].filter((number) => !reported.includes(number)).length;
  if (predicted.size === 0) return log;
  if (left === predicted.size) return log + Math.log(looks.unnoticed);
  return log + Math.log(1 - looks.unnoticed) + left * Math.log(looks.leftOut);
}

function logRest(active: boolean, predicted: number): number {
  const shows = predicted === 0 ? looks.strayClosed : predicted === 1 ? 1 - 2 * looks.misread : predicted;
  return Math.log(active ? shows : 1 - shows);
}

function logHold(wiring: Wiring, { held, shown }: Hold, predicted: readonly Reading[]): number {
  let log = 0;
  for (const [index, { number, column }] of wiring.cells.entries()) {
    const reads = predicted[index] ?? 0;
    const isShown = shown.includes(number);
    if (column < 0 || (reads === 0 && !isShown && !held.includes(number))) continue;
    const shows = reads === 1 ? 1 - 2 * looks.misread : reads === 0 ? looks.misread : 0.5;
    log += Math.log(isShown ? shows : 1 - shows);
  }
  return log;
}

const nobody: ReadonlySet<string> = new Set();

/** What the machine does with these faults, asked only for what was seen. */
function viewOf(wiring: Wiring, modes: readonly SwitchMode[]) {
  const forces = modes.some((mode) => mode.effect.does !== 'cut');
  const hard = modes.filter((mode) => mode.behaviour === 'hard');
  const loose = modes.filter((mode) => mode.behaviour !== 'hard');
  const serves = (mode: SwitchMode, number: string) =>
    mode.effect.does === 'cut' && (wiring.network.elements.get(mode.effect.element)?.serves.has(number) ?? false);
  const atRest = restCells(wiring);
  const solved = new Map<string, Reading[]>();
  const solve = (closed: ReadonlySet<number>, key: string, present: readonly SwitchMode[]) => {
    let result = solved.get(key);
    if (!result) {
      const effects = present.map((mode) => mode.effect);
      result = readings(wiring, effects, closed);
      solved.set(key, result);
    }
    return result;
  };
  const pressedCells = (number: string) => toggled(wiring, atRest, number);
  const reads = (number: string, closed: ReadonlySet<number>, key: string, present: readonly SwitchMode[]): Reading => {
    const index = wiring.cellOf.get(number) ?? -1;
    if (forces) return solve(closed, `${key} ${present.length}${present[0]?.id ?? ''}`, present)[index] ?? 0;
    return closed.has(index) && !present.some((mode) => serves(mode, number)) ? 1 : 0;
  };
  /** As the switch test shows it. */
  const active = (number: string, reading: Reading): Reading => (wiring.normallyClosed.has(number) ? ((1 - reading) as Reading) : reading);

  const state = (number: string, present: readonly SwitchMode[]): 'whole' | 'broken' | 'either' | 'always' => {
    const down = active(number, reads(number, pressedCells(number), `press ${number}`, present));
    const up = active(number, reads(number, atRest, 'rest', present));
    if (down === 0.5) return 'either';
    if (down === 1) return up === 1 ? 'always' : 'whole';
    return 'broken';
  };
  return {
    pressed(number: string, how: Presses['how']): State {
      const sound = state(number, hard);
      const by = loose.filter((mode) => (mode.behaviour === 'intermittent' || how === 'ball') && state(number, [...hard, mode]) !== sound);
      return by.length > 0 && sound !== 'broken' ? { is: 'flickers', by } : { is: sound };
    },
    others(number: string): ReadonlySet<string> {
      if (!forces) return nobody;
      const down = solve(pressedCells(number), `press ${number} ${hard.length}${hard[0]?.id ?? ''}`, hard);
      const up = solve(atRest, `rest ${hard.length}${hard[0]?.id ?? ''}`, hard);
      return new Set(wiring.cells.flatMap((cell, i) => (cell.number !== number && (down[i] ?? 0) > (up[i] ?? 0) ? [cell.number] : [])));
    },
    /** Chance that the switch shows as active with nothing pressed, before misreading. */
    atRest(number: string): number {
      const sound = active(number, reads(number, atRest, 'rest', hard));
      const by = loose.find(
        (mode) => mode.behaviour === 'intermittent' && active(number, reads(number, atRest, 'rest', [...hard, mode])) !== sound,
      );
      return by ? 0.3 : sound;
    },
    held(numbers: readonly string[]): readonly Reading[] {
      const closed = new Set(atRest);
      for (const number of numbers) closed.add(wiring.cellOf.get(number) ?? -1);
      return readings(
        wiring,
        hard.map((mode) => mode.effect),
        closed,
      );
    },
  };
}

const resting = new WeakMap<Wiring, ReadonlySet<number>>();

/** Cells that are electrically closed with nothing pressed. */
function restCells(wiring: Wiring): ReadonlySet<number> {
  let cells = resting.get(wiring);
  if (!cells) {
    cells = new Set(wiring.cells.flatMap((cell, index) => (wiring.normallyClosed.has(cell.number) ? [index] : [])));
    resting.set(wiring, cells);
  }
  return cells;
}

function toggled(wiring: Wiring, rest: ReadonlySet<number>, number: string): ReadonlySet<number> {
  const cells = new Set(rest);
  const index = wiring.cellOf.get(number) ?? -1;
  if (!cells.delete(index)) cells.add(index);
  return cells;
}
