/**
 * The signal path of every switch, read from the chart: elements from the driver to the input, each with the switches that it serves.
 * An element serves a switch when nothing else leads from that switch to the board: found by walking, so chains, splices, several taps
 * and closed rings need no special cases.
 */
import { splitInline } from '../../chart/inline';
import { netTitle } from '../../chart/names';
import type { Chart, Circuit } from '../../chart/types';
import { housingName } from '../../chart/views';
import type { Element } from '../types';
import { listed } from '../words';
import { type Edge, edgesOf, lostWithout, type Piece } from './line-tree';
import type { PriorKind } from './priors';
import { priorOf } from './priors';

/** Something in series with one or more switches. Its kinds of fault exclude each other. */
export interface PathElement extends Element {
  kinds: readonly PriorKind[];
  serves: ReadonlySet<string>; // switch numbers
  lines: readonly string[]; // nets that it stands in; empty for what belongs to one switch
  pin?: string;
  group?: string; // housing, header or package: faults in one are likelier together
}
export interface Network {
  chart: Chart;
  circuits: readonly Circuit[];
  elements: ReadonlyMap<string, PathElement>;
  /** Element ids on the way of each switch, from the driver to the input (or from the input to ground). */
  path: ReadonlyMap<string, readonly string[]>;
  /** What the chart does not say, and what was assumed. */
  notes: readonly string[];
}

const made = new WeakMap<Chart, Network>();

/** The network of a chart, made once. */
export function networkOf(chart: Chart): Network {
  let network = made.get(chart);
  if (!network) {
    network = build(chart);
    made.set(chart, network);
  }
  return network;
}

function build(chart: Chart): Network {
  const elements = new Map<string, PathElement>();
  const add = (element: PathElement) => elements.set(element.id, element);
  const notes: string[] = [];
  const lines = new Map<string, Edge[]>();
  for (const net of new Set(chart.circuits.flatMap((c) => c.nets))) {
    const numbers = chart.circuits.filter((c) => c.nets.includes(net)).map((c) => c.number);
    const edges = edgesOf(chart, net, numbers);
    lines.set(net, edges);
    for (const element of lineElements(chart, net, edges, numbers)) add(element);
    notes.push(...unsaid(chart, net, edges));
  }
  for (const circuit of chart.circuits) for (const element of ownElements(circuit)) add(element);
  for (const element of sharedElements(chart, lines, elements)) add(element);
  const path = new Map(chart.circuits.map((c) => [c.number, pathOf(c, chart, elements, lines)]));
  return { chart, circuits: chart.circuits, elements, path, notes };
}

const lower = (text: string) => text.charAt(0).toLowerCase() + text.slice(1);

function lineElements(chart: Chart, net: string, edges: readonly Edge[], numbers: readonly string[]): PathElement[] {
  const all = new Set(numbers);
  const title = netTitle(chart, net);
  const part = chart.nets.get(net)?.part ?? '';
  const isColumn = net.startsWith('switch-column');
  const unplaced = edges.flatMap(({ piece }) => (piece.is === 'run' && piece.pin === '' ? [piece.to] : []));
  const root: PathElement = {
    id: `${isColumn ? 'driver' : 'input'} ${net}`,
    name: `${isColumn ? 'Driver' : 'Input'} of ${lower(title)}`,
    detail: [part, 'its trace and socket on the board'].filter(Boolean).join(', '),
    place: part || title,
    fault: isColumn ? 'driver' : 'row-input',
    kinds: [isColumn ? 'driver dead' : 'row input dead'],
    serves: all,
    lines: [net],
    ...(part && { group: part }),
  };
  const pieces = edges.map((edge): PathElement => {
    const serves = lostWithout(edges, (other) => other === edge, numbers);
    // Behind which of several taps an unplaced switch hangs is not known: each tap may be the one.
    if (edge.piece.is === 'joint' || edge.piece.is === 'terminal') for (const number of unplaced) serves.add(number);
    return { ...wordsFor(chart, net, edge.piece), serves, lines: [net] };
  });
  return [root, ...pieces];
}

type Words = Omit<PathElement, 'serves' | 'lines'>;

