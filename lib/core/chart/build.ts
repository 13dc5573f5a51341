/** From a machine and its board design to a chart: everything derived, indexed. A chart with mistakes still indexes; the lint names them. */
import { estimatedInsulationMm } from '../wire/gauge';
import { firstInWords, switchesOf } from './chain';
import { pinOf } from './names';
import { matrixSize, printedNumber } from './numbering';
import type { BoardDesign, Machine, Net, Pin, Wire } from './schema';
import type { Chart, Circuit, Tap, WireEnd } from './types';

/** Indexes a chart. Never throws on a chart that fits the schema: of two things with one name the first is kept. */
export function indexChart(machine: Machine, design: BoardDesign): Chart {
  const nets = firstOf(design.nets, (net) => net.id);
  const headers = firstOf(design.headers, (header) => header.id);
  const circuits = circuitsOf(machine, design);
  const circuit = firstOf(circuits, (c) => c.number);
  const tapsOf = tapsFor(machine, nets, circuit);
  const allTaps = [...headers.values()].flatMap((h) => [...h.pins].sort((a, b) => a.position - b.position).map((pin) => tapsOf(h.id, pin)));
  const taps = new Map<string, Tap[]>();
  for (const tap of allTaps) taps.set(tap.net, [...(taps.get(tap.net) ?? []), tap]);
  const lampSize = matrixSize(design, 'lamp');
  return {
    machine,
    design,
    title: [machine.name, machine.unit].filter(Boolean).join(', '),
    columns: lineNumbers(design, 'switch-column', machine, 'column'),
    rows: lineNumbers(design, 'switch-row', machine, 'row'),
    nets,
    headers,
    taps,
    pins: firstOf(allTaps, (tap) => tap.pin),
    circuits,
    circuit,
    lamps: machine.lamps.map((l) => ({ ...l, number: l.number ?? printedNumber(machine.numbering, l.column, l.row, lampSize) })),
    loads: machine.loads,
    illumination: machine.illumination,
    asFound: machine.asFound,
  };
}

function firstOf<T>(items: readonly T[], idOf: (item: T) => string): Map<string, T> {
  const map = new Map<string, T>();
  for (const item of items) if (!map.has(idOf(item))) map.set(idOf(item), item);
  return map;
}

/** Numbers of the design's lines, with those that only the machine uses. */
function lineNumbers(design: BoardDesign, kind: Net['kind'], machine: Machine, axis: 'column' | 'row'): number[] {
  const known = design.nets.flatMap((net) => (net.kind === kind && net.number !== undefined ? [net.number] : []));
  return [...new Set([...known, ...machine.switches.map((s) => s[axis])])].sort((a, b) => a - b);
}

function circuitsOf(machine: Machine, design: BoardDesign): Circuit[] {
  const size = matrixSize(design);
  const line = (axis: 'column' | 'row', number: number) =>
    design.nets.find((net) => net.kind === `switch-${axis}` && net.number === number)?.id ?? `switch-${axis}.${number}`;
  const matrix = [...machine.switches]
    .sort((a, b) => a.column - b.column || a.row - b.row)
    .map(
      (s): Circuit => ({
        number: s.number ?? printedNumber(machine.numbering, s.column, s.row, size),
        name: s.name,
        kind: 'matrix',
        location: s.location ?? '',
        device: s.device,
        normally: s.normally,
        diode: s.diode,
        column: s.column,
        row: s.row,
        nets: [line('column', s.column), line('row', s.row)],
      }),
    );
  const direct = machine.direct.map(
    (d): Circuit => ({
      number: d.number,
      name: d.name,
      kind: 'direct',
      location: d.location ?? '',
      device: d.device,
      normally: d.normally,
      diode: '',
      nets: [d.net],
    }),
  );
  return [...matrix, ...direct];
}

function tapsFor(machine: Machine, nets: ReadonlyMap<string, Net>, circuit: ReadonlyMap<string, Circuit>) {
  const nameOf = (number: string) => circuit.get(number)?.name ?? '';
  return (header: string, pin: Pin): Tap => {
    const name = pinOf(header, pin.position);
    const chains = machine.chains.filter((chain) => chain.tap === name);
    return {
      pin: name,
      header,
      position: pin.position,
      net: pin.net,
      wires: (pin.wires ?? [{}]).map((wire) => wireEnd(wire, nets.get(pin.net))),
      goesTo: chains.length > 0 ? chains.map((c) => firstInWords(c.steps, nameOf)).join('; ') : onLine(machine, pin.net),
      behind: [...new Set(chains.flatMap((c) => switchesOf(c.steps)))],
    };
  };
}

/** What a line without a chain goes to: its direct switch, load or string of lamps. */
const onLine = (machine: Machine, net: string): string =>
  [
    ...machine.direct.filter((d) => d.net === net).map((d) => `${d.number} ${d.name}`),
    ...machine.loads.filter((l) => l.net === net).map((l) => `${l.number} ${l.name}`),
    ...machine.illumination.filter((g) => g.net === net || g.back === net).map((g) => `${g.id} ${g.name}`),
  ].join(', ');

const gaugeOfUnknownNet = 22; // a pin of a net that the design does not list still needs a drawing

function wireEnd(wire: Wire, net: Net | undefined): WireEnd {
  const awg = wire.awg ?? net?.awg ?? gaugeOfUnknownNet;
  // A net's insulation belongs to its own gauge: it says nothing of a wire of another.
  const known = wire.insulationMm ?? (awg === net?.awg ? net.insulationMm : undefined);
  return {
    colour: wire.colour ?? net?.colour ?? '',
    awg,
    insulationMm: known ?? estimatedInsulationMm(awg),
    insulationKnown: known !== undefined,
    ...(wire.strands !== undefined && { strands: wire.strands }),
    ...(wire.note !== undefined && { note: wire.note }),
  };
}
