/**
 * The network that the solver walks, laid out for one set of faults and one set of closed contacts. A cut line falls apart into islands:
 * a node is a line together with one bit for each cut that lies between it and the board, so a short beyond a break acts only there.
 */

import type { Effect } from '../types';
import type { PathElement } from './network';
import type { Cell, Wiring } from './wiring';

/** The strobed level passes from one node to another at a cost in diode drops. */
interface Pass {
  from: number;
  to: number;
  drops: number;
}
export interface Layout {
  nodes: number;
  passes: readonly Pass[];
  always: readonly number[]; // nodes that stand at the strobed level all the time
  blocked: ReadonlySet<number>; // nodes tied to the other level
  drivers: readonly number[]; // node of each column at its driver
  inputs: readonly number[]; // node of each row at its input
  /** The column that is really strobed in a slot; −1 for none. */
  strobed(slot: number): number;
  fixed: ReadonlyMap<number, 0 | 1>; // rows whose input does not listen
  carries: ReadonlySet<number>; // rows that keep the reading of the slot before
  direct(cell: number): boolean;
}

export function layOut(wiring: Wiring, effects: readonly Effect[], closed: ReadonlySet<number>): Layout {
  const { columns, rows, cells, strobeLow } = wiring;
  const cuts = effects.flatMap((e) => (e.does === 'cut' ? (wiring.network.elements.get(e.element) ?? []) : []));
  const islands = 1 << cuts.length;
  const lineOf = (net: string) => wiring.lineOf.get(net) ?? -1;
  const node = (net: string, cell: Cell) => lineOf(net) * islands + maskOf(cuts, net, cell.number);
  const passes: Pass[] = [];
  const always: number[] = [];
  const blocked = new Set<number>();
  const fixed = new Map<number, 0 | 1>();
  const carries = new Set<number>();
  const grounded = new Set<string>(); // direct lines

  /** Ties a node to ground or supply: to the strobed level, or to the one that holds against it. */
  const tie = (at: number, level: 'ground' | 'supply') => {
    if (at < 0) return;
    if ((level === 'ground') === strobeLow) always.push(at);
    else blocked.add(at);
  };
  const joinNodes = (a: number, b: number) => {
    if (a >= 0 && b >= 0) passes.push({ from: a, to: b, drops: 0 }, { from: b, to: a, drops: 0 });
  };
  /** Where most of a line hangs. */
  const harness = (net: string): number => {
    const cell = wiring.firstOn.get(net);
    return cell ? node(net, cell) : -1;
  };
  const side = (cell: Cell, which: 'column' | 'row'): number => {
    const own = (which === 'column' ? columns[cell.column] : rows[cell.row]) ?? '';
    const fed = fedBy(wiring, effects, own, cell, which);
    return fed === null ? -1 : lineOf(fed) * islands + maskOf(cuts, own, cell.number);
  };

  for (const effect of effects) {
    if (effect.does === 'driver-on') always.push(columns.indexOf(effect.line) * islands);
    else if (effect.does === 'to-ground' && wiring.directs.includes(effect.line)) grounded.add(effect.line);
    else if (effect.does === 'to-ground') tie(harness(effect.line), 'ground');
    else if (effect.does === 'to-supply') tie(harness(effect.line), 'supply');
    else if (effect.does === 'join') joinNodes(harness(effect.lines[0]), harness(effect.lines[1]));
    else if (effect.does === 'input-reads' && rows.includes(effect.line))
      fixed.set(rows.indexOf(effect.line), effect.reads === 'closed' ? 1 : 0);
    else if (effect.does === 'input-reads' && effect.reads === 'closed') grounded.add(effect.line);
    else if (effect.does === 'pull-open' && wiring.floatReads === 'closed') fixed.set(rows.indexOf(effect.line), 1);
    else if (effect.does === 'pull-open' && wiring.floatReads === 'carry-over') carries.add(rows.indexOf(effect.line));
  }
  const named = effects.flatMap((e) => ('switch' in e ? (wiring.cellOf.get(e.switch) ?? []) : []));
  for (const index of new Set([...closed, ...named])) {
    const cell = cells[index];
    if (cell && cell.column >= 0) conduct(cell, closed.has(index));
  }

  function conduct(cell: Cell, pressed: boolean) {
    const here = effects.flatMap((e) => ('switch' in e && e.switch === cell.number ? [e.does] : []));
    const broken = cuts.filter((cut) => cut.lines.length === 0 && cut.serves.has(cell.number));
    const diodeOpen = broken.some((cut) => cut.kinds.includes('diode open'));
    const contact = (pressed || here.includes('contact-closed')) && broken.length === (diodeOpen ? 1 : 0);
    const [column, row] = [side(cell, 'column'), side(cell, 'row')];
    if (here.includes('bypass-both')) joinNodes(column, row);
    if (here.includes('middle-to-ground')) {
      const [byContact, byDiode] = wiring.diodeAtColumn ? [row, column] : [column, row];
      if (contact) tie(byContact, 'ground');
      // The diode lets ground hold a column that is strobed high, and pull a row that is pulled up.
      if (!diodeOpen && strobeLow !== wiring.diodeAtColumn) tie(byDiode, 'ground');
      return;
    }
    if (!contact || diodeOpen || column < 0 || row < 0) return;
    if (here.includes('diode-bypassed')) joinNodes(column, row);
    else passes.push(here.includes('diode-reversed') ? { from: row, to: column, drops: 1 } : { from: column, to: row, drops: 1 });
  }

  return {
    nodes: (columns.length + rows.length) * islands,
    passes,
    always,
    blocked,
    drivers: columns.map((_, c) => c * islands),
    inputs: rows.map((_, r) => (columns.length + r) * islands),
    strobed: strobedBy(effects, columns.length),
    fixed,
    carries,
    direct: (index) => {
      const cell = cells[index];
      const net = wiring.directs[cell?.row ?? -1] ?? '';
      const whole = !cuts.some((cut) => cut.serves.has(cell?.number ?? ''));
      return grounded.has(net) || (closed.has(index) && whole);
    },
  };
}

