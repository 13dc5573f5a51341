/** From a machine and its board design to a chart: everything derived, indexed. A chart with mistakes still indexes; the lint names them. */
import { firstInWords, type Hung, lampsOf, loadsOf, switchesOf } from './chain';
import { finish, type Steps } from './entry/steps';
import { isStanding } from './found';
import { throughOf, withPositions } from './inline';
import { pinOf } from './names';
import { matrixSize, printedNumber } from './numbering';
import type { BoardDesign, Chain, DirectSwitch, Machine, MatrixSwitch, Net, Pin } from './schema';
import type { Chart, Circuit, Tap } from './types';
import { wireEnd } from './wire-end';

/** Indexes a chart. Never throws on a chart that fits the schema: of two things with one name the first is kept. */
export const indexChart = (machine: Machine, design: BoardDesign): Chart => finish(indexChartInSteps(machine, design));

/** The same in steps of a few milliseconds; the caller rests between them. */
export function* indexChartInSteps(machine: Machine, design: BoardDesign): Steps<Chart> {
  const nets = firstOf(design.nets, (net) => net.id);
  const headers = firstOf(design.headers, (header) => header.id);
  const circuits = circuitsOf(machine, design);
  yield;
  const circuit = byNumber(circuits);
  yield;
  const lampSize = matrixSize(design, 'lamp');
  const lamps = machine.lamps.map((l) => ({ ...l, number: l.number ?? printedNumber(machine.numbering, l.column, l.row, lampSize) }));
  const named: Record<Hung, ReadonlyMap<string, { name: string }>> = {
    switch: circuit,
    load: firstOf(machine.loads, (l) => l.number),
    lamp: firstOf(lamps, (l) => l.number),
  };
  const nameOf = (number: string, kind: Hung) => named[kind].get(number)?.name ?? '';
  const tapsOf = tapsFor(machine, nets, nameOf);
  const allTaps: Tap[] = [];
  for (const { id, pins } of headers.values()) {
    for (const pin of [...pins].sort((a, b) => a.position - b.position)) {
      yield;
      allTaps.push(tapsOf(id, pin));
    }
  }
  yield;
  const taps = new Map<string, Tap[]>();
  for (const tap of allTaps) {
    const known = taps.get(tap.net);
    if (known) known.push(tap);
    else taps.set(tap.net, [tap]);
  }
  yield;
  const inline = yield* withPositions(machine);
  const through = yield* throughOf(machine, inline, nets, nameOf);
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
    inline,
    through,
    circuits,
    circuit,
    lamps,
    loads: machine.loads,
    illumination: machine.illumination,
    asFound: machine.asFound.filter(isStanding),
  };
}

function firstOf<T>(items: readonly T[], idOf: (item: T) => string): Map<string, T> {
  const map = new Map<string, T>();
  for (const item of items) if (!map.has(idOf(item))) map.set(idOf(item), item);
  return map;
}

/** A switch by each of its numbers; its own number goes before the further number of another. */
function byNumber(circuits: readonly Circuit[]): Map<string, Circuit> {
  const map = firstOf(circuits, (c) => c.number);
  for (const c of circuits) for (const number of c.also ?? []) if (!map.has(number)) map.set(number, c);
  return map;
}

/** Numbers of the design's lines, with those that only the machine uses. */
function lineNumbers(design: BoardDesign, kind: Net['kind'], machine: Machine, axis: 'column' | 'row'): number[] {
  const known = design.nets.flatMap((net) => (net.kind === kind && net.number !== undefined ? [net.number] : []));
  return [...new Set([...known, ...machine.switches.map((s) => s[axis])])].sort((a, b) => a - b);
}

function circuitsOf(machine: Machine, design: BoardDesign): Circuit[] {
  const size = matrixSize(design);
  const ids = firstOf(design.nets, (net) => `${net.kind}.${net.number}`);
  const line = (axis: 'column' | 'row', number: number) => ids.get(`switch-${axis}.${number}`)?.id ?? `switch-${axis}.${number}`;
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
        ...extrasOf(s),
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
      ...extrasOf(d),
    }),
  );
  return [...matrix, ...direct];
}

const extrasOf = ({ also, emitterSupply, optoBoard }: MatrixSwitch | DirectSwitch) => ({
  ...(also && { also }),
  ...(emitterSupply !== undefined && { emitterSupply }),
  ...(optoBoard !== undefined && { optoBoard }),
});

function tapsFor(machine: Machine, nets: ReadonlyMap<string, Net>, nameOf: (number: string, kind: Hung) => string) {
  const byTap = new Map<string, Chain[]>();
  for (const chain of machine.chains) {
    const there = byTap.get(chain.tap);
    if (there) there.push(chain);
    else byTap.set(chain.tap, [chain]);
  }
  return (header: string, pin: Pin): Tap => {
    const name = pinOf(header, pin.position);
    const chains = byTap.get(name) ?? [];
    const each = (numbersOf: (steps: Chain['steps']) => string[]) => [...new Set(chains.flatMap((c) => numbersOf(c.steps)))];
    return {
      pin: name,
      header,
      position: pin.position,
      net: pin.net,
      wires: (pin.wires ?? [{}]).map((wire) => wireEnd(wire, nets.get(pin.net))),
      goesTo: chains.length > 0 ? chains.map((c) => firstInWords(c.steps, nameOf)).join('; ') : onLine(machine, pin.net, name),
      behind: each(switchesOf),
      loads: each(loadsOf),
      lamps: each(lampsOf),
    };
  };
}

/** What a tap without a chain goes to: the direct switch, load or string of lamps on its line. */
const onLine = (machine: Machine, net: string, pin: string): string =>
  [
    ...machine.direct.filter((d) => d.net === net).map((d) => `${d.number} ${d.name}`),
    ...machine.loads.filter((l) => l.net === net).map((l) => `${l.number} ${l.name}`),
    ...machine.illumination
      .filter((g) => (g.net === net || g.back === net) && (g.taps === undefined || g.taps.includes(pin)))
      .map((g) => `${g.id} ${g.name}`),
  ].join(', ');
