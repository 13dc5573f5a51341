/**
 * The network that the solver walks, laid out for one set of faults and one set of closed contacts. A cut line falls apart into islands:
 * a node is a line together with one bit for each cut that lies between it and the board, so a short beyond a break acts only there.
 */
import type { Effect } from '../types';
import { directLines } from './direct';
import type { PathElement } from './network';
import { isMoved, seatOf } from './seat';
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
  blocked: readonly number[]; // nodes tied to the other level
  drivers: readonly number[]; // node of each column at its driver
  inputs: readonly number[]; // node of each row at its input
  /** The column that is really strobed in a slot; −1 for none. */
  strobed(slot: number): number;
  fixed: ReadonlyMap<number, 0 | 1>; // rows whose input does not listen
  carries: readonly number[]; // rows that keep the reading of the slot before
  /** Whether a direct switch, by cell index, reads closed. */
  direct(cell: number): boolean;
}

export function layOut(wiring: Wiring, effects: readonly Effect[], closed: ReadonlySet<number>): Layout {
  const { columns, rows, cells, strobeLow } = wiring;
  const cuts: PathElement[] = [];
  for (const effect of effects) {
    const element = effect.does === 'cut' ? wiring.network.elements.get(effect.element) : undefined;
    if (element) cuts.push(element);
  }
  const moved = isMoved(effects);
  const direct = directLines(wiring, effects, cuts, closed);
  const islands = 1 << cuts.length;
  const lines = (columns.length + rows.length) * islands;
  const rails = { ground: lines, supply: lines + 1 }; // for wires whose plug has come to sit on one
  const passes: Pass[] = [];
  const always: number[] = [];
  const blocked: number[] = [];
  const fixed = new Map<number, 0 | 1>();
  const carries: number[] = [];

  /** The node of a switch on one of its lines. */
  const side = (cell: Cell, which: 'column' | 'row'): number => {
    const own = (which === 'column' ? columns[cell.column] : rows[cell.row]) ?? '';
    if (!moved) return (wiring.lineOf.get(own) ?? -1) * islands + maskOf(cuts, own, cell.number);
    const seat = seatOf(wiring, effects, own, cell.number);
    if (seat === null) return nowhere;
    const rail = railOf(wiring, seat.net);
    if (rail) return cuts.some((cut) => servesOn(cut, own, cell.number)) ? nowhere : rails[rail];
    const line = wiring.lineOf.get(seat.net);
    if (line === undefined) return nowhere;
    let mask = 0;
    for (const [bit, cut] of cuts.entries()) {
      // A break on the board stays with its pin, one on the harness with its wire.
      const here = isOnBoard(cut) ? cut.lines.includes(seat.net) && (cut.pin ?? seat.pin) === seat.pin : servesOn(cut, own, cell.number);
      if (here) mask |= 1 << bit;
    }
    return line * islands + mask;
  };
  /** Ties a node to ground or supply: to the strobed level, or to the one that holds against it. */
  const tie = (at: number, level: 'ground' | 'supply') => {
    if (at >= 0) ((level === 'ground') === strobeLow ? always : blocked).push(at);
  };
  const joinNodes = (a: number, b: number) => {
    if (a >= 0 && b >= 0) passes.push({ from: a, to: b, drops: 0 }, { from: b, to: a, drops: 0 });
  };
  /** Where most of a line hangs. */
  const harness = (net: string): number => {
    const cell = wiring.firstOn.get(net);
    return cell ? (wiring.lineOf.get(net) ?? -1) * islands + maskOf(cuts, net, cell.number) : -1;
  };
  const conduct = (cell: Cell, pressed: boolean) => {
    const has = (does: Effect['does']) => effects.some((e) => e.does === does && 'switch' in e && e.switch === cell.number);
    const dark = cuts.some((cut) => wiring.litOpen(cut).includes(wiring.cellOf.get(cell.number) ?? -1));
    const own = cuts.filter((cut) => cut.lines.length === 0 && cut.serves.has(cell.number) && !(dark && cut.id.startsWith('emitters ')));
    const diodeOpen = own.some((cut) => cut.kinds.includes('diode open'));
    // Blades that touch, or a detector that is shorted, bridge whatever keeps the contact open.
    const contact = has('contact-closed') || ((pressed || dark) && own.length === (diodeOpen ? 1 : 0));
    const [column, row] = [side(cell, 'column'), side(cell, 'row')];
    if (has('bypass-both')) joinNodes(column, row);
    if (has('middle-to-ground')) {
      const [byContact, byDiode] = wiring.diodeAtColumn ? [row, column] : [column, row];
      if (contact) tie(byContact, 'ground');
      // The diode lets ground hold a column that is strobed high, and pull a row that is pulled up.
      if (!diodeOpen && strobeLow !== wiring.diodeAtColumn) tie(byDiode, 'ground');
      return;
    }
    if (!contact || diodeOpen || column < 0 || row < 0) return;
    if (has('diode-bypassed')) joinNodes(column, row);
    else passes.push(has('diode-reversed') ? { from: row, to: column, drops: 1 } : { from: column, to: row, drops: 1 });
  };

  if (moved) {
    tie(rails.ground, 'ground');
    tie(rails.supply, 'supply');
    for (const net of direct.low()) {
      const line = wiring.lineOf.get(net);
      if (line !== undefined) tie(line * islands, 'ground');
    }
  }
  for (const index of closed) {
    const cell = cells[index] as Cell;
    if (cell.column >= 0) conduct(cell, true);
  }
  // A pair that is open while it sees light closes in the dark.
  for (const cut of cuts)
    for (const index of wiring.litOpen(cut)) {
      const cell = cells[index] as Cell;
      if (!closed.has(index) && cell.column >= 0) conduct(cell, false);
    }
  for (const effect of effects) {
    switch (effect.does) {
      case 'driver-on':
        always.push(columns.indexOf(effect.line) * islands);
        break;
      case 'to-ground':
        tie(harness(effect.line), 'ground');
        break;
      case 'to-supply':
        tie(harness(effect.line), 'supply');
        break;
      case 'join':
        joinNodes(harness(effect.lines[0]), harness(effect.lines[1]));
        break;
      case 'input-reads':
        if (rows.includes(effect.line)) fixed.set(rows.indexOf(effect.line), effect.reads === 'closed' ? 1 : 0);
        break;
      case 'pull-open':
        if (wiring.floatReads === 'closed') fixed.set(rows.indexOf(effect.line), 1);
        else if (wiring.floatReads === 'carry-over') carries.push(rows.indexOf(effect.line));
        break;
      case 'contact-closed':
      case 'bypass-both':
      case 'middle-to-ground': {
        const index = wiring.cellOf.get(effect.switch) ?? -1;
        const cell = cells[index];
        if (cell && cell.column >= 0 && !closed.has(index)) conduct(cell, false);
      }
    }
  }

  return {
    nodes: lines + (moved ? 2 : 0),
    passes,
    always,
    blocked,
    drivers: columns.map((_, c) => c * islands),
    inputs: rows.map((_, r) => (columns.length + r) * islands),
    strobed: strobedBy(effects, columns.length),
    fixed,
    carries,
    direct: direct.reads,
  };
}

