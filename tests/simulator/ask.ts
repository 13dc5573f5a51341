/** Puts the fault finder's own tests to a simulated machine, and writes the answers down as a person would tick them. */
import type { Chart } from '@/lib/core/chart';
import type { Observation, Result, Seen } from '@/lib/core/diagnosis';
import { answer } from './bench';
import type { Complaint } from './complaint';
import { type Errors, noErrors, errors as usual } from './errors';
import { levels } from './solve';
import type { SimOutcome, SimTest } from './types';
import type { World } from './world';

type Of<K extends SimOutcome['kind']> = Extract<SimOutcome, { kind: K }>;
type Presses = Extract<Observation, { kind: 'presses' }>;
/** What is ticked: something seen at switches, the outcome of a bench test, or both. */
export interface Ticked {
  observations: readonly Observation[];
  result?: Result;
}

/** What somebody says first. The screen at rest was looked at, so its test is done. */
export function toldFirst(chart: Chart, { pressed, rest, held }: Complaint): Seen {
  const observations: Observation[] = [...active(chart, rest)];
  if (pressed) observations.unshift(pressesOf(chart, pressed, 'hand'));
  // In the order of the numbers: the complaint's own order would give the culprit away.
  if (held) observations.push({ kind: 'hold', held: [...held.switches].sort(), shown: held.shown.filter((n) => chart.circuit.has(n)) });
  return { observations, results: [{ test: 'rest', saw: lookOf(rest) }], done: [] };
}

/** What is known after one more answer: presses of one switch made in one way add up. */
export function withTicked(seen: Seen, { observations, result }: Ticked): Seen {
  const all = [...seen.observations];
  for (const one of observations) {
    const same = all.findIndex((o) => 'number' in o && 'number' in one && o.number === one.number && sortOf(o) === sortOf(one));
    const before = all[same];
    if (!before) all.push(one);
    else if (before.kind === 'presses' && one.kind === 'presses') all[same] = added(before, one);
    else all[same] = one;
  }
  return { ...seen, observations: all, results: result ? [...seen.results, result] : seen.results };
}
const sortOf = (o: Observation) => (o.kind === 'presses' ? o.how : o.kind);
const added = (a: Presses, b: Presses): Presses => ({
  ...a,
  presses: a.presses + b.presses,
  missed: a.missed + b.missed,
  others: [...new Set([...a.others, ...b.others])].sort(),
});

/** Carries out a test of the fault finder, by its id. Throws for an id that it does not know. */
export function ask(w: World, seen: Seen, test: string, errors: Errors = usual): Ticked {
  const chart = w.wiring.chart;
  const words = test.split(' ');
  const last = words.at(-1) ?? '';
  const saw = (outcome: string): Ticked => ({ observations: [], result: { test, saw: outcome } });
  const put = <K extends SimOutcome['kind']>(question: SimTest & { kind: K }, erring = errors) => answer(w, question, erring) as Of<K>;
  const [first = '', second = '', third = ''] = words;
  switch (first) {
    case 'press':
    case 'ball': {
      const how = first === 'ball' ? 'ball' : 'hand';
      return { observations: [pressesOf(chart, put({ kind: 'press', switch: second, times: Number(third), how }), how)] };
    }
    case 'rest': {
      const { shown } = put({ kind: 'rest' });
      return { observations: active(chart, shown), result: { test, saw: lookOf(shown) } };
    }
    case 'all':
      return saw(stays(chart, seen, put({ kind: 'unplugged-rest' }).shown) ? 'stays' : 'clear');
    case 'bridge':
      return saw(put(bridgeOf(chart, last)).registers ? 'shows' : 'nothing');
    case 'jumper': {
      const kind = second === 'with' ? 'jumper-diode' : 'jumper';
      return saw(put({ kind, switch: last }).registers ? 'shows' : 'nothing');
    }
    case 'continuity':
      return saw(put({ kind: 'continuity', pin: second, switch: third, from: 'terminal' }).good ? 'good' : 'open');
    case 'diode':
      return saw(
        { good: 'good', open: 'open', short: 'low', odd: 'low', reversed: 'turned' }[put({ kind: 'diode', switch: second }).reads],
      );
    case 'wiggle':
      return saw(put({ kind: 'wiggle', pin: second, switch: third }).saw === 'steady' ? 'held' : 'dropped');
    case 'joint':
      return saw({ sound: 'sound', cracked: 'ring', dark: 'worn' }[put({ kind: 'joint', pin: second }).looks]);
    case 'ohms':
      return saw(lowTo(w, second, errors));
    case 'plug':
      return saw(put({ kind: 'plug', header: second }).looks === 'as-charted' ? 'right' : 'wrong');
    case 'emitter':
      return saw(put({ kind: 'emitter', switch: second }).glows ? 'glows' : 'dark');
    case 'average':
      return saw(levelOf(w, put({ kind: 'average', line: second }).volts));
    default:
      throw new Error(`Nobody has told the simulator how to do “${test}”.`);
  }
}

