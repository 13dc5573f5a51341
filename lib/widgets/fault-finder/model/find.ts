/** From shared state to what the engine finds. */
import type { Chart } from '@/lib/core/chart/types';
import {
  drivenHistories,
  type Finding,
  type FixCounts,
  findFault,
  findLampFault,
  findLoadFault,
  findStringFault,
  histories,
  type LampSeen,
  type LoadSeen,
  networkOf,
  type Power,
  type StringSeen,
  type Test,
} from '@/lib/core/diagnosis';
import { lampsField } from '@/lib/core/diagnosis/driven/lamps';
import { loadsField } from '@/lib/core/diagnosis/driven/loads';
import { weightAfter } from '@/lib/core/diagnosis/driven/priors-driven';
import { stringsField } from '@/lib/core/diagnosis/driven/strings';
import { probeOf } from '@/lib/core/diagnosis/switch/probes';
import { wiringOf } from '@/lib/core/diagnosis/switch/wiring';
import { family } from '@/lib/notebook/widget-state';
import type { WidgetState } from '../../definition';
import { answeredTests, doneOf, observationsOf, resultsOf, type Saw } from './state';
import { type About, dropsOf } from './subjects';

// A symptom in shared state has passed the schema, so it is one that the engine knows.
const loadsSeen = (state: WidgetState): LoadSeen[] => family<LoadSeen['shows']>(state, 'load').map(([load, shows]) => ({ load, shows }));
function lampsSeen(state: WidgetState): LampSeen[] {
  type Symptom = Extract<LampSeen, { kind: 'lamp' }>['shows'];
  const lines = family<Symptom>(state, 'line').flatMap(([name, shows]): LampSeen[] => {
    const [axis, line] = name.split('.');
    return (axis === 'column' || axis === 'row') && /^\d+$/.test(line ?? '') ? [{ kind: 'line', axis, line: Number(line), shows }] : [];
  });
  return [...family<Symptom>(state, 'lamp').map(([lamp, shows]): LampSeen => ({ kind: 'lamp', lamp, shows })), ...lines];
}
const stringsSeen = (state: WidgetState): StringSeen[] => [
  ...family<Extract<StringSeen, { kind: 'string' }>['shows']>(state, 'string').map(
    ([string, shows]): StringSeen => ({ kind: 'string', string, shows }),
  ),
  ...dropsOf(state).map(([pin, millivolts]): StringSeen => ({ kind: 'drop', pin, millivolts })),
];

/** A test that was answered. */
export interface Answered extends Saw {
  test: string; // id
  title: string; // the id itself when this chart has no such test
  label: string; // of the outcome
  power: Power;
}

export function answeredIn(chart: Chart, about: About, state: WidgetState): Answered[] {
  const saws = answeredTests(state);
  const testOf = saws.length > 0 ? testsIn(chart, about, state) : () => undefined;
  return saws.map((saw): Answered => {
    const test = testOf(saw.test);
    const label = test?.outcomes.find(({ id }) => id === saw.saw)?.label ?? saw.saw;
    return { ...saw, title: test?.title ?? `${saw.test}, no test of what misbehaves here:`, label, power: test?.power ?? 'on' };
  });
}

/** Tests by their id. Those of a driven part come with its field; a switch's are made from the id. */
function testsIn(chart: Chart, about: About, state: WidgetState): (id: string) => Test | null | undefined {
  if (about === 'switch') return (id) => probeOf(wiringOf(networkOf(chart)), id);
  const results = resultsOf(state);
  const weights = weightAfter(doneOf(state));
  const { probes } =
    about === 'load'
      ? loadsField(chart, loadsSeen(state), results, weights)
      : about === 'lamp'
        ? lampsField(chart, lampsSeen(state), results, weights)
        : stringsField(chart, stringsSeen(state), results, weights);
  return (id) => probes.find((probe) => probe.id === id);
}

/** The machine is taken to be as the latest test left it. */
export const powerNow = (answered: readonly Answered[]): Power => answered.at(-1)?.power ?? 'on';

/** What can have happened to it before, that makes some faults likelier. */
export const historiesOf = (about: About): readonly { id: string; label: string }[] => (about === 'switch' ? histories : drivenHistories);

const latest = new WeakMap<Chart, Map<string, Finding>>();
const mostKept = 8; // finders of one page

/** What the engine finds. The last answers are kept: the editor asks for the page and for each widget. */
export function findIn(chart: Chart, about: About, state: WidgetState, record: FixCounts, power: Power): Finding {
  const kept = latest.get(chart) ?? new Map<string, Finding>();
  latest.set(chart, kept);
  const key = JSON.stringify([about, state, record, power]);
  const finding = kept.get(key) ?? find(chart, about, state, record, power);
  kept.delete(key);
  kept.set(key, finding);
  const [oldest] = kept.keys();
  if (kept.size > mostKept && oldest !== undefined) kept.delete(oldest);
  return finding;
}

function find(chart: Chart, about: About, state: WidgetState, counts: FixCounts, power: Power): Finding {
  const results = resultsOf(state);
  const done = doneOf(state);
  if (about === 'switch')
    return findFault(chart, { observations: observationsOf(state), results, done, threes: state.threes === true }, counts, power);
  const rest = { results, done, counts, power };
  if (about === 'load') return findLoadFault(chart, { seen: loadsSeen(state), ...rest });
  if (about === 'lamp') return findLampFault(chart, { seen: lampsSeen(state), ...rest });
  return findStringFault(chart, { seen: stringsSeen(state), ...rest });
}
