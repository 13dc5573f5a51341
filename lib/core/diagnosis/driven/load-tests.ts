/** Bench tests of driven loads, with the values that are good. */
import type { Load } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import type { Test } from '../types';
import { seatWords } from './driven-parts';
import { driverName, hasDiode } from './load-faults';
import {
  circuitOf,
  coilOhmsOf,
  diodeOf,
  junctionsOf,
  type LoadCircuit,
  type LoadHarm,
  onAlone,
  passes,
  type Reading,
  readings,
  readingsOf,
  type Symptom,
  symptoms,
  symptomsOf,
} from './load-table';
import { aboutVolts, offWords, ohmsWords, railHazard } from './load-words';
import { perChart } from './per-chart';
import { blurred, type Harm, type Hears, hearing, slip, type Trial } from './scenes';
import { loadSymptoms } from './symptoms';
import { connectorLooks, inspection, trialOf } from './trials';

const feeds = ['feed-cut', 'fuse-blown', 'holder-cut', 'supply-cut'] as const;
const carries = ['winding-open', 'flyback-shorted', 'flyback-reversed', 'shorted'] as const;
const sinks = ['driver-cut', 'driver-on', 'drive-on'] as const;
const atRest = [...feeds, ...carries, ...sinks, 'return-cut', 'return-grounded'] as const;
type Predict = (harms: readonly Harm<LoadHarm>[]) => LoadCircuit;
type LoadTrial = Trial<LoadHarm>;
/** Which tests are worth their time, by what is wrong. A load that is on by itself must not be left powered for a measurement. */
const worth: Record<Symptom, readonly string[]> = {
  fires: [],
  dead: [
    'volts-a',
    'volts-b',
    'volts-d',
    'tab',
    'coil',
    'driver',
    'drive',
    'lamp',
    'continuity',
    'lugs',
    'look-joint',
    'look-terminal',
    'diode',
    'band',
  ],
  weak: ['sag', 'coil', 'stroke', 'look-joint', 'look-terminal'],
  'always on': ['unplug-return', 'driver', 'ground'],
  'fuse blows': ['coil', 'driver', 'ground', 'diode', 'band', 'stroke'],
  'driver dies again': ['coil', 'diode', 'band', 'ground', 'stroke'],
};

/** "none" and "low" are both next to nothing on a meter, so one is often read for the other. */
const nearZero = 0.15;
export function readingChance(predicted: Reading): number[] {
  if (predicted === 'supply') return readings.map((r) => blurred(r === 'supply' ? 1 : 0, readings.length));
  return readings.map((r) => (r === 'supply' ? slip : r === predicted ? 1 - slip - nearZero : nearZero));
}

export function symptomChance(c: LoadCircuit): number[] {
  const shares = symptomsOf(c);
  return symptoms.map((s) => blurred(shares[s] ?? 0, symptoms.length));
}

/** What a load does depends on all that is done to it. */
export const hearsLoad =
  (number: string): Hears<LoadHarm> =>
  (h) =>
    h.does !== 'mark' && h.on.includes(number) ? [number] : [];

/** Firing another load. */
export const mateTrial = perChart(
  (_, load: Load) => mateOf(load),
  ({ number }) => number,
);

function mateOf({ number, name }: Load): LoadTrial {
  const title = `Hands clear: fire ${number} ${name} in the coil test.`;
  const shows = (harms: readonly Harm<LoadHarm>[]) => symptomChance(circuitOf(harms, number));
  return {
    id: `mate ${number}`,
    title,
    minutes: 0.3,
    power: 'on',
    hazard: 1,
    outcomes: loadSymptoms,
    offered: true,
    shows,
    hears: hearsLoad(number),
  };
}

const readingLabels = (volts: string) => ({ supply: volts, low: 'under 1 V', none: 'nothing' });

/** The tests of one load that is complained of. Those not worth their time are read, not offered. */
export const loadTrials = (chart: Chart, load: Load, shows: Symptom): LoadTrial[] =>
  allTrials(chart, load).map((trial) => ({ ...trial, offered: worth[shows].includes(trial.id.split(' ')[0] ?? '') }));

const allTrials = perChart(trialsAt, ({ number }) => number);

