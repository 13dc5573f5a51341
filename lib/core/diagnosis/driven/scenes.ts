/**
 * Faults of what is not a switch, as harms to things. A fault acts in one of a few ways (open for good, high resistance, nothing just now),
 * each a mode of its own with its share of the weight: the sums are the same, and ways of different elements that do the same merge.
 */
import { kindOf } from '../kinds';
import type { Mode, Present, Probe, Result, Test } from '../types';
import type { Oddity } from '../verdict';
import type { Field } from '../weigh';

/** One thing done to some devices, named by number: `return-cut` on L5. */
export interface Harm<D extends string> {
  id: string;
  does: D;
  on: readonly string[];
}
/** One way in which a fault acts, and the chance of it. The shares of a fault sum to 1. */
export interface Way<D extends string> {
  harms: readonly Harm<D>[];
  share: number;
  words?: string; // absent: the name of the fault
}
export interface Fault<D extends string> extends Mode {
  harms: readonly Harm<D>[];
  words: string; // what is wrong, for a list: "open", "shorted"
}
/** Says which harms something seen or tested depends on. Those that it does not hear change nothing in it, whatever else is done. */
export type Hears<D extends string> = (harm: Harm<D>) => boolean;
/** One thing that was seen, and the chance of it when these harms are done. */
export interface Look<D extends string> {
  what: string; // "L5 is dead"
  hears: Hears<D>;
  chance(harms: readonly Harm<D>[]): number;
  usual: number; // chance of seeing what is there
}
/** A test with the chance of each outcome, in their order. */
export interface Trial<D extends string> extends Test {
  hears: Hears<D>;
  shows(harms: readonly Harm<D>[]): readonly number[];
  offered: boolean; // false: read when somebody has done it, never proposed
  inspects?: readonly string[]; // elements it looks at
}

export const harm = <D extends string>(does: D, on: readonly string[]): Harm<D> => ({ id: `${does}:${on.join(',')}`, does, on });
export const suffers = <D extends string>(harms: readonly Harm<D>[], does: D, number: string): boolean => {
  for (const h of harms) if (h.does === does && h.on.includes(number)) return true;
  return false;
};
/** Hears these harms on any of the named. */
export const hearing = <D extends string>(names: readonly string[], ...does: readonly D[]): Hears<D> => {
  const listens = new Set<D>(does);
  return (h) => listens.has(h.does) && h.on.some((name) => names.includes(name));
};

/** Chance that an intermittent fault is bad through a session: the mean of Beta(1, 2), the rate of an intermittent. */
export const actsNow = 1 / 3;
export const hard = <D extends string>(...harms: Harm<D>[]): Way<D>[] => [{ harms, share: 1 }];
/** Chance of one label of several: what is predicted, and a slip spread over the others. */
export const slip = 0.02; // default error of a look or a test (from memory)
export const blurred = (share: number, labels: number, error = slip): number => (1 - error) * share + (error * (1 - share)) / (labels - 1);
/** Chances of outcomes when one is predicted. */
export const certain = (outcomes: readonly { id: string }[], predicted: string, error = slip): number[] =>
  outcomes.map((o) => blurred(o.id === predicted ? 1 : 0, outcomes.length, error));

export interface Situation<D extends string> {
  faults: readonly Fault<D>[];
  looks: readonly Look<D>[];
  trials: readonly Trial<D>[];
  results: readonly Result[];
  focus(element: string): boolean;
}
export interface Scene<D extends string> {
  field: Field;
  faults: readonly Fault<D>[]; // all, also those that only a test to come would hear
  probes: Probe[]; // tests still to do
  notes: string[]; // results that name no test
  /** What was seen and does not go with these modes. */
  odd(modes: readonly Present[]): Oddity[];
}

const nothingShare = 0.05; // w_0 / Σw (from memory)
const furtherFaults = 0.5; // λ, expected further faults in the machine (from memory)
const commonCause = 10; // κ (from memory)
/** Less than this of what is usual is a slip, or no fault of this chart. */
const slipped = 1.25 * slip;

/** Trials that are proposed or have been done; the others would only cost time. */
export const inUse = <D extends string>(trials: readonly Trial<D>[], results: readonly Result[]): Trial<D>[] => {
  const done = new Set(results.map((r) => r.test));
  return trials.filter((t) => t.offered || done.has(t.id));
};

