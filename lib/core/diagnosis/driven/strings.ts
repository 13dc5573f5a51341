/** The fault finder's field for strings of lamps at low voltage a.c. (general illumination). */
import type { Illumination } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import type { Result } from '../types';
import { listed } from '../words';
import { faultList, onlyOn, seatWords, type WeightOf } from './driven-parts';
import type { DrivenField } from './loads';
import { fieldOf, type Harm, inUse, type Look, suffers, type Trial } from './scenes';
import { besideOf, legsOf, stringFaults, stringFuse } from './string-faults';
import {
  type Drop,
  dropChance,
  dropOf,
  drops,
  heatWatts,
  type StringHarm,
  type StringSymptom,
  stringChance,
  stringSymptom,
  stringSymptoms,
} from './string-table';
import { connectorLooks, inspection, trialOf } from './trials';

export type StringSeen =
  | { kind: 'string'; string: string; shows: StringSymptom }
  /** Drop across a terminal, from the wire to its pin, the string lit. */
  | { kind: 'drop'; pin: string; millivolts: number };
type StringTrial = Trial<StringHarm>;

/** Everything that can explain what the strings show, and the tests that would tell. */
export function stringsField(chart: Chart, seen: readonly StringSeen[], results: readonly Result[], priors: WeightOf): DrivenField {
  const shows = new Map(seen.flatMap((s) => (s.kind === 'string' ? [[s.string, s.shows] as const] : [])));
  const measured = seen.flatMap((s): Result[] => (s.kind === 'drop' ? [{ test: `drop ${s.pin}`, saw: dropOf(s.millivolts) }] : []));
  const all = [...measured, ...results];
  const asked = new Set(all.map((r) => r.test.split(' ')[1] ?? ''));
  const strings = chart.illumination.filter((s) => shows.has(s.id) || asked.has(s.id) || pinsOf(chart, s).some((p) => asked.has(p)));
  const trials = inUse(
    [...new Map(strings.flatMap((s) => trialsOf(chart, s, shows.get(s.id) ?? 'lit')).map((t) => [t.id, t])).values()],
    all,
  );

  const names = new Set([...strings.map((s) => s.id), ...strings.flatMap((s) => pinsOf(chart, s))]);
  const marks = new Set(trials.flatMap((t) => t.inspects ?? []));
  const measures = trials.some((t) => t.id.startsWith('drop ') || t.id.startsWith('joint-drop '));
  const concerns = (h: Harm<StringHarm>): Harm<StringHarm>[] => {
    if (h.does === 'mark') return onlyOn(h, marks);
    if (!measures && (h.does.startsWith('terminal') || h.does.startsWith('joint'))) return [];
    return onlyOn(h, names);
  };
  const list = faultList<StringHarm>(
    concerns,
    (h) => !['mark', 'terminal-high', 'terminal-open', 'joint-high', 'joint-open'].includes(h.does),
  );
  for (const string of strings) stringFaults(list, chart, priors, string, (shows.get(string.id) ?? 'lit') !== 'lit' || asked.size > 0);
  const looks = [...shows]
    .filter(([string]) => strings.some((s) => s.id === string))
    .map(
      ([string, symptom]): Look<StringHarm> =>
        (harms) =>
          stringChance(harms, string)[stringSymptoms.indexOf(symptom)] ?? 0,
    );
  const { field, probes, notes } = fieldOf({ faults: list.faults, looks, trials, results: all, focus: (e) => list.focus.has(e) });
  const strange = [...shows.keys()].filter((id) => !chart.illumination.some((s) => s.id === id));
  return { field, probes, elements: list.elements, notes: [...cautions(chart, seen, strings), ...strangeNotes(strange), ...notes] };
}

const pinsOf = (chart: Chart, string: Illumination): string[] => legsOf(chart, string).flatMap((leg) => leg.pins.map((p) => p.pin));

