/** Everything of a chart that a clue may mean, and what each is part of. */
import { netTitle, pinOf } from '../chart/names';
import type { Net } from '../chart/schema';
import type { Chart } from '../chart/types';
import { perChart } from './per-chart';
import { tapsOf } from './runs';
import type { Candidate } from './types';
import { wordsOf } from './words';

export interface Thing {
  key: string; // kind:id
  kind: Candidate['kind'];
  id: string;
  title: string;
  /** Keys of the lines, pins and connectors that it is part of: a clue that fits one of them fits it too. */
  within: ReadonlySet<string>;
  name: string[]; // words to match, folded
  place: string[]; // words of its location
}

export const keyOf = (kind: Candidate['kind'], id: string): string => `${kind}:${id}`;

export const thingsOf = perChart(makeThings);

export const thingByKey = perChart((chart): ReadonlyMap<string, Thing> => new Map(thingsOf(chart).map((thing) => [thing.key, thing])));

/** By key of a line, pin or connector: what is part of it. */
export const partsOf = perChart((chart): ReadonlyMap<string, Thing[]> => {
  const parts = new Map<string, Thing[]>();
  for (const thing of thingsOf(chart)) {
    for (const key of thing.within) {
      const known = parts.get(key);
      if (known) known.push(thing);
      else parts.set(key, [thing]);
    }
  }
  return parts;
});

function makeThings(chart: Chart): Thing[] {
  const thing = (kind: Thing['kind'], id: string, title: string, name: string, place: string, within: string[]): Thing => ({
    key: keyOf(kind, id),
    kind,
    id,
    title,
    within: new Set(within),
    name: wordsOf(name),
    place: wordsOf(place),
  });
  const hanging = (nets: string[], pins: { pin: string; header: string }[]) => [
    ...nets.map((net) => keyOf('line', net)),
    ...pins.flatMap(({ pin, header }) => [keyOf('pin', pin), keyOf('header', header)]),
  ];
  const allTaps = (nets: string[]) => nets.flatMap((net) => chart.taps.get(net) ?? []);
  const throughFor = (number: string, nets: readonly string[]) =>
    [...chart.through.values()].filter(({ net, behind }) => nets.includes(net) && behind.includes(number));
  const lampNets = (lamp: { column: number; row: number }) => [`lamp-column.${lamp.column}`, `lamp-row.${lamp.row}`];
  return [
    ...[...chart.circuit.values()].map((c) =>
      thing(
        'circuit',
        c.number,
        `${c.number} ${c.name}`,
        c.name,
        c.location,
        hanging(c.nets, [...c.nets.flatMap((net) => tapsOf(chart, c, net)), ...throughFor(c.number, c.nets)]),
      ),
    ),
    ...chart.loads.map((l) =>
      thing('load', l.number, `${l.number} ${l.name}`, l.name, '', [keyOf('line', l.supply), ...hanging([l.net], allTaps([l.net]))]),
    ),
    ...chart.lamps.map((l) =>
      thing('lamp', l.number, `Lamp ${l.number} ${l.name}`, l.name, '', hanging(lampNets(l), allTaps(lampNets(l)))),
    ),
    ...[...chart.nets.values()].map((net) => thing('line', net.id, lineTitle(chart, net), lineName(chart, net), '', [])),
    ...[...chart.headers.values(), ...chart.inline.values()].flatMap((header) => [
      thing('header', header.id, header.name ? `${header.id} ${header.name}` : header.id, header.name ?? '', '', []),
      ...Array.from({ length: header.positions }, (_, i) => {
        const pin = pinOf(header.id, i + 1);
        const net = (chart.pins.get(pin) ?? chart.through.get(pin))?.net;
        return thing('pin', pin, pin, '', '', [keyOf('header', header.id), ...(net ? [keyOf('line', net)] : [])]);
      }),
    ]),
  ];
}

/** "Row 6"; a line of one load or direct switch says whose it is: "Load 1 (L1 Ball out)". */
function lineTitle(chart: Chart, net: Net): string {
  const only = [
    ...chart.loads.filter((l) => l.net === net.id),
    ...chart.circuits.filter((c) => c.kind === 'direct' && c.nets.includes(net.id)),
  ];
  const whose = only.map((o) => `${o.number} ${o.name}`).join('; ');
  return whose ? `${netTitle(chart, net.id)} (${whose})` : netTitle(chart, net.id);
}

/** Matrix and single lines go by number, colour or the name of what hangs on them; the others by their own name. */
function lineName(chart: Chart, net: Net): string {
  if (!['supply', 'illumination', 'ground', 'other'].includes(net.kind)) return '';
  const strings = chart.illumination.filter((g) => g.net === net.id || g.back === net.id).map((g) => g.name);
  return [netTitle(chart, net.id), ...strings].join(' ');
}
