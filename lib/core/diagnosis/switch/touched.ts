/**
 * Which switches a fault can be felt at while at most one of them is pressed. Switches that are closed at rest carry some faults further: over
 * them a line that stands at the strobed level, or two that touch, reach others.
 */
import { connectorOf } from '../../chart/inline';
import type { Circuit } from '../../chart/types';
import type { Effect } from '../types';
import type { Network } from './network';

/** Numbers of all switches whose reading, alone pressed or with nothing pressed, can depend on the fault. */
export function touchedBy(network: Network, effect: Effect): Iterable<string> {
  const { circuits, elements } = network;
  switch (effect.does) {
    case 'cut':
      return elements.get(effect.element)?.serves ?? [];
    case 'exchanged':
      return on(circuits, effect.lines);
    case 'join':
      return onTouching(network, effect.lines);
    case 'shifted':
    case 'turned':
      return onHeaders(network, [effect.header]);
    case 'elsewhere':
      return onHeaders(network, [effect.header, effect.on]);
    case 'plugs-exchanged':
      return onHeaders(network, effect.headers);
    case 'select-stuck':
      return circuits.filter((c) => c.kind === 'matrix').map((c) => c.number);
    case 'driver-on':
    case 'to-ground':
    case 'to-supply':
      return on(circuits, [effect.line, ...acrossFrom(circuits, effect.line)]);
    case 'input-reads':
    case 'pull-open':
      return on(circuits, [effect.line]);
    default:
      return aroundSwitch(network, effect);
  }
}

const on = (circuits: readonly Circuit[], lines: readonly string[]): string[] =>
  circuits.filter((c) => c.nets.some((net) => lines.includes(net))).map((c) => c.number);

/** Lines of misplaced plugs, and those that a switch closed at rest joins to one that now stands at another level. */
function onHeaders({ circuits, chart }: Network, headers: readonly string[]): string[] {
  const lines = headers.flatMap((header) => (connectorOf(chart, header)?.pins ?? []).map((pin) => pin.net));
  return on(circuits, [...lines, ...lines.flatMap((line) => acrossFrom(circuits, line))]);
}

/** Lines that switches closed at rest join to this one: the rows of a column, the columns of a row. */
const acrossFrom = (circuits: readonly Circuit[], line: string): string[] =>
  circuits.filter((c) => c.normally === 'closed' && c.nets.includes(line)).flatMap((c) => c.nets.filter((net) => net !== line));

/** Two lines that touch. A column and a row that do make ghosts over switches closed at rest. */
function onTouching({ circuits }: Network, lines: readonly string[]): string[] {
  const columns = lines.filter((line) => line.startsWith('switch-column'));
  const across = columns.length === 1 ? lines.flatMap((line) => acrossFrom(circuits, line)) : [];
  return on(circuits, [...lines, ...across]);
}

type AtSwitch = Extract<Effect, { switch: string }>;

function aroundSwitch(network: Network, { does, switch: number }: AtSwitch): string[] {
  const { circuits, chart } = network;
  const own = circuits.find((c) => c.number === number);
  if (!own || own.kind === 'direct' || does === 'contact-closed') return [number];
  const atRest = own.normally === 'closed';
  const far = on(circuits, [...own.nets, ...own.nets.flatMap((net) => acrossFrom(circuits, net))]);
  const { polarity, diodeEnd, idle } = chart.design.matrix;
  if (does === 'middle-to-ground') {
    // Ground reaches a line through the diode where that lets it, and through the contact while that is closed.
    const byDiode = (polarity === 'strobe-low') !== (diodeEnd === 'contact-column');
    return byDiode || atRest ? far : [number];
  }
  if (does === 'bypass-both') {
    const carried = circuits.some((c) => c !== own && c.normally === 'closed' && c.nets.some((net) => own.nets.includes(net)));
    return idle === 'driven' || carried ? far : [number];
  }
  return atRest ? far : [number];
}