function trialsAt(chart: Chart, load: Load): LoadTrial[] {
  const { number, supply } = load;
  const at: Predict = (harms) => circuitOf(harms, number);
  const hears = (...does: LoadHarm[]) => hearing([number], ...does);
  const volts = aboutVolts(chart, load);
  const off = { power: 'unplugged', hazard: railHazard(chart, supply) } as const;
  const live = { power: 'on', hazard: 2, offered: true } as const;
  const pin = chart.taps.get(load.net)?.[0]?.pin;
  const plug = pin ? seatWords(pin) : `the return wire of ${number}`;
  const driver = driverName(chart, load);
  const before = offWords(chart, supply);
  const rail = `Load rail live, one hand, ${number} not fired: volts from ground to`;
  const reading = (spot: 'a' | 'b' | 'd', place: string): LoadTrial => ({
    ...live,
    id: `volts-${spot} ${number}`,
    title: `${rail} ${place}. Good: ${volts}.`,
    minutes: 1,
    outcomes: readings.map((id) => ({ id, label: readingLabels(volts)[id] })),
    hears: spot === 'a' ? hears(...feeds) : hears(...atRest),
    shows: (harms) => readingChance(readingsOf(at(harms))[spot]),
  });
  return [
    reading('a', `the supply lug of ${number}`),
    reading('b', `the return lug of ${number}`),
    reading('d', `${driver} at ${plug}`),
    trialOf<LoadHarm, 'fires' | 'nothing'>(
      {
        ...live,
        id: `tab ${number}`,
        title: `Load rail live: ground ${driver} at ${plug} for a moment through a 10 W test resistor or a lamp, never by bare wire. Good: ${number} moves or the lamp lights.`,
        minutes: 2,
        labels: { fires: 'moves', nothing: 'nothing' },
        hears: hears(...feeds, ...carries, 'return-cut'),
      },
      (harms) => (passes(at(harms)) ? 'fires' : 'nothing'),
    ),
    trialOf<LoadHarm, 'on' | 'off'>(
      {
        power: 'on',
        hazard: 2,
        id: `unplug-return ${number}`,
        title: `Power off, unplug ${plug}; power on for two seconds at most, then off. Good: ${number} stays off.`,
        minutes: 2,
        labels: { off: 'stays off', on: 'still on' },
        hears: hears(...feeds, ...carries, 'return-grounded'),
      },
      (harms) => {
        const c = at(harms);
        return c.grounded && onAlone(c) ? 'on' : 'off';
      },
    ),
    trialOf<LoadHarm, 'good' | 'short' | 'open'>(
      {
        ...off,
        id: `coil ${number}`,
        title: `${before}lift one lead of ${number} with its diode and measure ohms. Good: ${ohmsWords(load)}.`,
        minutes: 4,
        labels: { good: 'as it should be', short: 'under 70 %', open: 'open' },
        hears: hears('winding-open', 'turns', 'shorted'),
      },
      (harms) => coilOhmsOf(at(harms)),
    ),
    trialOf<LoadHarm, 'good' | 'short' | 'open'>(
      {
        power: 'off',
        hazard: off.hazard,
        id: `driver ${number}`,
        title: `${before}test the junctions of ${driver} in the diode range. Good: 0.4–0.75 V one way, none below 0.1 V.`,
        minutes: 3,
        labels: { good: 'good', short: 'shorted', open: 'open' },
        hears: hears('driver-cut', 'driver-on'),
      },
      (harms) => junctionsOf(at(harms)),
    ),
    trialOf<LoadHarm, 'pulses' | 'dead' | 'holds'>(
      {
        ...live,
        id: `drive ${number}`,
        title: `Load rail live beside it: logic probe on the input of ${driver} while ${number} is fired in test. Good: it changes with each command.`,
        minutes: 2,
        labels: { pulses: 'changes', dead: 'stays off', holds: 'stays on' },
        hears: hears('drive-cut', 'drive-on'),
      },
      (harms) => (at(harms).does('drive-cut') ? 'dead' : at(harms).does('drive-on') ? 'holds' : 'pulses'),
    ),
    trialOf<LoadHarm, 'flashes' | 'steady' | 'dark'>(
      {
        ...live,
        id: `lamp ${number}`,
        title: `Power off, put a test lamp in the place of ${number}; power on and fire it. Good: it flashes on command.`,
        minutes: 4,
        labels: { flashes: 'flashes', steady: 'lit all the time', dark: 'dark' },
        hears: hears(...feeds, ...sinks, 'drive-cut', 'return-cut', 'return-grounded'),
      },
      (harms) => {
        const c = at(harms);
        if (!c.fed) return 'dark';
        if (c.grounded || (c.whole && c.sinking)) return 'steady';
        return c.whole && c.obeys ? 'flashes' : 'dark';
      },
    ),
    trialOf<LoadHarm, 'clear' | 'short'>(
      {
        ...off,
        id: `ground ${number}`,
        title: `${before}unplug ${plug}, lift the return lug of ${number}: ohms from that wire to ground. Good: over 100 kΩ.`,
        minutes: 3,
        labels: { clear: 'over 100 kΩ', short: 'under 10 Ω' },
        hears: hears('return-grounded'),
      },
      (harms) => (at(harms).grounded ? 'short' : 'clear'),
    ),
    trialOf<LoadHarm, 'good' | 'open'>(
      {
        ...off,
        id: `continuity ${number}`,
        title: `${before}ohms from ${pin ?? driver} on the board through ${plug} to the return lug of ${number}. Good: under 1 Ω, steady.`,
        minutes: 4,
        labels: { good: 'under 1 Ω', open: 'open or jumping' },
        hears: hears('return-cut'),
      },
      (harms) => (at(harms).whole ? 'good' : 'open'),
    ),
    trialOf<LoadHarm, 'holds' | 'sags'>(
      {
        ...live,
        id: `sag ${number}`,
        title: `Load rail live: volts at the supply lug of ${number} while it and a mate are fired. Good: it stays near ${volts}.`,
        minutes: 2,
        labels: { holds: 'stays up', sags: 'sags' },
        hears: hears('supply-weak'),
      },
      (harms) => (at(harms).weak ? 'sags' : 'holds'),
    ),
    ...diodeTrials(load, at, off, before),
    ...strokeTrials(load),
    ...lookTrials(chart, load),
  ];
}