/** Which tests are worth their time, by what the string shows. */
const worth: Record<StringSymptom, readonly string[]> = {
  lit: [],
  dark: ['fuse', 'clip', 'header-volts', 'drop', 'look-terminal', 'look-joint'],
  dim: ['clip', 'clip-drop', 'header-volts', 'drop', 'joint-drop', 'look-terminal', 'look-joint'],
  flickers: ['clip', 'drop', 'joint-drop', 'look-terminal', 'look-joint', 'touch'],
  'dark beyond one socket': ['touch'],
  'dim beyond one socket': ['touch'],
  'one dark': ['bulb'],
  'fuse blows': ['short', 'fuse'],
};

function trialsOf(chart: Chart, string: Illumination, shows: StringSymptom): StringTrial[] {
  const { id, volts = chart.nets.get(string.net)?.volts } = string;
  const nature = (string.supply ?? chart.nets.get(string.net)?.supply) === 'dc' ? 'd.c.' : 'a.c.';
  const fuse = stringFuse(chart, string);
  const has = (harms: readonly Harm<StringHarm>[], does: StringHarm) => suffers(harms, does, id);
  const trials: StringTrial[] = [
    trialOf<StringHarm, 'whole' | 'blown'>(
      {
        id: `fuse ${id}`,
        title: `Mains plug out: take ${fuse} out and measure ohms. Good: under 1 Ω.`,
        minutes: 1.5,
        power: 'off',
        hazard: 0,
        labels: { whole: 'under 1 Ω', blown: 'open' },
      },
      (harms) => (has(harms, 'fuse-open') || has(harms, 'shorted') ? 'blown' : 'whole'),
    ),
    inspection(
      {
        id: `clip ${id}`,
        title: `Mains plug out: look at the clips of ${fuse}. Good: bright, tight, not brown.`,
        minutes: 1,
        sound: 'tight',
        bad: 'slack or brown',
      },
      'mark',
      [`clip ${id}`],
    ),
    trialOf<StringHarm, 'under 100' | 'over 100'>(
      {
        id: `clip-drop ${id}`,
        title: `${id} lit: millivolts ${nature} from each clip of ${fuse} to its cap. Good: under 20 mV.`,
        minutes: 1.5,
        power: 'on',
        hazard: 1,
        labels: { 'under 100': 'under 100 mV', 'over 100': 'over 100 mV' },
      },
      (harms) => (has(harms, 'clip-high') ? 'over 100' : 'under 100'),
    ),
    trialOf<StringHarm, 'good' | 'low' | 'none'>(
      {
        id: `header-volts ${id}`,
        title: `Low voltage on: volts ${nature} between the two legs of ${id} on the board’s side of its header. Good: ${volts ? `about ${volts} V` : 'as the chart says'}.`,
        minutes: 1,
        power: 'on',
        hazard: 1,
        labels: { good: 'as it should be', low: 'low', none: 'nothing' },
      },
      (harms) => headerVolts(harms, id, pinsOf(chart, string)),
    ),
    trialOf<StringHarm, 'step' | 'even'>(
      {
        id: `touch ${id}`,
        title: `Low voltage on: volts ${nature} across socket after socket of ${id}. Good: the same at all; a step shows the bad piece of bus.`,
        minutes: 3,
        power: 'on',
        hazard: 1,
        labels: { step: 'a step at one socket', even: 'the same at all' },
      },
      (harms) => (has(harms, 'dark-beyond') || has(harms, 'dim-beyond') ? 'step' : 'even'),
    ),
    trialOf<StringHarm, 'cured' | 'same'>(
      {
        id: `bulb ${id}`,
        title: `Put a lamp that is known to be good in the dark socket of ${id}. Let the old one cool first.`,
        minutes: 1,
        power: 'off',
        hazard: 0,
        labels: { cured: 'lights', same: 'still dark' },
      },
      (harms) => (has(harms, 'lamp-dead') ? 'cured' : 'same'),
    ),
    trialOf<StringHarm, 'clear' | 'short'>(
      {
        id: `short ${id}`,
        title: `Mains plug out, plug of ${id} off, all its lamps out: ohms between its two legs and from each to the frame. Good: over 100 kΩ.`,
        minutes: 6,
        power: 'unplugged',
        hazard: 0,
        labels: { clear: 'over 100 kΩ', short: 'under 10 Ω' },
      },
      (harms) => (has(harms, 'shorted') ? 'short' : 'clear'),
    ),
    ...legsOf(chart, string).flatMap((leg) => leg.pins.flatMap((tap) => pinTrials(id, nature, tap.pin, besideOf(leg, tap)))),
  ];
  return trials.map((t) => ({ ...t, offered: worth[shows].includes(t.id.split(' ')[0] ?? '') }));
}

