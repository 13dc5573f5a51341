/** One half of an in-line connector as a connector by itself, so that it is drawn and planned like any other. */
import { endsOf } from './chain';
import { contactsOf, halfName, halfTitle, halves, splitHalf, splitInline } from './inline';
import type { Header, KeysFound } from './schema';
import type { Chart, Half, Tap } from './types';
import { housingName } from './views';

export interface HalfChart {
  chart: Chart; // in which the half is a header: `X1F`, its positions `X1F-4`
  header: Header;
  title: string; // "X1, far half"
  mate: string; // name of the other half
  contacts: 'pins' | 'sockets';
}

/** A connector to choose: a header, or a half of an in-line connector. */
export interface Choosable {
  id: string; // A3J4, X1F
  name: string;
  positions: number;
}
/** The headers, then both halves of each in-line connector. */
export const headersAndHalves = (chart: Chart): Choosable[] => [
  ...[...chart.headers.values()].map(({ id, name, positions }) => ({ id, name: name ?? '', positions })),
  ...[...chart.inline.values()].flatMap(({ id, name, positions }) =>
    halves.map((half) => ({
      id: halfName(id, half),
      name: [name, half === 'board' ? 'in line, towards the boards' : 'in line, far half'].filter(Boolean).join(', '),
      positions,
    })),
  ),
];

/** The header or the half (`X1F`) called `id`, with the chart in which it is a header. Null when there is neither. */
export function headerIn(chart: Chart, id: string): { chart: Chart; header: Header; half: HalfChart | null } | null {
  const header = chart.headers.get(id);
  if (header) return { chart, header, half: null };
  const named = splitHalf(id);
  const half = named && halfChart(chart, named.connector, named.half);
  return half && { chart: half.chart, header: half.header, half };
}

/** Null when the chart has no such connector. Keys are those that this half must keep: of pins what its sockets have plugged, and the other way round. */
export function halfChart(chart: Chart, connector: string, half: Half): HalfChart | null {
  const own = chart.inline.get(connector);
  if (!own) return null;
  const id = halfName(connector, half);
  const contacts = contactsOf(own, half);
  const { place: _, pinsOn: __, ...face } = own;
  const header: Header = {
    ...face,
    id,
    pins: own.pins.map((pin) => ({ ...pin, wires: chart.through.get(`${connector}-${pin.position}`)?.wires[half] })),
  };
  const taps = [...chart.through.values()].flatMap(({ wires, ...through }): Tap[] =>
    through.header === connector
      ? [
          {
            ...through,
            pin: `${id}-${through.position}`,
            header: id,
            wires: wires[half],
            goesTo: half === 'far' ? through.goesTo : cameFrom(chart, through.pin),
          },
        ]
      : [],
  );
  const byNet = new Map(chart.taps);
  for (const tap of taps) byNet.set(tap.net, [...(byNet.get(tap.net) ?? []), tap]);
  return {
    header,
    title: halfTitle(connector, half),
    mate: halfName(connector, half === 'far' ? 'board' : 'far'),
    contacts,
    chart: {
      ...chart,
      headers: new Map([...chart.headers, [id, header]]),
      taps: byNet,
      pins: new Map([...chart.pins, ...taps.map((tap) => [tap.pin, tap] as const)]),
      asFound: chart.asFound.map((found) => {
        const at = found.place.pin === undefined ? null : splitInline(found.place.pin);
        return at?.connector === connector ? { ...found, place: { ...found.place, pin: `${id}-${at.position}` } } : found;
      }),
      machine: {
        ...chart.machine,
        keysAsFound: chart.machine.keysAsFound.map((keys) => (keys.header === connector ? keysOf(keys, id, contacts) : keys)),
      },
    },
  };
}

/** A plan keys a housing as the pins of its header are; a half with pins leaves those out whose sockets are plugged. */
const keysOf = ({ pins, plug, ...found }: KeysFound, header: string, contacts: HalfChart['contacts']): KeysFound => {
  const [first, second] = contacts === 'pins' ? [plug, pins] : [pins, plug];
  return { ...found, header, ...(first && { pins: first }), ...(second && { plug: second }) };
};

/** The plugs and lugs that the wires of a near half come from. */
function cameFrom(chart: Chart, pin: string): string {
  const from = chart.machine.chains.flatMap(({ tap, steps }) => {
    const at = steps.findIndex((step) => 'inline' in step && step.inline === pin);
    if (at < 0) return deepIn(steps, pin) ? [housingName(tap)] : [];
    const [last] = endsOf(steps.slice(0, at)).slice(-1);
    return [last ? `${last.number}, from ${housingName(tap)}` : housingName(tap)];
  });
  return [...new Set(from)].join('; ');
}
const deepIn = (steps: Chart['machine']['chains'][number]['steps'], pin: string): boolean =>
  steps.some((step) =>
    'branches' in step ? step.branches.some((branch) => deepIn(branch, pin)) : 'inline' in step && step.inline === pin,
  );