function diodeTrials(load: Load, at: Predict, off: Pick<Test, 'power' | 'hazard'>, before: string): LoadTrial[] {
  if (!hasDiode(load)) return [];
  const { number } = load;
  const where = load.flyback === 'on the board' ? 'on the board' : 'at the coil';
  return [
    trialOf<LoadHarm, 'good' | 'short' | 'open' | 'reversed'>(
      {
        ...off,
        id: `diode ${number}`,
        title: `${before}lift one lead of the flyback diode of ${number} ${where}; diode range both ways. Good: 0.5–0.7 V one way, OL the other, band to the supply lug.`,
        minutes: 5,
        labels: { good: 'good', short: 'both ways near 0', open: 'OL both ways', reversed: 'good but turned round' },
        hears: hearing<LoadHarm>([number], 'flyback-shorted', 'flyback-reversed', 'flyback-open'),
      },
      (harms) => diodeOf(at(harms)),
    ),
    trialOf<LoadHarm, 'right' | 'wrong'>(
      {
        power: 'off',
        hazard: 0,
        error: 0.05,
        id: `band ${number}`,
        title: `Mains plug out, eyes only: see which end of the flyback diode of ${number} has the band. Good: at the supply lug.`,
        minutes: 0.5,
        labels: { right: 'at the supply lug', wrong: 'at the return lug' },
        hears: hearing<LoadHarm>([number], 'flyback-reversed'),
      },
      (harms) => (at(harms).does('flyback-reversed') ? 'wrong' : 'right'),
    ),
  ];
}

function strokeTrials({ number, windings }: Load): LoadTrial[] {
  if (windings !== 'double') return [];
  const title = `Mains plug out: look at the end-of-stroke contact of ${number} and move the plunger by hand. Good: closed at rest, bright, opens by a hair at the end.`;
  return [
    inspection<LoadHarm>({ id: `stroke ${number}`, title, minutes: 2, sound: 'as it should be', bad: 'pitted or wrong' }, 'mark', [
      `stroke ${number}`,
    ]),
  ];
}

/** What an inspection of this load's parts can see. */
export const lugsOf = (number: string): string[] => ['supply lug', 'winding lead', 'return lug'].map((id) => `${id} ${number}`);

function lookTrials(chart: Chart, { number, net }: Load): LoadTrial[] {
  const pins = (chart.taps.get(net) ?? []).map((tap) => tap.pin);
  const lugs = `Mains plug out, eyes and a wooden stick: look at the lugs of ${number} and move each wire. Good: nothing moves or has come off.`;
  return [
    inspection<LoadHarm>(
      { id: `lugs ${number}`, title: lugs, minutes: 1, sound: 'all firm', bad: 'one is off or loose' },
      'mark',
      lugsOf(number),
    ),
    ...pins.flatMap((pin) => connectorLooks<LoadHarm>(pin, 'mark')),
  ];
}
