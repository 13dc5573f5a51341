/**
 * Faults of what is not a switch, as harms to things: each fault acts in one of a few ways (always, now and then, with the fuse blown or
 * not). A set of faults gives every combination of their ways; what was seen weighs the combinations, and a test is predicted from that.
 */
import type { Mode, Probe, Result, Test } from '../types';
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
}
export interface Fault<D extends string> extends Mode {
  ways: readonly Way<D>[];
}
/** The chance of one thing that was seen, when these harms are done. */
export type Look<D extends string> = (harms: readonly Harm<D>[]) => number;
/** A test with the chance of each outcome, in their order. */
export interface Trial<D extends string> extends Test {
  shows(harms: readonly Harm<D>[]): readonly number[];
  offered: boolean; // false: read when somebody has done it, never proposed
  inspects?: readonly string[]; // elements it looks at
}

export const harm = <D extends string>(does: D, on: readonly string[]): Harm<D> => ({ id: `${does}:${on.join(',')}`, does, on });
export const suffers = <D extends string>(harms: readonly Harm<D>[], does: D, number: string): boolean =>
  harms.some((h) => h.does === does && h.on.includes(number));

/** Chance that an intermittent fault is bad through a session: the mean of Beta(1, 2), the rate of an intermittent. */
export const actsNow = 1 / 3;
export const hard = <D extends string>(...harms: Harm<D>[]): Way<D>[] => [{ harms, share: 1 }];
/** Chance of one label of several: what is predicted, and a slip spread over the others. */
export const slip = 0.02; // default error of a look or a test (from memory)
export const blurred = (share: number, labels: number, error = slip): number => (1 - error) * share + (error * (1 - share)) / (labels - 1);
/** Chances of outcomes when one is predicted. */
export const certain = (outcomes: readonly { id: string }[], predicted: string, error = slip): number[] =>
  outcomes.map((o) => blurred(o.id === predicted ? 1 : 0, outcomes.length, error));

/** Faults with the same ways are the same to everything seen and tested. */
export const keyOf = <D extends string>(ways: readonly Way<D>[]): string =>
  ways.map((way) => `${way.share}=${way.harms.map((h) => h.id).join('&')}`).join('|');

interface State<D extends string> {
  index: number;
  harms: readonly Harm<D>[];
  seen: number; // chance of everything seen
  shows: (readonly number[] | undefined)[]; // by trial
}
interface Scene<D extends string> {
  state: State<D>;
  share: number;
}
export interface Situation<D extends string> {
  faults: readonly Fault<D>[];
  looks: readonly Look<D>[];
  trials: readonly Trial<D>[];
  results: readonly Result[];
  focus(element: string): boolean;
}

const nothingShare = 0.05; // w_0 / Σw (from memory)
const furtherFaults = 0.5; // λ, expected further faults in the machine (from memory)
const commonCause = 10; // κ (from memory)
const mostStates = 65536;

/** Trials that are proposed or have been done; the others would only cost time. */
export const inUse = <D extends string>(trials: readonly Trial<D>[], results: readonly Result[]): Trial<D>[] => {
  const done = new Set(results.map((r) => r.test));
  return trials.filter((t) => t.offered || done.has(t.id));
};

/** The field that `weigh` takes, the tests still to do, and results that name no test. */
export function fieldOf<D extends string>(situation: Situation<D>): { field: Field; probes: Probe[]; notes: string[] } {
  const { faults, trials, results, focus } = situation;
  const unread = results.filter((r) => !trials.some((t) => t.id === r.test && t.outcomes.some((o) => o.id === r.saw)));
  const scenesOf = sceneMaker(situation);
  const sum = faults.reduce((total, fault) => total + fault.weight, 0);
  const field: Field = {
    modes: faults,
    nothing: nothingShare * sum,
    pair: sum > 0 ? furtherFaults / sum : 0,
    together: commonCause,
    given: (modes) => scenesOf(modes).log,
    focus,
  };
  const done = new Set(results.map((r) => r.test));
  const probes = trials.flatMap((trial, index): Probe[] => {
    if (done.has(trial.id) || !trial.offered) return [];
    const { shows, offered: _, inspects: __, ...test } = trial;
    const showsIn = (state: State<D>): readonly number[] => {
      const known = state.shows[index] ?? shows(state.harms);
      state.shows[index] = known;
      return known;
    };
    const chance = (modes: readonly Mode[]) => {
      const { now } = scenesOf(modes);
      const [only] = now;
      if (only && now.length === 1) return showsIn(only.state);
      const chances = trial.outcomes.map(() => 0);
      for (const { state, share } of now) for (const [k, c] of showsIn(state).entries()) chances[k] = (chances[k] ?? 0) + share * c;
      return chances;
    };
    return [{ ...test, chance }];
  });
  return { field, probes, notes: unread.map((r) => `The result “${r.saw}” of “${r.test}” fits no test of this field and was left out.`) };
}

/** Every combination of the ways of some faults; combinations are worked out once. */
function sceneMaker<D extends string>({ faults, looks, trials, results }: Situation<D>) {
  const results_ = results.flatMap((result): Look<D>[] => {
    const trial = trials.find((t) => t.id === result.test);
    const at = trial?.outcomes.findIndex((o) => o.id === result.saw) ?? -1;
    return trial && at >= 0 ? [(harms) => trial.shows(harms)[at] ?? 0] : [];
  });
  const all = [...looks, ...results_];
  const states = new Map<string, State<D>>();
  const stateOf = (harms: readonly Harm<D>[]): State<D> => {
    const unique = [...new Map(harms.map((h) => [h.id, h])).values()];
    const key = unique
      .map((h) => h.id)
      .sort()
      .join('&');
    let state = states.get(key);
    if (!state) {
      state = { index: states.size, harms: unique, seen: all.reduce((product, look) => product * look(unique), 1), shows: [] };
      states.set(key, state);
    }
    return state;
  };
  const sound = stateOf([]);
  const own = new Map<string, Scene<D>[]>();
  for (const fault of faults)
    own.set(
      fault.id,
      fault.ways.map(({ harms, share }) => ({ state: stateOf(harms), share })),
    );
  const unions = new Map<number, State<D>>();
  const union = (a: State<D>, b: State<D>): State<D> => {
    if (a === sound || a === b) return b;
    if (b === sound) return a;
    const key = Math.min(a.index, b.index) * mostStates + Math.max(a.index, b.index);
    let state = unions.get(key);
    if (!state) {
      state = stateOf([...a.harms, ...b.harms]);
      unions.set(key, state);
    }
    return state;
  };
  const known = new WeakMap<readonly Mode[], { log: number; now: Scene<D>[] }>();
  return (modes: readonly Mode[]) => {
    let found = known.get(modes);
    if (!found) {
      let scenes: Scene<D>[] = [{ state: sound, share: 1 }];
      for (const mode of modes) {
        const ways = own.get(mode.id) ?? [];
        scenes = scenes.flatMap((a) => ways.map((b) => ({ state: union(a.state, b.state), share: a.share * b.share })));
      }
      found = afterAll(scenes);
      known.set(modes, found);
    }
    return found;
  };
}

const negligible = 1e-9; // share of a scene that no advice turns on

/** The chance of all that was seen, and the scenes as it leaves them. */
function afterAll<D extends string>(scenes: readonly Scene<D>[]): { log: number; now: Scene<D>[] } {
  const total = scenes.reduce((sum, { state, share }) => sum + share * state.seen, 0);
  const now = scenes.map(({ state, share }) => ({ state, share: (share * state.seen) / total }));
  return { log: Math.log(total), now: now.filter(({ share }) => share > negligible) };
}
