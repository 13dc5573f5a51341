/** What must be said of driven loads before any test, and what those that work prove. */
import type { Load } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import { listed } from '../words';
import { fuseOf, matesOf } from './load-faults';
import type { LoadSeen, Symptom } from './load-table';
import { railHazard } from './load-words';

/** The first thing to do when something burns; null when nothing does. */
export function urgentLoads(reports: readonly LoadSeen[]): string | null {
  const on = reports.filter((r) => r.shows === 'always on').map((r) => r.load);
  const smelling = reports.filter((r) => r.smells).map((r) => r.load);
  if (on.length > 0) return `Power off at once: ${listed(on)} ${on.length === 1 ? 'is' : 'are'} on by itself and burns within seconds.`;
  return smelling.length > 0 ? `Power off at once: ${listed(smelling)} smells of burning.` : null;
}

/** What must be said before any test. */
export function loadCautions(chart: Chart, reports: readonly LoadSeen[], complained: readonly Load[]): string[] {
  const which = (shows: Symptom) => reports.filter((r) => r.shows === shows).map((r) => r.load);
  const urgent = urgentLoads(reports);
  const blows = which('fuse blows');
  const again = which('driver dies again');
  const stored = [...new Set(complained.filter((l) => railHazard(chart, l.supply) === 3).map((l) => l.supply))];
  return [
    ...(urgent ? [`${urgent} Smell or smoke: plug out first, then look. Leave it off until the cause is found.`] : []),
    ...(blows.length > 0
      ? [
          'A fuse that blows points to a short, a stuck driver or a wrong rating: find it before another goes in. Same type, rating and speed, never a larger one, never foil.',
        ]
      : []),
    ...(again.length > 0
      ? [`Fit no new driver for ${listed(again)} before its winding and its flyback diode are measured: they killed the last one.`]
      : []),
    ...stored.map((supply) => {
      const { volts, storedMicrofarads, name } = chart.nets.get(supply) ?? {};
      return `${name ?? supply}: ${storedMicrofarads} µF at ${volts ?? '?'} V stay charged after the plug is out. Measure, discharge through a resistor (100 Ω–1 kΩ, 5–10 W), measure again.`;
    }),
    ...(complained.length > 0
      ? ['Behind the mains inlet, the transformer’s primary or a burnt inlet: stop, that is work for a licensed practitioner.']
      : []),
  ];
}

export const loadsUnknown = (strange: readonly string[], unplaced: readonly string[]): string[] => [
  ...(strange.length > 0 ? [`The chart has no load ${listed(strange)}: left out. Add it to the machine’s loads.`] : []),
  ...(unplaced.length > 0
    ? [`The chart does not say on which pin the supply of ${listed(unplaced)} hangs: name these loads in a chain of the supply’s pins.`]
    : []),
];

/** "F3 holds and feeds L2 and L4: they work." */
export function loadsCleared(chart: Chart, reports: readonly LoadSeen[], complained: readonly Load[]): string[] {
  const works = new Set(reports.filter((r) => r.shows === 'fires' && !r.smells).map((r) => r.load));
  const fuses = new Map(complained.map((load) => [fuseOf(chart, load), matesOf(chart, load)]));
  return [...fuses].flatMap(([fuse, mates]) => {
    const good = mates.filter((l) => works.has(l.number)).map((l) => l.number);
    return good.length > 0
      ? [`${fuse} holds, and its supply reaches ${listed(good)}: ${good.length === 1 ? 'it works' : 'they work'}.`]
      : [];
  });
}
