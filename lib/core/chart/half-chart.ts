/** One half of an in-line connector as a connector by itself, so that it is drawn and planned like any other. */
import { endsOf } from './chain';
import { contactsOf, halfName, halfTitle, splitInline } from './inline';
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
