/**
 * Puts the fault finder's own tests to a simulated machine, and writes the answers down as a person ticks them on the page: a switch that is
 * on by itself is ticked as that and not as one that registers; another number is ticked when it comes up beside the pressed one or again
 * and again, not when it was read once in its place.
 */
import type { Chart } from '@/lib/core/chart';
import type { Observation, Result, Seen } from '@/lib/core/diagnosis';
import { answer } from './bench';
import type { Complaint } from './complaint';
import { type Errors, noErrors, errors as usual } from './errors';
import { levels } from './solve';
import type { SimOutcome, SimTest } from './types';
import type { World } from './world';

/** The answer to a kind of question; some kinds share one shape. */
type Of<K extends SimOutcome['kind'], O = SimOutcome> = O extends { kind: infer J } ? (K extends J ? O : never) : never;
type Presses = Extract<Observation, { kind: 'presses' }>;
type Lead = Extract<SimTest, { kind: 'bridge' | 'jumper' | 'jumper-diode' }>;
/** What is ticked: something seen at switches, the outcome of a bench test, or both. */
export interface Ticked {
  observations: readonly Observation[];
  result?: Result;
}

/** What somebody says first. The screen at rest was looked at, so its test is done. */
export function toldFirst(chart: Chart, { pressed, rest, held }: Complaint): Seen {
  const observations: Observation[] = active(chart, rest);
  if (pressed && !(pressed.missed === 0 && rest.includes(pressed.switch))) {
    const { missed, presses, others } = pressed;
    const slip = missed < presses && others.length <= missed;
    observations.unshift({
      kind: 'presses',
      number: pressed.switch,
      presses,
      missed,
      how: 'hand',
      others: slip ? [] : others,
    });
  }
  // In the order of the numbers: the complaint's own order would give the culprit away.
  if (held) observations.push({ kind: 'hold', held: [...held.switches].sort(), shown: held.shown });
  return { observations, results: rest.length === 0 ? [{ test: 'rest', saw: 'none' }] : [], done: [] };
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
    case 'ball':
      return press(w, seen, { number: second, times: Number(third), how: first === 'ball' ? 'ball' : 'hand' }, errors);
    case 'rest': {
      const { shown } = put({ kind: 'rest' });
      const cleared = onByItself(seen).filter((n) => !shown.includes(n));
      return { observations: [...active(chart, shown), ...cleared.map(quiet)], result: { test, saw: lookOf(shown) } };
    }
    case 'all':
      return saw(stays(chart, seen, put({ kind: 'unplugged-rest' }).shown) ? 'stays' : 'clear');
    case 'bridge':
    case 'jumper': {
      const question: Lead =
        first === 'bridge' ? bridgeOf(chart, last) : { kind: second === 'with' ? 'jumper-diode' : 'jumper', switch: last };
      const stays = watched(() => (put(question, noErrors).registers ? 'shows' : 'nothing'), 'shows');
      return saw(slipped(w, errors) ? (stays === 'shows' ? 'nothing' : 'shows') : stays);
    }
    case 'continuity': {
      const question = { kind: 'continuity', pin: second, switch: third, from: 'terminal' } as const;
      const reads = watched(() => (put(question, noErrors).good ? 'good' : 'open'), 'good');
      return saw(slipped(w, errors) ? (reads === 'good' ? 'open' : 'good') : reads);
    }
    case 'diode': {
      const reads = watched(() => put({ kind: 'diode', switch: second }, noErrors).reads, 'good');
      const ticked = { good: 'good', open: 'open', short: 'low', odd: 'low', reversed: 'turned' }[reads];
      return saw(slipped(w, errors) ? (reads === 'good' ? 'open' : 'good') : ticked);
    }
    case 'wiggle':
      return saw(
        { steady: 'held', 'drops-out': 'dropped', 'never-registers': 'never' }[put({ kind: 'wiggle', pin: second, switch: third }).saw],
      );
    case 'joint':
      return saw({ sound: 'sound', cracked: 'ring', dark: 'worn' }[put({ kind: 'joint', pin: second }).looks]);
    case 'parted':
      return saw({ sound: 'sound', dark: 'worn' }[put({ kind: 'parted', pin: second }).looks]);
    case 'ohms':
      return saw(lowTo(w, second, errors));
    case 'ground':
      return saw(put({ kind: 'middle', switch: second }).reads === 'short' ? 'ground' : 'clear');
    case 'plug':
      return saw(plugLooks[put({ kind: 'plug', header: second }).looks]);
    case 'emitter':
      return saw(put({ kind: 'emitter', switch: second }).glows ? 'glows' : 'dark');
    case 'average':
      return saw(levelOf(w, put({ kind: 'average', line: second }).volts));
    default:
      throw new Error(`Nobody has told the simulator how to do “${test}”.`);
  }
}

const plugLooks = {
  'as-charted': 'right',
  unplugged: 'loose',
  shifted: 'over',
  turned: 'turned',
  elsewhere: 'elsewhere',
  'plugs-exchanged': 'exchanged',
  exchanged: 'order',
} as const;

const slipped = (w: World, errors: Errors) => w.random.chance(errors.result);

/** Somebody who raps beside the thing, or moves the wire, sees several moments of it; the first that is not sound is told. */
function watched<T>(look: () => T, sound: T): T {
  for (let i = 0; i < moments; i++) {
    const now = look();
    if (now !== sound) return now;
  }
  return sound;
}
const moments = 5;

/** Presses one by one, so that it is known how often another number came up. */
function press(
  w: World,
  seen: Seen,
  { number, times, how }: { number: string; times: number; how: 'hand' | 'ball' },
  errors: Errors,
): Ticked {
  const observations: Observation[] = [];
  if (onByItself(seen).includes(number)) {
    // Whoever goes to press it sees whether it is on before a finger touches it.
    const look = answer(w, { kind: 'rest' }, noErrors);
    if (look.kind === 'rest' && look.shown.includes(number)) return { observations };
    observations.push(quiet(number));
  }
  let missed = 0;
  const cameUp = new Map<string, number>();
  for (let i = 0; i < times; i++) {
    const saw = answer(w, { kind: 'press', switch: number, times: 1, how }, errors) as Of<'press'>;
    missed += saw.missed;
    for (const other of saw.others) cameUp.set(other, (cameUp.get(other) ?? 0) + 1);
  }
  const others = how === 'ball' ? [] : [...cameUp].flatMap(([n, often]) => (often > 1 ? [n] : [])).sort();
  return { observations: [...observations, { kind: 'presses', number, presses: times, missed, how, others }] };
}

/** Only a switch of the chart can be said to be on by itself. */
const known = (chart: Chart, numbers: readonly string[]) => numbers.filter((n) => chart.circuit.has(n));
const quiet = (number: string): Observation => ({ kind: 'rest', number, reads: 'inactive' });
const onByItself = (seen: Seen) => seen.observations.flatMap((o) => (o.kind === 'rest' && o.reads === 'active' ? [o.number] : []));

const active = (chart: Chart, shown: readonly string[]): Observation[] =>
  known(chart, shown).map((number) => ({ kind: 'rest', number, reads: 'active' }));

const lookOf = (shown: readonly string[]) => (shown.length === 0 ? 'none' : shown.length > 2 ? 'row' : 'one');

/** Whether what was closed at rest still is. A normally closed switch says nothing here: unplugged, it reads as it did. */
function stays(chart: Chart, seen: Seen, shown: readonly string[]): boolean {
  return onByItself(seen).some((n) => chart.circuit.get(n)?.normally !== 'closed' && shown.includes(n));
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
    return saw.kind === 'ohms' && saw.reads === 'short';
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
