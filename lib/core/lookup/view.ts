/** A circuit, a line or a header as a bench needs it: wires, taps, faces, siblings, what was found to differ. */

import { netTitle } from '../chart/names';
import type { Chart, Circuit } from '../chart/types';
import { housingName } from '../chart/views';
import type { CircuitView, FaceView, LineView, Sibling } from './types';

export { netTitle } from '../chart/names';

/** A header position by position. Null when the chart has no such header. */
export function faceView(chart: Chart, headerId: string, lit: readonly number[] = []): FaceView | null {
  const header = chart.headers.get(headerId);
  if (!header) return null;
  return {
    header,
    housing: housingName(headerId),
    positions: Array.from({ length: header.positions }, (_, i) => {
      const position = i + 1;
      const tap = chart.pins.get(`${headerId}-${position}`);
      const key = header.keys.includes(position);
      return {
        position,
        key,
        wires: key ? [] : (tap?.wires ?? []),
        net: tap?.net ?? '',
        label: tap ? netTitle(chart, tap.net) : key ? 'key' : 'not used',
        lit: lit.includes(position),
      };
    }),
  };
}

/** A line with all its taps, each header drawn with the line's positions lit. Null when there is no such line. */
export function lineView(chart: Chart, id: string): LineView | null {
  const net = chart.nets.get(id);
  if (!net) return null;
  const taps = chart.taps.get(id) ?? [];
  const headers = [...new Set(taps.map((t) => t.header))];
  const driven = net.kind === 'switch-column' || net.kind === 'lamp-column' || net.kind === 'load';
  return {
    net: id,
    kind: net.kind,
    title: netTitle(chart, id),
    colour: net.colour,
    part: net.part ?? '',
    does: net.part ? (driven ? 'driven by' : 'read by') : '',
    taps,
    faces: headers.flatMap(
      (h) =>
        faceView(
          chart,
          h,
          taps.filter((t) => t.header === h).map((t) => t.position),
        ) ?? [],
    ),
  };
}

/** Everything about one switch. Null when there is no such number. */
export function circuitView(chart: Chart, number: string): CircuitView | null {
  const circuit = chart.circuit.get(number);
  if (!circuit) return null;
  const siblings = siblingsOf(chart, circuit);
  return {
    circuit,
    lines: circuit.nets.flatMap((n) => lineView(chart, n) ?? []),
    press: pressList(chart, circuit, siblings),
    siblings,
    asFound: chart.asFound.filter(({ place }) => {
      const pinNet = place.pin ? chart.pins.get(place.pin)?.net : undefined;
      return (
        place.switch === number ||
        (place.net && circuit.nets.includes(place.net)) ||
        (pinNet !== undefined && circuit.nets.includes(pinNet))
      );
    }),
  };
}

/** Other switches on the same lines. One on another tap says nothing about this switch's connector, and is told apart. */
function siblingsOf(chart: Chart, circuit: Circuit): Sibling[] {
  return circuit.nets.flatMap((net) => {
    const line = netTitle(chart, net);
    const tap = tapOf(chart, circuit.number, net);
    const axis = net.startsWith('switch-row') ? 'row' : 'column';
    return chart.circuits
      .filter((c) => c.number !== circuit.number && c.nets.includes(net))
      .map((c): Sibling => {
        const other = tapOf(chart, c.number, net);
        const together = tap !== undefined && other?.pin === tap.pin;
        const clears = together
          ? `When ${c.number} answers, ${line} is good from the board through ${tap.pin} as far as they share its wire.`
          : tap && other
            ? `${c.number} hangs on ${other.pin}: when it answers, ${line} is good on the board, but ${tap.pin} is not cleared.`
            : `When ${c.number} answers, ${line} is good on the board and wherever both share its wire.`;
        return { number: c.number, name: c.name, shares: together ? 'branch' : axis, clears };
      });
  });
}

const tapOf = (chart: Chart, number: string, net: string) => (chart.taps.get(net) ?? []).find((t) => t.behind.includes(number));

const perLine = 2;

/** Two on each line: the nearest before and behind on the same branch first, then any on the line. */
function pressList(chart: Chart, circuit: Circuit, siblings: Sibling[]): Sibling[] {
  return circuit.nets.flatMap((net) => {
    const order = tapOf(chart, circuit.number, net)?.behind ?? [];
    const here = order.indexOf(circuit.number);
    const distance = (number: string) => {
      const at = order.indexOf(number);
      return at < 0 || here < 0 ? Number.POSITIVE_INFINITY : Math.abs(at - here);
    };
    const axis: Sibling['shares'] = net.startsWith('switch-row') ? 'row' : 'column';
    return siblings
      .filter((s) => chart.circuit.get(s.number)?.nets.includes(net))
      .map((s, i) => ({ s, i }))
      .sort((a, b) => distance(a.s.number) - distance(b.s.number) || a.i - b.i)
      .slice(0, perLine)
      .map(({ s }) => ({ ...s, shares: axis }));
  });
}