function wordsFor(chart: Chart, net: string, piece: Piece): Words {
  const header = 'pin' in piece && piece.pin !== '' ? piece.pin.replace(/-\d+$/, '') : '';
  const plug = 'pin' in piece ? housingName(piece.pin) : '';
  switch (piece.is) {
    case 'joint':
      return {
        id: `joint ${piece.pin}`,
        name: `Joint ${piece.pin}`,
        detail: 'solder under the header',
        place: piece.pin,
        fault: 'cracked-joint',
        kinds: ['header joint'],
        pin: piece.pin,
        group: header,
      };
    case 'terminal': {
      const how = chart.headers.get(header)?.termination ?? 'crimp';
      const wire: PriorKind[] = how === 'insulation-displacement' ? ['insulation displacement'] : ['crimp'];
      return {
        id: `terminal ${piece.pin}`,
        name: `Contact ${plug}`,
        detail: how === 'insulation-displacement' ? 'insulation-displacement terminal on its pin' : 'crimped terminal on its pin',
        place: piece.pin,
        fault: 'worn-contact',
        kinds: ['terminal spring', ...wire],
        pin: piece.pin,
        group: header,
      };
    }
    case 'run': {
      const from = piece.from || plug || 'the board';
      return {
        id: `run ${net} ${piece.pin} ${piece.to}`,
        name: `Run ${from} to ${piece.to}`,
        detail: `${chart.nets.get(net)?.colour ?? ''} wire and its joint at ${piece.to}`.trim(),
        place: `${from} to ${piece.to}`,
        fault: 'broken-wire',
        kinds: ['wire segment', 'through-joint'],
      };
    }
    case 'inline': {
      const connector = splitInline(piece.through)?.connector ?? '';
      const displaced = chart.inline.get(connector)?.termination === 'insulation-displacement';
      return {
        id: `inline ${piece.through}`,
        name: `Contact ${piece.through}`,
        detail: `in the in-line connector behind ${housingName(piece.pin)}, with its wire on either side`,
        place: piece.through,
        fault: 'worn-contact',
        kinds: ['terminal spring', displaced ? 'in-line displacement' : 'in-line crimps'],
        pin: piece.through,
        group: connector,
      };
    }
    case 'splice':
      return {
        id: `splice ${net} ${piece.name}`,
        name: `Splice ${piece.name}`,
        detail: `where ${lower(netTitle(chart, net))} parts`,
        place: `splice ${piece.name}`,
        fault: 'splice',
        kinds: ['splice'],
      };
    case 'tail':
      return {
        id: `tail ${net} ${piece.number}`,
        name: `Lug of ${piece.number}, ${lower(netTitle(chart, net))} side`,
        detail: 'the short wire and its joint at the switch',
        place: `${piece.number}, ${lower(netTitle(chart, net))} lug`,
        fault: 'lug-joint',
        kinds: ['lug tail'],
        group: `switch ${piece.number}`,
      };
  }
}

const contactKinds: Record<string, PriorKind> = {
  leaf: 'leaf contact',
  microswitch: 'microswitch',
  reed: 'reed',
  opto: 'optical pair',
  other: 'leaf contact',
};

function ownElements(circuit: Circuit): PathElement[] {
  const kind = contactKinds[circuit.device] ?? 'leaf contact';
  const own = { serves: new Set([circuit.number]), lines: [], group: `switch ${circuit.number}`, place: circuit.number };
  const contact: PathElement = {
    ...own,
    id: `contact ${circuit.number}`,
    name: kind === 'optical pair' ? `Optical pair of ${circuit.number}` : `Contact of ${circuit.number}`,
    detail: kind === 'leaf contact' ? 'dirty, or out of adjustment' : kind,
    fault: priorOf(kind).fault,
    kinds: [kind],
  };
  const diode: PathElement = {
    ...own,
    id: `diode ${circuit.number}`,
    name: `Diode of ${circuit.number}`,
    detail: circuit.diode,
    fault: 'diode-absent',
    kinds: ['diode open'],
  };
  const ground: PathElement = {
    ...own,
    id: `tail ground ${circuit.number}`,
    name: `Lug of ${circuit.number}, ground side`,
    detail: 'the short wire and its joint at the switch',
    place: `${circuit.number}, ground lug`,
    fault: 'lug-joint',
    kinds: ['lug tail'],
  };
  return circuit.kind === 'matrix' ? [contact, diode] : [contact, ground];
}

