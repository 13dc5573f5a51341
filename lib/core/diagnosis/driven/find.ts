/** The fault finder for what is not a switch: from what loads, lamps and strings show to the likely faults and the next thing to touch. */
import type { Chart } from '../../chart/types';
import { adviceFrom, type Power } from '../advice';
import { reasonOf } from '../reason';
import type { FixCounts } from '../switch/priors';
import type { Result, Test } from '../types';
import { type Finding, judged, quietFinding } from '../verdict';
import { type Gain, type Weighed, weigh } from '../weigh';
import { clubTimes } from './club';
import type { DrivenField } from './driven-field';
import type { TimesOf, WeightOf } from './driven-parts';
import { type LampSeen, lampsField } from './lamps';
import { type LoadSeen, loadsField } from './loads';
import { weightAfter } from './priors-driven';
import { type StringSeen, stringsField } from './strings';

export interface DrivenCase<Seen> {
  seen: readonly Seen[];
  results: readonly Result[]; // of bench tests
  power?: Power; // state that the machine is in now; absent: on
  done?: readonly string[]; // what was done to the machine lately, ids of `drivenHistories`
  counts?: FixCounts; // what the club has proved on this board design
}
type FieldOf<Seen> = (chart: Chart, seen: readonly Seen[], results: readonly Result[], priors: WeightOf, times?: TimesOf) => DrivenField;

/** Coils, flashers, motors, relays. `onSwitch` is by load, `onLine` by net. */
export const findLoadFault = (chart: Chart, about: DrivenCase<LoadSeen>): Finding =>
  found(chart, about, loadsField, 'loads', 'Say what you saw: which coil, flasher or motor, and what it does.');
/** Lamps of the matrix. `onSwitch` is by lamp, `onLine` by net. */
export const findLampFault = (chart: Chart, about: DrivenCase<LampSeen>): Finding =>
  found(chart, about, lampsField, 'lamps', 'Say what you saw: which lamp, column or row, and what it shows.');
/** Strings of lamps. `onLine` is by net. */
export const findStringFault = (chart: Chart, about: DrivenCase<StringSeen>): Finding =>
  found(chart, about, stringsField, 'strings', 'Say what you saw: which string, what it shows, or the drop across a terminal.');

function found<Seen>(
  chart: Chart,
  { seen, results, power = 'on', done = [], counts = {} }: DrivenCase<Seen>,
  fieldOf: FieldOf<Seen>,
  what: 'loads' | 'lamps' | 'strings',
  ask: string,
): Finding {
  if (seen.length === 0) return quietFinding('empty', ask);
  const about = fieldOf(chart, seen, results, weightAfter(done), clubTimes(chart, what, counts));
  const { field, probes, elements, faults, notes, urgent, cleared } = about;
  if (!about.wrong || field.modes.length === 0)
    return { ...quietFinding(about.wrong ? 'open' : 'well', about.wrong ? unknown : fine, notes), cleared };
  const weighed = weigh(field, probes);
  const present = urgent ? 'off' : power;
  const reason = (test: Test, gain: Gain) => reasonOf(cleared[0] ?? '', elements, weighed, test, gain);
  const judgement = judged({
    weighed,
    modes: faults,
    elements,
    focus: field.focus,
    odd: about.odd(worthBelieving(weighed)),
    advice: () => adviceFrom(probes, weighed.gains, present, reason),
  });
  return {
    ...judgement,
    verdict: urgent ? `${urgent} ${judgement.verdict}` : judgement.verdict,
    cleared,
    notes,
    ...placed(about, weighed),
    breaks: [],
  };
}

const fine = 'Nothing wrong so far: all that you named does what it should. Say which one misbehaves.';
const unknown = 'Not enough to tell: the chart has nothing that explains it. Look at the number, and at the chart.';

const far = 0.1; // of the likeliest

/** The likeliest explanation and those not far behind it. */
const worthBelieving = ({ best: [first, ...more] }: Weighed) =>
  first ? [first, ...more.filter(({ mass }) => mass >= far * first.mass)].map(({ modes }) => modes) : [];

/** Suspicion at the load or lamp itself, and in its lines. */
function placed({ where }: DrivenField, { elements }: Weighed): Pick<Finding, 'onSwitch' | 'onLine'> {
  const onSwitch = new Map<string, number>();
  const onLine = new Map<string, number>();
  const add = (map: Map<string, number>, key: string, share: number) => map.set(key, Math.min(1, (map.get(key) ?? 0) + share));
  for (const [id, share] of elements) {
    const at = where.get(id);
    if (at && 'device' in at) add(onSwitch, at.device, share);
    else for (const net of at?.nets ?? []) add(onLine, net, share);
  }
  return { onSwitch, onLine };
}
