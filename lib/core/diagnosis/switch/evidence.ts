/** Everything that was seen at switches, made ready: the chance of it for any set of faults. */

import type { Observation } from '../types';
import type { SwitchMode } from './modes';
import { type Count, logFlicker, logTwoFlickers, looks, type Rates, sum } from './press';
import { type Reading, readings } from './solve';
import { restCells, toggled, type Wiring } from './wiring';

type Of<K extends Observation['kind']> = Extract<Observation, { kind: K }>;
export interface Evidence {
  presses: readonly Of<'presses'>[];
  rest: readonly Of<'rest'>[];
  hold: readonly Of<'hold'>[];
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

/** How a switch behaves when pressed. */
export type State = 'whole' | 'broken' | 'either' | 'always';

/** ln of the chance of all that was seen when exactly these faults are present. At most two may be intermittent. */
export function logSeen(wiring: Wiring, { presses, rest, hold }: Evidence, modes: readonly SwitchMode[], rates: Rates): number {
  const behaviour = behaviourOf(wiring, modes);
  const flickers = new Map<SwitchMode, { own: Of<'presses'>[]; both: Of<'presses'>[] }>();
  let log = 0;
  for (const seen of presses) {
    const { state, by } = behaviour.pressed(seen.number, seen.how);
    for (const mode of by) {
      const entry = flickers.get(mode) ?? { own: [], both: [] };
      entry[by.length > 1 ? 'both' : 'own'].push(seen);
      flickers.set(mode, entry);
    }
    if (by.length === 0) log += logPresses(state, seen, rates);
    log += logOthers(wiring, seen, behaviour.others(seen.number));
  }
  const [first, second] = [...flickers];
  if (first && second && first[1].both.length > 0) {
    const part = ([mode, { own }]: typeof first) => ({ quiet: mode.quiet, own });
    log += logTwoFlickers(part(first), part(second), first[1].both, rates);
  } else for (const [mode, { own }] of flickers) log += logFlicker(mode.quiet, own, pooled(mode, own), rates);
  for (const seen of rest) log += logRest(seen.reads === 'active', behaviour.atRest(seen.number));
  for (const seen of hold) log += logHold(wiring, seen, behaviour.held(seen.held));
  return log;
}

export function logPresses(state: State, { missed, presses }: Count, rates: Rates): number {
  if (state === 'broken') return rates.broken.log(missed, presses);
  if (state === 'either') return rates.either.log(missed, presses);
  return rates.whole.log(missed, presses) + (state === 'always' ? Math.log(looks.alwaysUnnoticed) : 0);
}

/** The most that the presses of one switch can be worth with faults that are always there, or with any. */
export function mostOf(seen: Of<'presses'>, rates: Rates, wiring: Wiring): { hard: number; any: number } {
  const edge = wiring.driven || wiring.drops.edge ? logPresses('either', seen, rates) : -Infinity;
  const hard = Math.max(logPresses('whole', seen, rates), logPresses('broken', seen, rates), edge);
  return { hard, any: Math.max(hard, perfect(seen)) };
}

/** ln of the chance of these presses at the rate that suits them best. */
function perfect({ missed, presses }: Count): number {
  const part = (k: number) => (k === 0 ? 0 : k * Math.log(k / presses));
  return part(missed) + part(presses - missed);
}

/** Presses of a mechanical fault by hand and by ball have rates of their own; an electrical fault has one for all. */
export function pooled(mode: SwitchMode, seen: readonly Of<'presses'>[]): Count[] {
  if (!mode.mechanical) return [sum(seen)];
  const ball = seen.filter((s) => s.how === 'ball');
  const hand = seen.filter((s) => s.how !== 'ball');
  return [hand, ball].filter((list) => list.length > 0).map(sum);
}

/** True when these presses share the unknown rate of an intermittent cut. */
export const passes = (wiring: Wiring, mode: SwitchMode, { number, how }: Pick<Of<'presses'>, 'number' | 'how'>): boolean =>
  mode.behaviour !== 'hard' &&
  mode.effect.does === 'cut' &&
  (mode.behaviour === 'intermittent' || how === 'ball') &&
  (wiring.network.elements.get(mode.effect.element)?.serves.has(number) ?? false);

/** What came up beside the pressed one. A misreading repeats itself less and less likely. */
function logOthers(wiring: Wiring, { others, presses }: Of<'presses'>, predicted: Others | null): number {
  if (others.length === 0 && (!predicted || predicted.length === 0)) return 0;
  const surprises = predicted ? others.filter((number) => !predicted.includes(number)).length : others.length;
  const log = surprises === 0 ? 0 : Math.min(presses, 3) * Math.log(looks.misread) + (surprises - 1) * Math.log(looks.misread * 10);
  if (!predicted || predicted.length === 0) return log;
  const unnoticed = predicted.some((number) => wiring.cellOf.has(number)) ? looks.unnoticed : looks.leftOut;
  const left = predicted.length - (others.length - surprises);
  if (left === predicted.length) return log + Math.log(unnoticed);
  return log + Math.log(1 - unnoticed) + left * Math.log(looks.leftOut);
}

function logRest(active: boolean, predicted: number): number {
  const shows = predicted === 0 ? looks.strayClosed : predicted === 1 ? 1 - 2 * looks.misread : predicted;
  return Math.log(active ? shows : 1 - shows);
}

function logHold(wiring: Wiring, { held, shown }: Of<'hold'>, predicted: readonly Reading[]): number {
  let log = 0;
  for (const [index, { number, column }] of wiring.shown.entries()) {
    const reads = predicted[index] ?? 0;
    const isShown = shown.includes(number);
    if (column < 0 || (reads === 0 && !isShown && !held.includes(number))) continue;
    const missing = wiring.cellOf.has(number) ? 2 * looks.misread : looks.leftOut;
    const shows = reads === 1 ? 1 - missing : reads === 0 ? looks.steadyMisread : 0.5;
    log += Math.log(isShown ? shows : 1 - shows);
  }
  return log;
}

type Others = readonly string[];
const noOthers: Others = [];
const none: readonly SwitchMode[] = [];

/** A cut that does no more than break paths: an optical pair in the dark may close one. */
export const isBreak = ({ effect }: SwitchMode): boolean => effect.does === 'cut' && !effect.element.startsWith('emitters ');

const kept = new WeakMap<Wiring, Map<string, readonly Reading[]>>();
const mostKept = 10_000; // some megabytes; then from the beginning

/** All readings with one switch pressed, or none (""): they follow from the chart and the faults alone, and many pairs share them. */
function solved(wiring: Wiring, pressed: string, present: readonly SwitchMode[]): readonly Reading[] {
  let known = kept.get(wiring);
  if (!known || known.size > mostKept) {
    known = new Map();
    kept.set(wiring, known);
  }
  let key = pressed;
  for (const mode of present) key += ` ${mode.place}`;
  let result = known.get(key);
  if (!result) {
    const closed = pressed === '' ? restCells(wiring) : toggled(wiring, pressed);
    result = readings(
      wiring,
      present.map((mode) => mode.effect),
      closed,
    );
    known.set(key, result);
  }
  return result;
}

/** What the machine does with these faults, asked only for what was seen. */
function behaviourOf(wiring: Wiring, modes: readonly SwitchMode[]) {
  const forces = !modes.every(isBreak);
  const hard = modes.filter((mode) => mode.behaviour === 'hard');
  const loose = modes.filter((mode) => mode.behaviour !== 'hard');
  const serves = (mode: SwitchMode, number: string) =>
    mode.effect.does === 'cut' && (wiring.network.elements.get(mode.effect.element)?.serves.has(number) ?? false);
  /** All readings with one switch pressed, or none (""). */
  const solve = (pressed: string, loosened: readonly SwitchMode[]) =>
    solved(wiring, pressed, loosened.length === 0 ? hard : [...hard, ...loosened]);
  /** As the switch test shows it: active is closed, or open for a normally closed one. */
  const active = (number: string, reading: Reading): Reading => (wiring.normallyClosed.has(number) ? ((1 - reading) as Reading) : reading);
  const state = (number: string, loosened: readonly SwitchMode[]): State => {
    if (!forces) {
      const broken = hard.some((mode) => serves(mode, number)) || loosened.some((mode) => serves(mode, number));
      return !broken ? 'whole' : wiring.normallyClosed.has(number) ? 'always' : 'broken';
    }
    const index = wiring.cellOf.get(number) ?? -1;
    const down = active(number, solve(number, loosened)[index] ?? 0);
    if (down === 0.5) return 'either';
    if (down === 0) return 'broken';
    return active(number, solve('', loosened)[index] ?? 0) === 1 ? 'always' : 'whole';
  };
  return {
    pressed(number: string, how: Of<'presses'>['how']): { state: State; by: readonly SwitchMode[] } {
      const sound = state(number, none);
      if (sound === 'broken' || loose.length === 0) return { state: sound, by: none };
      const by = loose.filter((mode) => passes(wiring, mode, { number, how }) && state(number, [mode]) !== sound);
      return { state: sound, by };
    },
    /** Switches that come up with the pressed one; null when no fault forces any. */
    others(number: string): Others | null {
      if (!forces) return null;
      const down = solve(number, none);
      const up = solve('', none);
      const own = wiring.cellOf.get(number) ?? -1;
      const rises = (index: number) => {
        const [now, before] = [down[index] ?? 0, up[index] ?? 0];
        return index !== own && (wiring.closedAtRest[index] ? now < before : now > before);
      };
      const numbers: string[] = [];
      for (let index = 0; index < down.length; index++) if (rises(index)) numbers.push(wiring.shown[index]?.number ?? '');
      return numbers.length > 0 ? numbers : noOthers;
    },
    /** Chance that the switch shows as active with nothing pressed, before misreading. */
    atRest(number: string): number {
      const index = wiring.cellOf.get(number) ?? -1;
      const show = (loosened: readonly SwitchMode[]) => active(number, solve('', loosened)[index] ?? 0);
      const sound = show(none);
      const comesAndGoes = loose.some((mode) => mode.behaviour === 'intermittent' && serves(mode, number) && show([mode]) !== sound);
      return comesAndGoes ? 0.3 : sound;
    },
    /** What the test shows of every switch while these are held. */
    held(numbers: readonly string[]): readonly Reading[] {
      const closed = new Set(restCells(wiring));
      for (const number of numbers) {
        const index = wiring.cellOf.get(number) ?? -1;
        if (!closed.delete(index)) closed.add(index);
      }
      const effects = hard.map((mode) => mode.effect);
      return readings(wiring, effects, closed).map((reading, index) => active(wiring.shown[index]?.number ?? '', reading));
    },
  };
}

/** How a switch answers to being pressed with hard faults present: it follows from the chart alone, so answers are kept. */
interface Answer {
  state: State;
  others: Others | null;
}
const answers = new WeakMap<Wiring, Map<string, Answer>>();
const mostAnswers = 100_000; // some megabytes; then from the beginning

function answerOf(wiring: Wiring, modes: readonly SwitchMode[], number: string): Answer {
  let known = answers.get(wiring);
  if (!known || known.size > mostAnswers) {
    known = new Map();
    answers.set(wiring, known);
  }
  let key = number;
  for (const mode of modes) key += ` ${mode.place}`;
  let answer = known.get(key);
  if (!answer) {
    const behaviour = behaviourOf(wiring, modes);
    answer = { state: behaviour.pressed(number, 'hand').state, others: behaviour.others(number) };
    known.set(key, answer);
  }
  return answer;
}

/** How a switch behaves with one hard fault present. */
export const stateOf = (wiring: Wiring, mode: SwitchMode, number: string): State => answerOf(wiring, [mode], number).state;

/** ln of the chance of one try with hard faults present. */
export function logTry(wiring: Wiring, modes: readonly SwitchMode[], seen: Of<'presses'>, rates: Rates): number {
  const { state, others } = answerOf(wiring, modes, seen.number);
  return logPresses(state, seen, rates) + logOthers(wiring, seen, others);
}
