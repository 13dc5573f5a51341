/** What must be said of lamps before any test, and what those that light prove. */
import { netTitle } from '../../chart/names';
import type { Chart } from '../../chart/types';
import { listed } from '../words';
import { lampNet } from './lamp-faults';
import type { LampSeen, LampSpot, LampSymptom } from './lamp-table';

export function lampCautions(
  seen: readonly LampSeen[],
  complaints: ReadonlySet<string>,
  spotOf: (n: string) => LampSpot | undefined,
): string[] {
  const showing = (shows: LampSymptom) => seen.some((s) => 'shows' in s && s.shows === shows);
  const leds = [...complaints].filter((n) => spotOf(n)?.led);
  return [
    ...(showing('too bright') || showing('always lit')
      ? ['Power off soon: a lamp that is on all the time burns out and scorches plastic, and its driver gets hot.']
      : []),
    ...(showing('dark') ? ['A shorted lamp or socket kills the driver: measure both before a new driver goes in.'] : []),
    ...(showing('glows faintly') && leds.length > 0
      ? ['LEDs glow faintly from leakage alone when their row has no load: that is the design, not a fault of the wiring.']
      : []),
    ...(complaints.size > 0 ? ['Lamps are hot: let them cool before you pull them.'] : []),
  ];
}

export const lampsUnknown = (strange: readonly string[], unplaced: readonly string[]): string[] => [
  ...(strange.length > 0 ? [`The chart has no lamp ${listed(strange)}: left out. Add it to the machine’s lamps.`] : []),
  ...(unplaced.length > 0
    ? [`The chart does not say on which pin lamp ${listed(unplaced.slice(0, 6))} hangs: name the lamps in a chain of that pin.`]
    : []),
];

/** "21 lights: column 2 is fine up to its lamps." */
export function lampsCleared(
  chart: Chart,
  seen: readonly LampSeen[],
  complained: readonly LampSpot[],
  spotOf: (n: string) => LampSpot | undefined,
): string[] {
  const lit = seen.flatMap((s) => (s.kind === 'lamp' && s.shows === 'lit when commanded' ? (spotOf(s.lamp) ?? []) : []));
  return (['column', 'row'] as const).flatMap((axis) =>
    [...new Set(complained.map((l) => l[axis]))].flatMap((line) => {
      const good = lit.filter((l) => l[axis] === line).map((l) => l.number);
      const title = netTitle(chart, lampNet(chart, axis, line));
      return good.length > 0 ? [`${title} reaches ${listed(good)}: ${good.length === 1 ? 'it lights' : 'they light'}.`] : [];
    }),
  );
}
