/** A header, a line or a circuit as a bench needs it: wires, taps, faces, siblings, what was found to differ. */
import { foundAtPin, foundColours, foundOnLine } from '../chart/found';
import { headerIn } from '../chart/half-chart';
import { netTitle } from '../chart/names';
import type { Net } from '../chart/schema';
import type { Chart, Circuit, Tap } from '../chart/types';
import { housingName } from '../chart/views';
import { tapsOf } from './runs';
import { pressOf, siblingsOf } from './siblings';
import type { CircuitView, FaceView, LineView } from './types';

/** A header, or a half of an in-line connector (`X1F`), position by position, `lit` ones marked. Null when the chart has no such thing. */
export function faceView(chart: Chart, headerId: string, lit: readonly number[] = []): FaceView | null {
  const there = headerIn(chart, headerId);
  if (!there) return null;
  const { header, half } = there;
  return {
    header,
    housing: housingName(headerId),
    ...(half?.contacts === 'pins' && { contacts: 'pins' as const }),
    positions: Array.from({ length: header.positions }, (_, i) => {
      const position = i + 1;
      const tap = there.chart.pins.get(`${headerId}-${position}`);
      const key = header.keys.includes(position);
      const found = foundColours(foundAtPin(there.chart, `${headerId}-${position}`, tap?.net));
      return {
        position,
        key,
        wires: key ? [] : (tap?.wires ?? []),
        net: tap?.net ?? '',
        label: key ? 'key' : tap ? netTitle(chart, tap.net) : 'not used',
        lit: lit.includes(position),
        ...(found.length > 0 && { found }),
      };
    }),
  };
}

/** A line with its taps, each header drawn with the `lit` pins marked (all of the line's, when left out). Null when there is no such line. */
export function lineView(chart: Chart, netId: string, lit?: readonly string[]): LineView | null {
  const net = chart.nets.get(netId);
  if (!net) return null;
  const all = chart.taps.get(netId) ?? [];
  const isLit = (tap: Tap) => !lit || lit.includes(tap.pin);
  const taps = [...all.filter(isLit), ...all.filter((tap) => !isLit(tap))];
  return {
    net: netId,
    kind: net.kind,
    title: netTitle(chart, netId),
    colour: net.colour,
    part: net.part ?? '',
    does: net.part ? doesOf(chart, net.kind) : '',
    taps,
    through: throughOn(chart, netId),
    faces: [...new Set(taps.map((tap) => tap.header))].flatMap((header) => {
      const positions = taps.filter((tap) => tap.header === header && isLit(tap)).map((tap) => tap.position);
      return faceView(chart, header, positions) ?? [];
    }),
    asFound: foundOnLine(
      chart,
      netId,
      taps.filter(isLit).map((tap) => tap.pin),
    ),
  };
}

/** The in-line positions of a line, those nearer to the board first. */
function throughOn(chart: Chart, net: string): LineView['through'] {
  const all = [...chart.through.values()].filter((through) => through.net === net);
  const near = [...all].sort((a, b) => b.behind.length - a.behind.length);
  return near.map((through) => ({ ...through, place: chart.inline.get(through.header)?.place ?? '' }));
}

/** A strobed line is driven, its cross lines are read; charts differ in which they call columns. */
function doesOf({ design }: Chart, kind: Net['kind']): LineView['does'] {
  switch (kind) {
    case 'switch-column':
      return design.matrix.strobe === 'column' ? 'driven by' : 'read by';
    case 'switch-row':
      return design.matrix.strobe === 'row' ? 'driven by' : 'read by';
    case 'direct':
      return 'read by';
    case 'lamp-column':
    case 'lamp-row':
    case 'load':
      return 'driven by';
    default:
      return '';
  }
}

/** Everything about one switch; the taps that it hangs on come first and are lit. Null when there is no such number. */
export function circuitView(chart: Chart, number: string): CircuitView | null {
  const circuit = chart.circuit.get(number);
  if (!circuit) return null;
  const asFound = asFoundAt(chart, circuit);
  return {
    circuit,
    lines: circuit.nets.flatMap((net) => {
      const pins = tapsOf(chart, circuit, net).map((tap) => tap.pin);
      const line = lineView(chart, net, pins);
      const through = line?.through.filter(({ behind }) => behind.includes(circuit.number)) ?? [];
      return line ? { ...line, through, asFound: line.asFound.filter((d) => asFound.includes(d)) } : [];
    }),
    press: pressOf(chart, circuit),
    siblings: siblingsOf(chart, circuit),
    asFound,
  };
}

/** Deviations that touch the circuit, each by the narrowest place that it names. */
function asFoundAt(chart: Chart, circuit: Circuit) {
  const pins = circuit.nets.flatMap((net) => tapsOf(chart, circuit, net).map((tap) => tap.pin));
  return chart.asFound.filter(({ place }) => {
    if (place.switch !== undefined) return place.switch === circuit.number;
    if (place.pin !== undefined) return pins.includes(place.pin);
    return place.net !== undefined && circuit.nets.includes(place.net);
  });
}
