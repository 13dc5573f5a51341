/** A machine held against its board design: what the board offers and the machine leaves unused, and what it uses that the board lacks. */
import { keysOnMachine } from './keys';
import { netTitle } from './names';
import type { Net } from './schema';
import type { Chart } from './types';

export interface AgainstDesign {
  unused: { net: string; title: string; colour: string }[]; // lines on which this machine has nothing
  missing: { what: string; net: string }[]; // things of the machine on lines that the design does not list
  cells: { filled: number; of: number }; // of the switch matrix
  keys: { header: string; chart: number[]; pins: number[]; plug: number[] }[]; // found otherwise than the design has them
}

const used: Net['kind'][] = ['switch-column', 'switch-row', 'direct', 'lamp-column', 'lamp-row', 'load', 'illumination'];

export function againstDesign(chart: Chart): AgainstDesign {
  const { machine, nets } = chart;
  const on = new Map<string, string[]>(); // by net: what hangs on it
  const hang = (net: string, what: string) => on.set(net, [...(on.get(net) ?? []), what]);
  for (const c of chart.circuits) for (const net of c.nets) hang(net, `${c.number} ${c.name}`);
  for (const l of chart.lamps) {
    for (const axis of ['column', 'row'] as const) {
      const known = [...nets.values()].find((n) => n.kind === `lamp-${axis}` && n.number === l[axis]);
      hang(known?.id ?? `lamp-${axis}.${l[axis]}`, `lamp ${l.number} ${l.name}`);
    }
  }
  for (const l of machine.loads) for (const net of [l.net, l.supply]) hang(net, `${l.number} ${l.name}`);
  for (const g of machine.illumination) for (const net of [g.net, g.back]) hang(net, `${g.id} ${g.name}`);
  return {
    unused: [...nets.values()]
      .filter((net) => used.includes(net.kind) && !on.has(net.id))
      .map((net) => ({ net: net.id, title: netTitle(chart, net.id), colour: net.colour })),
    missing: [...on].flatMap(([net, things]) => (nets.has(net) ? [] : things.map((what) => ({ what, net })))),
    cells: { filled: new Set(machine.switches.map((s) => `${s.column},${s.row}`)).size, of: chart.columns.length * chart.rows.length },
    keys: [...chart.headers.values()].flatMap(({ id, keys }) => {
      const found = keysOnMachine(chart, id);
      const same = (side: number[]) => side.length === keys.length && side.every((key) => keys.includes(key));
      return same(found.pins) && same(found.plug) ? [] : [{ header: id, chart: keys, ...found }];
    }),
  };
}

/** Fields that make a chart this one and no other; two charts are compared without them. */
const own = ['id', 'name', 'unit', 'serial', 'since', 'asFound', 'keysAsFound', 'photos', 'pinned', 'boardPhotos', 'boardPinned'];
export const isOwn = (path: readonly string[]): boolean => own.includes(path[0] ?? '');
