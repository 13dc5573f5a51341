/** Places at which a machine can differ from its manual, as somebody at the bench would point at them. */
import { connectorOf, halves } from './inline';
import { netTitle, pinOf, splitPin } from './names';
import type { Deviation } from './schema';
import type { Chart } from './types';

type Place = Deviation['place'];
export interface FoundPlace {
  key: string; // `switch:46`, `switch:46@switch-row.6`, `pin:A3J4-7`, `line:switch-row.6`
  place: Place;
  label: string; // "Row 6 at 46 Spinner, grey/orange"
}

const keyOf = ({ switch: number, pin, net }: Place): string =>
  number !== undefined ? `switch:${number}${net === undefined ? '' : `@${net}`}` : pin !== undefined ? `pin:${pin}` : `line:${net ?? ''}`;

/** The place that a key names; null when this chart has none such. */
export function placeOfKey(chart: Chart, key: string): Place | null {
  const [, sort, what = '', net] = /^(switch|pin|line):([^@]+)(?:@(.+))?$/.exec(key) ?? [];
  if (sort === 'switch' && chart.circuit.has(what) && (net === undefined || chart.nets.has(net)))
    return { switch: what, ...(net !== undefined && { net }) };
  if (sort === 'pin') {
    const at = splitPin(what);
    const carried = (chart.pins.get(what) ?? chart.through.get(what))?.net;
    const positions = at ? (connectorOf(chart, at.header)?.positions ?? 0) : 0;
    return at && at.position >= 1 && at.position <= positions
      ? { pin: what, ...(carried !== undefined && chart.nets.has(carried) && { net: carried }) }
      : null;
  }
  return sort === 'line' && chart.nets.has(what) ? { net: what } : null;
}

/** What the chart says of a place: "Row 6 at 46 Spinner, grey/orange". */
export function chartSays(chart: Chart, place: Place): string {
  const wire = (net: string, at = '') => `${netTitle(chart, net)}${at}, ${chart.nets.get(net)?.colour ?? ''}`;
  if (place.switch !== undefined) {
    const circuit = chart.circuit.get(place.switch);
    const name = [place.switch, circuit?.name].filter(Boolean).join(' ');
    return place.net === undefined
      ? `${name}: ${circuit?.device ?? ''}, normally ${circuit?.normally ?? ''}`
      : wire(place.net, ` at ${name}`);
  }
  if (place.pin !== undefined) {
    const through = chart.through.get(place.pin);
    if (through) {
      const [near, far] = halves.map((half) => through.wires[half].map((w) => w.colour).join(' and '));
      return `${place.pin} carries ${netTitle(chart, through.net)}, ${near}${far === near ? '' : `, beyond it ${far}`}`;
    }
    const tap = chart.pins.get(place.pin);
    return tap
      ? `${place.pin} carries ${netTitle(chart, tap.net)}, ${tap.wires.map((w) => w.colour).join(' and ')}`
      : `${place.pin} is not used`;
  }
  return place.net === undefined ? '' : wire(place.net);
}

/** All places that belong to a thing of the chart, the nearest first; what it is, as lookups name it. */
export function placesOf(chart: Chart, kind: string, id: string): FoundPlace[] {
  const found = (place: Place, before = ''): FoundPlace => ({ key: keyOf(place), place, label: before + chartSays(chart, place) });
  const pins = (net: string) => (chart.taps.get(net) ?? []).map(({ pin }) => found({ pin, net }));
  const whole = (net: string) => (chart.nets.has(net) ? [found({ net }, 'The whole line: ')] : []);
  const line = (net: string) => [...pins(net), ...whole(net)];
  switch (kind) {
    case 'circuit': {
      const circuit = chart.circuit.get(id);
      if (!circuit) return [];
      const nets = circuit.nets.filter((net) => chart.nets.has(net));
      return [...nets.map((net) => found({ switch: id, net })), found({ switch: id }, 'The switch: '), ...nets.flatMap(line)];
    }
    case 'pin': {
      const place = placeOfKey(chart, `pin:${id}`);
      return place ? [found(place), ...(place.net === undefined ? [] : whole(place.net))] : [];
    }
    case 'line':
      return line(id);
    case 'load': {
      const load = chart.loads.find((l) => l.number === id);
      return load ? [...line(load.net), ...line(load.supply)] : [];
    }
    case 'lamp': {
      const lamp = chart.lamps.find((l) => l.number === id);
      const nets = [...chart.nets.values()].filter(
        (n) => lamp && ((n.kind === 'lamp-column' && n.number === lamp.column) || (n.kind === 'lamp-row' && n.number === lamp.row)),
      );
      return nets.flatMap((n) => line(n.id));
    }
    case 'header':
      return Array.from({ length: connectorOf(chart, id)?.positions ?? 0 }, (_, k) => placeOfKey(chart, `pin:${pinOf(id, k + 1)}`)).flatMap(
        (place) => (place ? [found(place)] : []),
      );
    default:
      return [];
  }
}
