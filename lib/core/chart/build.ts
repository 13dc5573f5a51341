/** Derives everything that a machine and its board design imply. Never throws: a chart with findings is still usable. */
import { estimatedInsulationMm } from '../wire/gauge';
import { printedNumber } from './numbering';
import type { BoardDesign, Header, Machine, Net, Pin, Step } from './schema';
import type { Chart, Circuit, Tap, WireEnd } from './types';

export function indexChart(machine: Machine, design: BoardDesign): Chart {
  const nets = new Map(design.nets.map((n) => [n.id, n]));
  const lines = (kind: Net['kind']) => design.nets.filter((n) => n.kind === kind).flatMap((n) => n.number ?? []).sort((a, b) => a - b);
  const columns = lines('switch-column');
  const rows = lines('switch-row');
  const circuits = circuitsOf(machine, { columns: columns.length, rows: rows.length });
  const circuit = new Map(circuits.map((c) => [c.number, c]));
  const pins = new Map<string, Tap>();
  const taps = new Map<string, Tap[]>();
  for (const header of design.headers) {
    for (const pin of header.pins) {
      const tap = tapOf(header, pin, nets.get(pin.net), machine, circuit);
      pins.set(tap.pin, tap);
      taps.set(pin.net, [...(taps.get(pin.net) ?? []), tap]);
    }
  }
  return {
    machine,
    design,
    title: [machine.name, machine.unit].filter(Boolean).join(', '),
    columns,
    rows,
    nets,
    headers: new Map(design.headers.map((h) => [h.id, h])),
    taps,
    pins,
    circuits,
    circuit,
    lamps: machine.lamps.map((l) => ({ ...l, number: l.number ?? printedNumber(machine.numbering, l.column, l.row, { columns: lines('lamp-column').length, rows: lines('lamp-row').length }) })),
    loads: machine.loads,
    illumination: machine.illumination,
    asFound: machine.asFound,
  };
}

function circuitsOf(machine: Machine, size: { columns: number; rows: number }): Circuit[] {
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
        nets: [`switch-column.${s.column}`, `switch-row.${s.row}`],
      }),
    );
  const direct = machine.direct.map(
    (d): Circuit => ({ number: d.number, name: d.name, kind: 'direct', location: d.location ?? '', device: d.device, normally: d.normally, diode: '', nets: [d.net] }),
  );
  return [...matrix, ...direct];
}

const unknownWire = { colour: 'white', awg: 22 }; // a pin whose net the design does not have: lint says so

function tapOf(header: Header, pin: Pin, net: Net | undefined, machine: Machine, circuit: ReadonlyMap<string, Circuit>): Tap {
  const name = `${header.id}-${pin.position}`;
  const steps = machine.chains.find((c) => c.tap === name)?.steps ?? [];
  const colour = net?.colour ?? unknownWire.colour;
  const awg = net?.awg ?? unknownWire.awg;
  const wires = (pin.wires ?? [{}]).map((w): WireEnd => {
    const gauge = w.awg ?? awg;
    const insulationMm = w.insulationMm ?? net?.insulationMm;
    return {
      colour: w.colour ?? colour,
      awg: gauge,
      insulationMm: insulationMm ?? estimatedInsulationMm(gauge),
      insulationKnown: insulationMm !== undefined,
      ...(w.strands === undefined ? {} : { strands: w.strands }),
      ...(w.note === undefined ? {} : { note: w.note }),
    };
  });
  return { pin: name, header: header.id, position: pin.position, net: pin.net, wires, goesTo: steps.length > 0 ? goesTo(steps, circuit) : loadsOn(pin.net, machine), behind: behind(steps) };
}

/** Numbers of the switches behind these steps, in order from the board. */
function behind(steps: readonly Step[]): string[] {
  return steps.flatMap((s) => ('switch' in s ? [s.switch] : s.branches.flatMap(behind)));
}

/** First thing on the harness: "Coin left, 11, first", or "Splice S2, then 16 and 46". */
function goesTo(steps: readonly Step[], circuit: ReadonlyMap<string, Circuit>): string {
  const [first] = steps;
  if (!first) return '';
  if ('switch' in first) {
    const name = circuit.get(first.switch)?.name;
    return `${name ? `${name}, ` : ''}${first.switch}${steps.length > 1 ? ', first' : ''}`;
  }
  const heads = first.branches.flatMap((b) => behind(b).slice(0, 1));
  return `Splice ${first.splice}${heads.length > 0 ? `, then ${heads.join(' and ')}` : ''}`;
}

/** What a line without a chain goes to, by name: its load, direct switch or string. */
function loadsOn(net: string, machine: Machine): string {
  const names = [
    ...machine.direct.filter((d) => d.net === net).map((d) => d.name),
    ...machine.loads.filter((l) => l.net === net).map((l) => l.name),
    ...machine.illumination.filter((g) => g.net === net || g.back === net).map((g) => g.name),
  ];
  return names.join(', ');
}