function headerVolts(harms: readonly Harm<StringHarm>[], id: string, pins: readonly string[]): 'good' | 'low' | 'none' {
  if (suffers(harms, 'fuse-open', id) || suffers(harms, 'shorted', id)) return 'none';
  const atPin = pins.some((p) =>
    (['terminal-high', 'terminal-open', 'joint-high', 'joint-open'] as const).some((d) => suffers(harms, d, p)),
  );
  if (atPin) return 'good'; // the board's side of the header is before it
  const symptom = stringSymptom(harms, id);
  return symptom === 'dark' ? 'none' : symptom === 'dim' ? 'low' : 'good';
}

const dropLabels: Record<Drop, string> = {
  'under 20': 'under 20 mV, good',
  '20 to 100': '20–100 mV, watch',
  '100 to 250': '100–250 mV, suspect',
  'over 250': 'over 250 mV, remake now',
};

function pinTrials(id: string, nature: string, pin: string, beside: readonly string[]): StringTrial[] {
  const outcomes = drops.map((d) => ({ id: d, label: dropLabels[d] }));
  const compare = beside.length > 0 ? ` Compare with ${listed(beside)}.` : '';
  const drop = (spot: 'terminal' | 'joint', test: string, where: string): StringTrial => ({
    id: `${test} ${pin}`,
    title: `${id} lit, low voltage: millivolts ${nature} ${where}. Good: under 20 mV at 1 A.${compare}`,
    minutes: 1,
    power: 'on',
    hazard: 1,
    outcomes,
    offered: true,
    shows: (harms) => dropChance(harms, spot, pin, id, beside),
  });
  return [
    drop('terminal', 'drop', `from the wire to the pin at ${seatWords(pin)}`),
    drop('joint', 'joint-drop', `from pin ${pin} to the track behind its joint`),
    ...connectorLooks<StringHarm>(pin, 'mark'),
  ];
}

function cautions(chart: Chart, seen: readonly StringSeen[], strings: readonly Illumination[]): string[] {
  const hot = seen.flatMap((s) => (s.kind === 'drop' && s.millivolts >= 100 ? [s] : []));
  return [
    ...hot.map(({ pin, millivolts }) => {
      const net = chart.nets.get(chart.pins.get(pin)?.net ?? '');
      const sharing = chart.taps.get(net?.id ?? '')?.filter((t) => t.header === chart.pins.get(pin)?.header).length ?? 1;
      const heat = net?.amps ? ` It makes about ${heatWatts(millivolts, net.amps / Math.max(1, sharing)).toFixed(2)} W.` : '';
      return `${pin} drops ${millivolts} mV: ${millivolts >= 250 ? 'remake it now' : 'suspect, plan to remake it'}.${heat}`;
    }),
    ...(seen.some((s) => s.kind === 'string' && s.shows === 'fuse blows')
      ? ['A fuse that blows points to a short: find it first. Same type, rating and speed, never a larger one, never foil.']
      : []),
    ...(strings.length > 0
      ? [
          'Lamps and string terminals are hot: a thermometer, never a finger.',
          'The transformer’s primary is mains: a scorched transformer or a fault before the secondary’s fuse is work for a licensed practitioner.',
        ]
      : []),
  ];
}

const strangeNotes = (strange: readonly string[]): string[] =>
  strange.length > 0 ? [`The chart has no string ${listed(strange)}: left out. Add it to the machine’s illumination.`] : [];
