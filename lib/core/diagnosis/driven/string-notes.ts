/** What must be said of lamp strings before any test, and what a good drop proves. */
import type { Illumination } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import { listed } from '../words';
import { dropOf, heatWatts, remakeFrom, type StringSeen, suspectFrom } from './string-table';

/** The first thing to do when something burns; null when nothing does. */
export function urgentStrings(seen: readonly StringSeen[]): string | null {
  const smelling = seen.flatMap((s) => (s.kind === 'string' && s.smells ? [s.string] : []));
  return smelling.length > 0 ? `Power off at once: ${listed(smelling)} smells of burning.` : null;
}

export function stringCautions(chart: Chart, seen: readonly StringSeen[], strings: readonly Illumination[]): string[] {
  const hot = seen.flatMap((s) => (s.kind === 'drop' && s.millivolts >= suspectFrom ? [s] : []));
  const urgent = urgentStrings(seen);
  return [
    ...(urgent ? [`${urgent} Plug out first, then look. Leave it off until the cause is found.`] : []),
    ...hot.map(({ pin, millivolts }) => {
      const net = chart.nets.get(chart.pins.get(pin)?.net ?? '');
      const sharing = chart.taps.get(net?.id ?? '')?.filter((t) => t.header === chart.pins.get(pin)?.header).length ?? 1;
      const heat = net?.amps ? ` It makes about ${heatWatts(millivolts, net.amps / Math.max(1, sharing)).toFixed(2)} W.` : '';
      return `${pin} drops ${millivolts} mV: ${millivolts >= remakeFrom ? 'remake it now' : 'suspect, plan to remake it'}.${heat}`;
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

export const stringsUnknown = (strange: readonly string[]): string[] =>
  strange.length > 0 ? [`The chart has no string ${listed(strange)}: left out. Add it to the machine’s illumination.`] : [];

/** "A1J5-1 drops 8 mV: its terminal is good." */
export const stringsCleared = (seen: readonly StringSeen[]): string[] =>
  seen.flatMap((s) =>
    s.kind === 'drop' && s.millivolts < suspectFrom
      ? [`${s.pin} drops ${s.millivolts} mV: ${dropOf(s.millivolts) === 'under 20' ? 'its terminal is good' : 'watch it'}.`]
      : [],
  );
