/** Bench tests of lamp strings, with the values that are good. */
import type { Illumination } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import { listed } from '../words';
import { seatWords } from './driven-parts';
import { perChart } from './per-chart';
import { type Harm, hearing, suffers, type Trial } from './scenes';
import { besideOf, legsOf, pinsOf, stringFuse } from './string-faults';
import { type Drop, dropChance, drops, type StringHarm, type StringSymptom, stringLooks, stringSymptom } from './string-table';
import { connectorLooks, inspection, trialOf } from './trials';

type StringTrial = Trial<StringHarm>;

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

/** The tests of one string. Those not worth their time are read, not offered. */
export const stringTrials = (chart: Chart, string: Illumination, shows: StringSymptom): StringTrial[] =>
  allTrials(chart, string).map((t) => ({ ...t, offered: worth[shows].includes(t.id.split(' ')[0] ?? '') }));

const allTrials = perChart(trialsAt, ({ id }) => id);

function trialsAt(chart: Chart, string: Illumination): StringTrial[] {
  const { id, volts = chart.nets.get(string.net)?.volts } = string;
  const nature = (string.supply ?? chart.nets.get(string.net)?.supply) === 'dc' ? 'd.c.' : 'a.c.';
  const fuse = stringFuse(chart, string);
  const has = (harms: readonly Harm<StringHarm>[], does: StringHarm) => suffers(harms, does, id);
  const hears = (...does: StringHarm[]) => hearing([id], ...does);
  const pins = pinsOf(chart, string);
  const trials: StringTrial[] = [
    trialOf<StringHarm, 'whole' | 'blown'>(
      {
        id: `fuse ${id}`,
        title: `Mains plug out: take ${fuse} out and measure ohms. Good: under 1 Ω.`,
        minutes: 1.5,
        power: 'off',
        hazard: 0,
        labels: { whole: 'under 1 Ω', blown: 'open' },
        hears: hears('fuse-open', 'shorted'),
      },
      (harms) => (has(harms, 'fuse-open') || has(harms, 'shorted') ? 'blown' : 'whole'),
    ),
    inspection<StringHarm>(
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
        hears: hears('clip-high'),
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
        hears: hearing<StringHarm>([id, ...pins], ...stringLooks, ...atPins),
      },
      (harms) => headerVolts(harms, id, pins),
    ),
    trialOf<StringHarm, 'step' | 'even'>(
      {
        id: `touch ${id}`,
        title: `Low voltage on: volts ${nature} across socket after socket of ${id}. Good: the same at all; a step shows the bad piece of bus.`,
        minutes: 3,
        power: 'on',
        hazard: 1,
        labels: { step: 'a step at one socket', even: 'the same at all' },
        hears: hears('dark-beyond', 'dim-beyond'),
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
        hears: hears('lamp-dead'),
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
        hears: hears('shorted'),
      },
      (harms) => (has(harms, 'shorted') ? 'short' : 'clear'),
    ),
    ...legsOf(chart, string).flatMap((leg) => leg.pins.flatMap((tap) => pinTrials(id, nature, tap.pin, besideOf(leg, tap)))),
  ];
  return trials;
}

const atPins = ['terminal-high', 'terminal-open', 'joint-high', 'joint-open'] as const;

function headerVolts(harms: readonly Harm<StringHarm>[], id: string, pins: readonly string[]): 'good' | 'low' | 'none' {
  if (suffers(harms, 'fuse-open', id) || suffers(harms, 'shorted', id)) return 'none';
  const atPin = pins.some((p) => atPins.some((d) => suffers(harms, d, p)));
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
  const atAny = hearing<StringHarm>([pin, ...beside], ...atPins);
  const atString = hearing<StringHarm>([id], 'fuse-open', 'dark');
  const hears = (h: Harm<StringHarm>) => [...atAny(h), ...atString(h)];
  const drop = (spot: 'terminal' | 'joint', test: string, where: string): StringTrial => ({
    id: `${test} ${pin}`,
    title: `${id} lit, low voltage: millivolts ${nature} ${where}. Good: under 20 mV at 1 A.${compare}`,
    minutes: 1,
    power: 'on',
    hazard: 1,
    outcomes,
    offered: true,
    hears,
    shows: (harms) => dropChance(harms, spot, pin, id, beside),
  });
  return [
    drop('terminal', 'drop', `from the wire to the pin at ${seatWords(pin)}`),
    drop('joint', 'joint-drop', `from pin ${pin} to the track behind its joint`),
    ...connectorLooks<StringHarm>(pin, 'mark'),
  ];
}