function maskOf(cuts: readonly PathElement[], net: string, number: string): number {
  let mask = 0;
  for (const [bit, cut] of cuts.entries()) if (cut.lines.includes(net) && cut.serves.has(number)) mask |= 1 << bit;
  return mask;
}

/** The board line that a switch really hangs on: its own, another when wires changed places or the plug sits one over, or none. */
function fedBy(wiring: Wiring, effects: readonly Effect[], own: string, cell: Cell, which: 'column' | 'row'): string | null {
  const { chart } = wiring.network;
  const through = (net: string, header: string) =>
    (chart.taps.get(net) ?? []).find((t) => t.header === header && (t.behind.length === 0 || t.behind.includes(cell.number)));
  let net: string | null = own;
  for (const effect of effects) {
    if (net === null) return null;
    if (effect.does === 'exchanged' && through(net, effect.header)) {
      const [a, b] = effect.lines;
      if (net === a || net === b) net = net === a ? b : a;
    } else if (effect.does === 'shifted') {
      const tap = through(net, effect.header);
      if (tap) net = chart.pins.get(`${effect.header}-${tap.position + effect.by}`)?.net ?? null;
    }
  }
  return net !== null && (which === 'column' ? wiring.columns : wiring.rows).includes(net) ? net : null;
}

function strobedBy(effects: readonly Effect[], columns: number): (slot: number) => number {
  const stuck = effects.filter((e) => e.does === 'select-stuck');
  return (slot) => {
    const address = stuck.reduce((bits, { bit, at }) => (at === 1 ? bits | (1 << bit) : bits & ~(1 << bit)), slot);
    return address < columns ? address : -1;
  };
}
