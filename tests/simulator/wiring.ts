/** From a chart to nodes and resistors: every element that current passes between the boards and the contacts, by place. */
import type { Chart, Circuit } from '@/lib/core/chart';
import type { Step } from '@/lib/core/chart/schema';
import type { Place, Side } from './types';
import { type BoardValues, boardValues, ohms } from './values';

export const ground = 0;
export const supply = 1;
const none = -1;

export interface Line {
  id: string;
  kind: 'column' | 'row' | 'direct' | 'ground';
  /** Node of the driver or receiver. */
  board: number;
  first: number; // its edges: first ≤ e < end
  end: number;
  part: string;
}
export interface Contact {
  number: string;
  kind: 'matrix' | 'direct';
  column: number; // index of its line; of a direct switch its input line
  row: number; // index of its line; of a direct switch its ground line
  /** Nodes: lugs on the column and row line (input and ground of a direct switch), and between contact and diode. */
  columnLug: number;
  rowLug: number;
  middle: number;
  anode: number;
  cathode: number;
  /** Ends of the contact itself. */
  ends: readonly [number, number];
  normallyClosed: boolean;
  opto: boolean;
  leaf: boolean; // blades, or a device that the chart does not tell
  emitterSupply: string;
}
export interface PinNodes {
  net: string;
  line: number; // index, or none
  joint: number; // board side of the solder joint
  pin: number;
  front: number; // terminal, seen from the pin; none where the harness has nothing of ours
  spring: number; // edge between pin and front, or none
}
export interface Wiring {
  chart: Chart;
  values: BoardValues;
  nodes: number;
  a: Int32Array;
  b: Int32Array;
  ohms: Float64Array;
  edgesAt: ReadonlyMap<string, readonly number[]>;
  places: readonly Place[]; // every place that has edges
  lines: readonly Line[];
  line: ReadonlyMap<string, number>;
  columns: readonly number[]; // indices of lines in strobe order
  rows: readonly number[];
  contacts: readonly Contact[];
  contact: ReadonlyMap<string, number>;
  pins: ReadonlyMap<string, PinNodes>;
  tails: Int32Array; // by edge: the contact whose lug it ends at, or none
  springs: ReadonlySet<number>; // edges between a header pin and its terminal; not those within in-line connectors, which stay together
}

const kinds: Record<string, Line['kind'] | undefined> = {
  'switch-column': 'column',
  'switch-row': 'row',
  direct: 'direct',
  ground: 'ground',
};
export const nameOfStep = (step: Step): string =>
  'switch' in step
    ? step.switch
    : 'splice' in step
      ? `splice ${step.splice}`
      : 'load' in step
        ? step.load
        : 'lamp' in step
          ? step.lamp
          : step.inline;

/** One string a place, so that faults find their edges. */
export function placeKey(at: Place): string {
  switch (at.place) {
    case 'trace':
    case 'driver':
    case 'input':
      return `${at.place} ${at.line}`;
    case 'joint':
    case 'inline':
    case 'pin':
      return `${at.place} ${at.pin}`;
    case 'terminal':
      return at.to === undefined ? `terminal ${at.pin}` : `terminal ${at.pin} > ${at.to}`;
    case 'inline-crimp':
      return `inline-crimp ${at.pin} ${at.half}`;
    case 'segment':
      return `segment ${at.pin} > ${at.to}`;
    case 'join':
      return `join ${at.pin} > ${at.switch}`;
    case 'splice':
      return `splice ${at.pin} ${at.splice}${at.to === undefined ? '' : ` > ${at.to}`}`;
    case 'lug':
      return `lug ${at.switch} ${at.side}`;
    case 'contact':
    case 'diode':
      return `${at.place} ${at.switch}`;
    case 'package':
      return `package ${at.part}`;
  }
}

