/**
 * Faults of what is not a switch, as harms to things. A fault acts in one of a few ways (open for good, high resistance, nothing just now),
 * each a mode of its own with its share of the weight: the sums are the same, and ways of different elements that do the same merge.
 */
import { kindOf } from '../kinds';
import type { Mode, Present, Probe, Result, Test } from '../types';
import type { Oddity } from '../verdict';
import type { Field } from '../weigh';
import { type Ear, earFor, type Heard } from './ears';

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
/** Names out of a harm's list that something seen or tested depends on. What it does not hear changes nothing in it, whatever else is done. */
export type Hears<D extends string> = (harm: Harm<D>) => readonly string[];
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
  return (h) => (listens.has(h.does) ? h.on.filter((name) => names.includes(name)) : []);
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
  /** What was seen and goes with none of these explanations. */
  odd(explanations: readonly (readonly Present[])[]): Oddity[];
}

const nothingShare = 0.05; // w_0 / Σw (from memory)
const furtherFaults = 0.5; // λ, expected further faults in the machine (from memory)
const commonCause = 10; // κ (from memory)
const mend = 'Look or measure again. If it stays, look for three faults at once, or whether the chart has it right.';
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
  const evidence = [...looks, ...said];
  const ears = evidence.map((e) => earFor(e.hears, e.chance, Math.log));
  const testEars = offered.map((t) => earFor(t.hears, t.shows, (chances) => chances));
  const sound = ears.map((ear) => ear.pair(0, 0));
  const soundLog = sound.reduce((sum, log) => sum + log, 0);
  const known = new Map<string, Effect>();
  const byId = new Map<string, Effect>();
  const faults = all.flatMap((fault): Fault<D>[] => {
    const own = fault.harms.map((h) => h.id).join('&');
    const effect = known.get(own) ?? effectOf(fault.harms, ears, testEars);
    known.set(own, effect);
    if (effect.key === '') return [];
    byId.set(fault.id, effect);
    return [{ ...fault, key: effect.key }];
  });
  const effectsOf = (modes: readonly Present[]) => modes.flatMap(({ id }) => byId.get(id) ?? []);
  const partOf = (effects: readonly Effect[], k: number) => ears[k]?.answer(effects.map(({ heard }) => heard[k] ?? 0)) ?? 0;
  /** What only one of two touches is known from that one alone. */
  const both = (a: Effect, b: Effect): number => {
    let log = a.log + b.log - soundLog;
    for (const k of a.touches) {
      const other = b.heard[k] ?? 0;
      if (other !== 0) log += (ears[k]?.pair(a.heard[k] ?? 0, other) ?? 0) - (a.logs[k] ?? 0) - (b.logs[k] ?? 0) + (sound[k] ?? 0);
    }
    return log;
  };
  const given = (modes: readonly Present[]): number => {
    const [a, b, ...more] = effectsOf(modes);
    if (!a) return soundLog;
    if (!b) return a.log;
    return more.length === 0 ? both(a, b) : ears.reduce((sum, _, k) => sum + partOf([a, b, ...more], k), 0);
  };
  const sum = faults.reduce((total, fault) => total + fault.weight, 0);
  const field: Field = {
    // Those that nothing seen or tested so far hears are weighed as one.
    modes: faults.filter(({ id }) => (byId.get(id)?.touches.length ?? 0) > 0),
    ...(faults.length > 0 && { all: kindOf(faults, 0, { focus: () => false }) }),
    nothing: nothingShare * sum,
    pair: sum > 0 ? furtherFaults / sum : 0,
    together: commonCause,
    given,
    both(a, b) {
      const [first, second] = [byId.get(a.id), byId.get(b.id)];
      return first && second ? both(first, second) : given([a, b]);
    },
    focus,
  };
  const probes = offered.map((trial, k): Probe => {
    const { shows: _, hears: __, offered: ___, inspects: ____, ...test } = trial;
    const ear = testEars[k] as Ear<D, readonly number[]>;
    const heardOf = ({ id }: Present): Heard => byId.get(id)?.tried[k] ?? 0;
    return {
      ...test,
      heeds: (mode) => heardOf(mode) !== 0,
      chance(modes) {
        const [a, b] = modes;
        return modes.length > 2 ? ear.answer(modes.map(heardOf)) : ear.pair(a ? heardOf(a) : 0, b ? heardOf(b) : 0);
      },
    };
  });
  const odd = (explanations: readonly (readonly Present[])[]) => {
    const all = explanations.map(effectsOf);
    return evidence.flatMap((look, k): Oddity[] =>
      all.every((effects) => Math.exp(partOf(effects, k)) < slipped * look.usual)
        ? [{ what: `${look.what}, which does not go with the rest of what was seen.`, mend }]
        : [],
    );
  };
  return {
    field,
    faults,
    probes,
    odd,
    notes: unread.map((r) => `The result “${r.saw}” of “${r.test}” fits no test of this field and was left out.`),
  };
}

/** How everything seen, and every test on offer, hears one fault. */
interface Effect {
  key: string; // empty: nothing hears it
  heard: readonly Heard[]; // by evidence
  touches: readonly number[]; // evidence that hears it
  logs: readonly number[]; // ln of the chance of each piece of evidence with it alone
  log: number; // of all
  tried: readonly Heard[]; // by test
}
function effectOf<D extends string>(
  harms: readonly Harm<D>[],
  ears: readonly Ear<D, number>[],
  testEars: readonly Ear<D, readonly number[]>[],
): Effect {
  const heard = ears.map((ear) => ear.listen(harms));
  const tried = testEars.map((ear) => ear.listen(harms));
  const logs = ears.map((ear, k) => ear.pair(heard[k] ?? 0, 0));
  const touches = heard.flatMap((h, k) => (h === 0 ? [] : [k]));
  const silent = touches.length === 0 && tried.every((h) => h === 0);
  const log = logs.reduce((total, one) => total + one, 0);
  return { key: silent ? '' : [...heard, ...tried].join(), heard, touches, logs, log, tried };
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