/** The field that `weigh` takes. Faults that nothing seen or testable hears are left out: no look and no test would ever speak of them. */
export function fieldOf<D extends string>({ faults: all, looks, trials, results, focus }: Situation<D>): Scene<D> {
  const { said, unread } = resultsOf(trials, results);
  const done = new Set(results.map((r) => r.test));
  const offered = trials.filter((t) => t.offered && !done.has(t.id));
  const sound = soundOf([...looks, ...said]);
  const known = new Map<string, Effect<D>>();
  const byId = new Map<string, Effect<D>>();
  const faults = all.flatMap((fault): Fault<D>[] => {
    const heard = fault.harms.filter((h) => sound.evidence.some((e) => e.hears(h)) || offered.some((t) => t.hears(h)));
    if (heard.length === 0) return [];
    const key = heard.map((h) => h.id).join('&');
    const effect = known.get(key) ?? effectOf(heard, sound, offered);
    known.set(key, effect);
    byId.set(fault.id, effect);
    return [{ ...fault, key }];
  });
  const effectsOf = (modes: readonly Present[]) => modes.flatMap(({ id }) => byId.get(id) ?? []);
  const sum = faults.reduce((total, fault) => total + fault.weight, 0);
  const given = (modes: readonly Present[]) => logOf(effectsOf(modes), sound);
  const field: Field = {
    // Those that nothing seen or tested so far hears are weighed as one.
    modes: faults.filter(({ id }) => !byId.get(id)?.silent),
    ...(faults.length > 0 && { all: kindOf(faults, 0, { focus: () => false }) }),
    nothing: nothingShare * sum,
    pair: sum > 0 ? furtherFaults / sum : 0,
    together: commonCause,
    given,
    both: (a, b) => given([a, b]),
    focus,
  };
  const probes = offered.map((trial, index): Probe => {
    const { shows, hears: _, offered: __, inspects: ___, ...test } = trial;
    const whole = shows([]);
    return {
      ...test,
      heeds: ({ id }) => byId.get(id)?.tried[index] !== undefined,
      chance(modes) {
        const hearers = effectsOf(modes).filter(({ tried }) => tried[index] !== undefined);
        const [first] = hearers;
        if (!first) return whole;
        return hearers.length === 1 ? (first.tried[index] ?? whole) : shows(hearers.flatMap(({ harms }) => harms));
      },
    };
  });
  const odd = (modes: readonly Present[]) =>
    sound.evidence.flatMap((look, k): Oddity[] =>
      Math.exp(partOf(effectsOf(modes), look, k, sound.logs[k] ?? 0)) < slipped * look.usual
        ? [{ what: `${look.what}, which does not go with the rest of what was seen.`, mend: 'Look or measure again.' }]
        : [],
    );
  return {
    field,
    faults,
    probes,
    odd,
    notes: unread.map((r) => `The result “${r.saw}” of “${r.test}” fits no test of this field and was left out.`),
  };
}

function resultsOf<D extends string>(trials: readonly Trial<D>[], results: readonly Result[]) {
  const byId = new Map(trials.map((t) => [t.id, t]));
  const said: Look<D>[] = [];
  const unread: Result[] = [];
  for (const result of results) {
    const trial = byId.get(result.test);
    const at = trial?.outcomes.findIndex((o) => o.id === result.saw) ?? -1;
    const label = trial?.outcomes[at]?.label;
    if (!trial || label === undefined) unread.push(result);
    else
      said.push({
        what: `“${label}” was the answer to “${trial.title}”`,
        hears: trial.hears,
        chance: (harms) => trial.shows(harms)[at] ?? 0,
        usual: 1 - slip,
      });
  }
  return { said, unread };
}

interface Sound<D extends string> {
  evidence: readonly Look<D>[];
  logs: readonly number[]; // ln of the chance of each with nothing wrong
  log: number; // of all
}
const soundOf = <D extends string>(evidence: readonly Look<D>[]): Sound<D> => {
  const logs = evidence.map((e) => Math.log(e.chance([])));
  return { evidence, logs, log: logs.reduce((sum, log) => sum + log, 0) };
};

/** What one fault alone does to the chances of everything; absent where it is not heard. */
interface Effect<D extends string> {
  harms: readonly Harm<D>[];
  logs: readonly (number | undefined)[]; // by evidence
  log: number; // of all evidence
  silent: boolean;
  tried: readonly (readonly number[] | undefined)[]; // by test on offer
}
function effectOf<D extends string>(harms: readonly Harm<D>[], sound: Sound<D>, offered: readonly Trial<D>[]): Effect<D> {
  const logs = sound.evidence.map((e) => (harms.some(e.hears) ? Math.log(e.chance(harms)) : undefined));
  return {
    harms,
    logs,
    log: logs.reduce<number>((sum, log, k) => sum + (log ?? sound.logs[k] ?? 0), 0),
    silent: logs.every((log) => log === undefined),
    tried: offered.map((t) => (harms.some(t.hears) ? t.shows(harms) : undefined)),
  };
}

/** ln of the chance of all evidence. What only one of the faults touches is known from that one alone. */
function logOf<D extends string>(effects: readonly Effect<D>[], sound: Sound<D>): number {
  const [first, second] = effects;
  if (!first) return sound.log;
  if (!second) return first.log;
  let log = 0;
  for (const [k, look] of sound.evidence.entries()) log += partOf(effects, look, k, sound.logs[k] ?? 0);
  return log;
}

function partOf<D extends string>(effects: readonly Effect<D>[], look: Look<D>, k: number, sound: number): number {
  let only: Effect<D> | undefined;
  for (const effect of effects) {
    if (effect.logs[k] === undefined) continue;
    if (only) return Math.log(look.chance(effects.filter(({ logs }) => logs[k] !== undefined).flatMap(({ harms }) => harms)));
    only = effect;
  }
  return only?.logs[k] ?? sound;
}