/** Builds the wiring of a chart. Switches that no chain reaches hang on a wire of their own from the first tap. */
export function wire(chart: Chart, values: BoardValues = boardValues): Wiring {
  let nodes = 2;
  const node = () => nodes++;
  const a: number[] = [];
  const b: number[] = [];
  const r: number[] = [];
  const edgesAt = new Map<string, number[]>();
  const places: Place[] = [];
  const edge = (from: number, to: number, value: number, ...here: Place[]) => {
    const index = a.push(from) - 1;
    b.push(to);
    r.push(value);
    for (const at of here) {
      const key = placeKey(at);
      const known = edgesAt.get(key);
      if (known) known.push(index);
      else {
        edgesAt.set(key, [index]);
        places.push(at);
      }
    }
    return index;
  };

  const contacts = [...chart.circuit.values()].map((c) => contactOf(chart, c, node));
  const contact = new Map(contacts.map((c, i) => [c.number, i]));
  const lines: Line[] = [];
  const pins = new Map<string, PinNodes>();
  const ids = [
    ...chart.columns.map((n) => idOf(chart, 'switch-column', n)),
    ...chart.rows.map((n) => idOf(chart, 'switch-row', n)),
    ...[...chart.nets.values()].filter((n) => n.kind === 'direct' || n.kind === 'ground').map((n) => n.id),
  ];
  for (const id of ids) {
    const kind = kinds[chart.nets.get(id)?.kind ?? id.split('.')[0] ?? ''] ?? 'row';
    const first = a.length;
    const board = kind === 'ground' ? ground : node();
    const edgeOfBoard = kind === 'ground' ? ground : node();
    if (kind !== 'ground') edge(board, edgeOfBoard, ohms.trace, { place: 'trace', line: id });
    const hang = hanging(chart, contacts, contact, kind, id, node, edge, (pin, near, far, spring) =>
      pins.set(pin, { net: id, line: lines.length, joint: near, pin: near, front: far, spring }),
    );
    const taps = chart.taps.get(id) ?? [];
    let bare: { from: number; pin: string } | undefined;
    for (const tap of taps) {
      const chains = chart.machine.chains.filter((chain) => chain.tap === tap.pin);
      const at: PinNodes = { net: id, line: lines.length, joint: edgeOfBoard, pin: node(), front: node(), spring: 0 };
      edge(edgeOfBoard, at.pin, ohms.joint, { place: 'joint', pin: tap.pin });
      at.spring = edge(at.pin, at.front, ohms.pin, { place: 'pin', pin: tap.pin });
      pins.set(tap.pin, at);
      const starts = chains.map((chain) => ({ steps: chain.steps, to: chain.steps[0] ? nameOfStep(chain.steps[0]) : '' }));
      for (const { steps, to } of starts.length > 0 ? starts : [{ steps: [], to: '' }]) {
        const start = node();
        edge(at.front, start, ohms.terminal, { place: 'terminal', pin: tap.pin }, { place: 'terminal', pin: tap.pin, to });
        hang.walk(start, tap.pin, steps);
        if (steps.length === 0) bare ??= { from: start, pin: tap.pin };
      }
    }
    const tap = taps[0];
    bare ??= tap ? { from: pins.get(tap.pin)!.front, pin: tap.pin } : { from: edgeOfBoard, pin: '' };
    if (kind !== 'ground') hang.rest(bare.from, bare.pin);
    lines.push({ id, kind, board, first, end: a.length, part: chart.nets.get(id)?.part ?? '' });
  }
  const grounded = contacts.filter((c) => edgesAt.has(placeKey(lugPlace(c.number))));
  const first = a.length;
  for (const c of contacts) if (c.kind === 'direct' && !grounded.includes(c)) edge(ground, c.rowLug, ohms.lug, lugPlace(c.number));
  lines.push({ id: '', kind: 'ground', board: ground, first, end: a.length, part: '' });
  for (const [pin, tap] of chart.pins) {
    if (pins.has(pin)) continue;
    const kind = chart.nets.get(tap.net)?.kind;
    const at = kind === 'supply' ? supply : none;
    pins.set(pin, { net: tap.net, line: none, joint: at, pin: at, front: none, spring: none });
  }
  const line = new Map(lines.map((l, i) => [l.id, i]));
  for (const c of contacts) {
    const circuit = chart.circuit.get(c.number)!;
    c.column = line.get(circuit.nets[0]!) ?? none;
    c.row =
      circuit.kind === 'matrix'
        ? (line.get(circuit.nets[1]!) ?? none)
        : lines.findIndex((l) => holds(l, edgesAt.get(placeKey(lugPlace(c.number)))));
  }
  return {
    chart,
    values,
    nodes,
    a: Int32Array.from(a),
    b: Int32Array.from(b),
    ohms: Float64Array.from(r),
    edgesAt,
    places,
    lines,
    line,
    columns: lines.flatMap((l, i) => (l.kind === 'column' ? [i] : [])),
    rows: lines.flatMap((l, i) => (l.kind === 'row' ? [i] : [])),
    contacts,
    contact,
    pins,
    tails: tailsOf(contacts, edgesAt, a.length),
    springs: new Set([...pins].flatMap(([name, pin]) => (pin.spring >= 0 && !chart.through.has(name) ? [pin.spring] : []))),
  };
}

const idOf = (chart: Chart, kind: 'switch-column' | 'switch-row', number: number) =>
  [...chart.nets.values()].find((net) => net.kind === kind && net.number === number)?.id ?? `${kind}.${number}`;