/** The page offers the numbers of the chart; a number without a switch is not ticked. */
function pressesOf(chart: Chart, pressed: Of<'press'>, how: 'hand' | 'ball'): Presses {
  const { switch: number, presses, missed, others } = pressed;
  return { kind: 'presses', number, presses, missed, how, others: others.filter((n) => chart.circuit.has(n)) };
}

const active = (chart: Chart, shown: readonly string[]): Observation[] =>
  shown.filter((n) => chart.circuit.has(n)).map((number) => ({ kind: 'rest', number, reads: 'active' }));

const lookOf = (shown: readonly string[]) => (shown.length === 0 ? 'none' : shown.length > 2 ? 'row' : 'one');

/** Whether what was closed at rest still is. A normally closed switch says nothing here: unplugged, it reads as it did. */
function stays(chart: Chart, seen: Seen, shown: readonly string[]): boolean {
  const closed = seen.observations.flatMap((o) => (o.kind === 'rest' && o.reads === 'active' ? [o.number] : []));
  return closed.some((n) => chart.circuit.get(n)?.normally !== 'closed' && shown.includes(n));
}

/** The pins behind which the switch hangs; the first of each line where the chart does not say. */
function bridgeOf(chart: Chart, number: string): Extract<SimTest, { kind: 'bridge' }> {
  const [columnPin = '', rowPin = ''] = (chart.circuit.get(number)?.nets ?? []).map((net) => {
    const taps = chart.taps.get(net) ?? [];
    return (taps.find((tap) => tap.behind.includes(number)) ?? taps[0])?.pin ?? '';
  });
  return { kind: 'bridge', columnPin, rowPin };
}

/** One lead on the line, the other on ground and then along all other switch lines; one chance to err in all. */
function lowTo(w: World, line: string, errors: Errors): 'clear' | 'ground' | 'line' {
  const isLow = (lines: readonly [string] | readonly [string, string]) => {
    const saw = answer(w, { kind: 'ohms', lines }, noErrors);
    return saw.kind === 'ohms' && saw.reads !== 'clear';
  };
  const others = w.wiring.lines.flatMap(({ id, kind }) => (kind !== 'ground' && id !== line ? [id] : []));
  const found = isLow([line]) ? 'ground' : others.some((other) => isLow([line, other])) ? 'line' : 'clear';
  if (!w.random.chance(errors.result)) return found;
  return found === 'clear' ? 'line' : 'clear';
}

/** Against what the design lets one expect: the idle level less one share of the strobes. */
function levelOf(w: World, volts: number): 'strobed' | 'flat' | 'stuck' {
  const { idle, driven } = levels(w.wiring);
  const away = Math.abs((volts - idle) / (driven - idle)); // share of the time that the line seems strobed
  if (away < 0.5 / w.wiring.columns.length) return 'flat';
  return away > 0.7 ? 'stuck' : 'strobed';
}