/** In place of a node: the wire meets nothing. */
const nowhere = -1;

/** The rail that a line of the board is; null for a signal. */
function railOf({ network }: Wiring, net: string): 'ground' | 'supply' | null {
  const kind = network.chart.nets.get(net)?.kind;
  return kind === 'ground' || kind === 'supply' ? kind : null;
}

const isOnBoard = ({ id }: PathElement): boolean => /^(driver|input|joint|package|matrix) /.test(`${id} `);
const servesOn = (cut: PathElement, net: string, number: string): boolean => cut.lines.includes(net) && cut.serves.has(number);

function maskOf(cuts: readonly PathElement[], net: string, number: string): number {
  let mask = 0;
  for (let bit = 0; bit < cuts.length; bit++) {
    const cut = cuts[bit] as PathElement;
    if (servesOn(cut, net, number)) mask |= 1 << bit;
  }
  return mask;
}

function strobedBy(effects: readonly Effect[], columns: number): (slot: number) => number {
  const stuck = effects.filter((e) => e.does === 'select-stuck');
  if (stuck.length === 0) return (slot) => slot;
  return (slot) => {
    const address = stuck.reduce((bits, { bit, at }) => (at === 1 ? bits | (1 << bit) : bits & ~(1 << bit)), slot);
    return address < columns ? address : -1;
  };
}