function contactOf(chart: Chart, circuit: Circuit, node: () => number): Contact {
  const { matrix } = chart.design;
  const direct = circuit.kind === 'direct';
  const [columnLug, rowLug, middle] = [node(), node(), direct ? none : node()];
  const towardsColumn = matrix.polarity === 'strobe-low'; // which way current runs through the series diode
  const [near, far] = matrix.diodeEnd === 'contact-column' ? [middle, columnLug] : [rowLug, middle];
  const source =
    chart.machine.switches.find((s) => s.column === circuit.column && s.row === circuit.row && s.name === circuit.name) ??
    chart.machine.direct.find((d) => d.number === circuit.number);
  return {
    number: circuit.number,
    kind: circuit.kind,
    column: none,
    row: none,
    columnLug,
    rowLug,
    middle,
    anode: direct ? none : towardsColumn ? near : far,
    cathode: direct ? none : towardsColumn ? far : near,
    ends: direct ? [columnLug, rowLug] : matrix.diodeEnd === 'contact-column' ? [rowLug, middle] : [middle, columnLug],
    normallyClosed: circuit.normally === 'closed',
    opto: circuit.device === 'opto',
    leaf: circuit.device === 'leaf' || circuit.device === 'other',
    emitterSupply: source?.emitterSupply ?? '',
  };
}

type AddEdge = (from: number, to: number, value: number, ...places: Place[]) => number;

/** Hangs the switches of one line on its chains. */
function hanging(
  chart: Chart,
  contacts: readonly Contact[],
  contact: ReadonlyMap<string, number>,
  kind: Line['kind'],
  id: string,
  node: () => number,
  edge: AddEdge,
  mate: (pin: string, near: number, far: number, spring: number) => void,
) {
  const joints = new Map<string, number>();
  const lugOf = (number: string): { lug: number; side: Side } | null => {
    const found = contacts[contact.get(number) ?? -1];
    const nets = chart.circuit.get(number)?.nets ?? [];
    if (!found) return null;
    if (kind === 'ground') return found.kind === 'direct' ? { lug: found.rowLug, side: 'ground' } : null;
    if (kind === 'direct') return nets[0] === id ? { lug: found.columnLug, side: 'input' } : null;
    if (kind === 'column') return nets[0] === id ? { lug: found.columnLug, side: 'column' } : null;
    return nets[1] === id ? { lug: found.rowLug, side: 'row' } : null;
  };
  const jointOf = (number: string): number | null => {
    const known = joints.get(number);
    const at = lugOf(number);
    if (known !== undefined || !at) return known ?? null;
    const made = node();
    joints.set(number, made);
    edge(made, at.lug, ohms.lug, { place: 'lug', switch: number, side: at.side });
    return made;
  };
  const walk = (from: number, pin: string, steps: readonly Step[]): void => {
    let here = from;
    for (const [i, step] of steps.entries()) {
      const arrived = node();
      edge(here, arrived, ohms.segment, { place: 'segment', pin, to: nameOfStep(step) });
      here = arrived;
      if ('switch' in step) {
        const joint = jointOf(step.switch);
        if (joint !== null) edge(here, joint, ohms.join, { place: 'join', pin, switch: step.switch });
        here = joint ?? here;
      } else if ('inline' in step) {
        const at = step.inline;
        const [near, far, beyond] = [node(), node(), node()];
        edge(here, near, ohms.terminal, { place: 'inline-crimp', pin: at, half: 'board' });
        mate(at, near, far, edge(near, far, ohms.pin, { place: 'inline', pin: at }));
        edge(far, beyond, ohms.terminal, { place: 'inline-crimp', pin: at, half: 'far' });
        here = beyond;
      } else if ('splice' in step) {
        const splice = step.splice;
        const middle = node();
        edge(here, middle, ohms.splice, { place: 'splice', pin, splice });
        const onward = steps.slice(i + 1);
        for (const branch of onward.length > 0 ? [...step.branches, onward] : step.branches) {
          const out = node();
          const to = branch[0] ? nameOfStep(branch[0]) : '';
          edge(middle, out, ohms.splice, { place: 'splice', pin, splice, to });
          walk(out, pin, branch);
        }
        return;
      }
    }
  };
  /** Switches of the line that no chain reached, each on a wire of its own. */
  const rest = (from: number, pin: string): void => {
    for (const c of contacts) {
      const at = lugOf(c.number);
      if (!at || joints.has(c.number)) continue;
      const arrived = node();
      edge(from, arrived, ohms.terminal + ohms.segment, { place: 'segment', pin, to: c.number });
      edge(arrived, jointOf(c.number)!, ohms.join, { place: 'join', pin, switch: c.number });
    }
  };
  return { walk, rest };
}

const lugPlace = (number: string): Place => ({ place: 'lug', switch: number, side: 'ground' });
const holds = (line: Line, edges: readonly number[] = []) => edges.some((e) => e >= line.first && e < line.end);

function tailsOf(contacts: readonly Contact[], edgesAt: ReadonlyMap<string, readonly number[]>, edges: number): Int32Array {
  const tails = new Int32Array(edges).fill(none);
  for (const [i, c] of contacts.entries())
    for (const side of ['column', 'row', 'input', 'ground'] as const)
      for (const edge of edgesAt.get(placeKey({ place: 'lug', switch: c.number, side })) ?? []) tails[edge] = i;
  return tails;
}