/** What stands in several lines at once: plugs, packages, supplies and returns. */
function sharedElements(
  chart: Chart,
  lines: ReadonlyMap<string, readonly Edge[]>,
  elements: ReadonlyMap<string, PathElement>,
): PathElement[] {
  const shared: PathElement[] = [];
  const numbersOn = (nets: readonly string[]) => chart.circuits.filter((c) => c.nets.some((n) => nets.includes(n))).map((c) => c.number);
  for (const header of chart.headers.keys()) {
    const mine = ({ piece }: Edge) => 'pin' in piece && piece.pin.startsWith(`${header}-`) && piece.is === 'terminal';
    const nets = [...lines].filter(([, edges]) => edges.some(mine)).map(([net]) => net);
    if (nets.length === 0) continue;
    const serves = new Set(nets.flatMap((net) => [...lostWithout(lines.get(net) ?? [], mine, numbersOn([net]))]));
    shared.push({
      id: `plug ${header}`,
      name: `Plug ${housingName(header)}`,
      detail: 'off, not pushed home, or not where it belongs',
      place: header,
      fault: 'misplaced-plug',
      kinds: ['housing unplugged'],
      serves,
      lines: nets,
      group: header,
    });
  }
  for (const connector of chart.inline.keys()) {
    const mine = ({ piece }: Edge) => piece.is === 'inline' && piece.through.startsWith(`${connector}-`);
    const nets = [...lines].filter(([, edges]) => edges.some(mine)).map(([net]) => net);
    const serves = new Set(nets.flatMap((net) => [...lostWithout(lines.get(net) ?? [], mine, numbersOn([net]))]));
    if (serves.size === 0) continue;
    shared.push({
      id: `plug ${connector}`,
      name: `In-line connector ${connector}`,
      detail: 'apart, not pushed home, or not where it belongs',
      place: connector,
      fault: 'misplaced-plug',
      kinds: ['housing unplugged'],
      serves,
      lines: nets,
      group: connector,
    });
  }
  const parts = new Map<string, string[]>();
  for (const net of lines.keys()) {
    const part = chart.nets.get(net)?.part;
    if (part) parts.set(part, [...(parts.get(part) ?? []), net]);
  }
  for (const [part, nets] of parts) {
    if (nets.length < 2) continue;
    const root = elements.get(`driver ${nets[0]}`) ?? elements.get(`input ${nets[0]}`);
    const fault = root?.fault ?? 'driver';
    const words = { name: `${part} as a whole`, detail: 'the package, its socket, its supply or ground', place: part, fault };
    shared.push({ id: `package ${part}`, ...words, kinds: ['package'], serves: new Set(numbersOn(nets)), lines: nets, group: part });
  }
  const matrix = chart.circuits.filter((c) => c.kind === 'matrix');
  if (matrix.length > 1)
    shared.push({
      id: 'matrix supply',
      name: 'Supply or ground of the whole matrix',
      detail: 'or the door switch, or the wrong test',
      place: 'matrix supply',
      fault: 'supply',
      kinds: ['matrix supply'],
      serves: new Set(matrix.map((c) => c.number)),
      lines: [...new Set(matrix.flatMap((c) => c.nets))],
    });
  const direct = chart.circuits.filter((c) => c.kind === 'direct').map((c) => c.number);
  if (direct.length > 1)
    shared.push({
      id: 'ground return',
      name: 'Ground return of the direct switches',
      detail: 'their common wire to ground',
      place: 'ground',
      fault: 'broken-wire',
      kinds: ['ground return'],
      serves: new Set(direct),
      lines: [],
    });
  return [...shared, ...emitterSupplies(chart)];
}

function emitterSupplies(chart: Chart): PathElement[] {
  const fed = new Map<string, string[]>();
  for (const { emitterSupply, ...place } of chart.machine.switches) {
    const circuit = chart.circuits.find((c) => c.column === place.column && c.row === place.row);
    if (emitterSupply && circuit) fed.set(emitterSupply, [...(fed.get(emitterSupply) ?? []), circuit.number]);
  }
  return [...fed].map(([net, numbers]) => ({
    id: `emitters ${net}`,
    name: `Emitter supply, ${lower(netTitle(chart, net))}`,
    detail: `feeds ${listed(numbers)}`,
    place: netTitle(chart, net),
    fault: 'supply' as const,
    kinds: ['emitter supply' as const],
    serves: new Set(numbers),
    lines: [],
  }));
}

/** In the order in which the current, or the eye, passes them. */
function pathOf(
  circuit: Circuit,
  chart: Chart,
  elements: ReadonlyMap<string, PathElement>,
  lines: ReadonlyMap<string, readonly Edge[]>,
): string[] {
  const on = (net: string) => {
    const root = elements.has(`driver ${net}`) ? `driver ${net}` : `input ${net}`;
    const way = (lines.get(net) ?? []).flatMap(({ piece }) => {
      const { id } = wordsFor(chart, net, piece);
      return elements.get(id)?.serves.has(circuit.number) ? [id] : [];
    });
    return [root, ...way];
  };
  const [first = '', second] = circuit.nets;
  const own = [`contact ${circuit.number}`, circuit.kind === 'matrix' ? `diode ${circuit.number}` : `tail ground ${circuit.number}`];
  const back = second === undefined ? [] : on(second).reverse();
  return [...on(first), ...own, ...back];
}

/** A line whose switches the chart does not place behind one of its taps. */
function unsaid(chart: Chart, net: string, edges: readonly Edge[]): string[] {
  const lost = edges.flatMap(({ piece }) => (piece.is === 'run' && piece.pin === '' ? [piece.to] : []));
  if (lost.length === 0) return [];
  const taps = (chart.taps.get(net) ?? []).map((tap) => tap.pin);
  const title = netTitle(chart, net);
  return taps.length === 0
    ? [`The chart gives ${lower(title)} no header position: its connector cannot be judged.`]
    : [
        `The chart does not say behind which of ${listed(taps)} ${listed(lost)} hang${lost.length === 1 ? 's' : ''}: each is taken to serve ${lost.length === 1 ? 'it' : 'them'}.`,
      ];
}
