/** The switch matrix as the path solver sees it: lines and cells by index, and what the board design decides. */
import { bareCells } from '../../chart/bare-cells';
import type { Chart } from '../../chart/types';
import type { Network, PathElement } from './network';

export interface Cell {
  number: string;
  column: number; // index into columns; −1 for a direct switch
  row: number; // index into rows, or into directs for a direct switch
}
export interface Wiring {
  network: Network;
  columns: readonly string[]; // net ids
  rows: readonly string[];
  directs: readonly string[];
  cells: readonly Cell[];
  cellOf: ReadonlyMap<string, number>;
  /** Every cell that is read: those of switches, then those where two lines cross without one. */
  shown: readonly Cell[];
  ofColumn: readonly (readonly { index: number; row: number }[])[];
  directCells: readonly number[];
  strobeLow: boolean;
  driven: boolean;
  diodeAtColumn: boolean; // the series diode stands between contact and column
  floatReads: 'open' | 'closed' | 'carry-over';
  /** Largest number of diode drops that still reads as closed, and whether one more is on the edge. */
  drops: { sure: number; edge: boolean };
  normallyClosed: ReadonlySet<string>;
  closedAtRest: readonly boolean[]; // the same by cell index
  /** Cells of optical pairs that are open while they see light, and that go dark with this element. */
  litOpen(element: PathElement): readonly number[];
  /** Columns first, then rows. */
  lineOf: ReadonlyMap<string, number>;
  /** One cell of each line. */
  firstOn: ReadonlyMap<string, Cell>;
}

const diodeVolts = 0.65; // a small-signal silicon diode at the row current
const edgeVolts = 0.15; // a level this near the threshold may read either way

/** How many diode drops a closed reading bears: ⌊(VT − Vlow)/VD⌋. */
export function dropsOf(matrix: Chart['design']['matrix']): { sure: number; edge: boolean } {
  const threshold = matrix.rowSupplyVolts * matrix.thresholdRatio;
  const low = matrix.driverVolts ?? 0.15;
  const sure = Math.floor((threshold - low) / diodeVolts);
  return { sure, edge: low + (sure + 1) * diodeVolts - threshold < edgeVolts };
}

const nobody: readonly number[] = [];
const made = new WeakMap<Network, Wiring>();

export function wiringOf(network: Network): Wiring {
  const known = made.get(network);
  if (known) return known;
  const { chart } = network;
  const numberOf = (net: string) => chart.nets.get(net)?.number ?? Number(net.split('.')[1] ?? 0);
  const numberedAt = (nets: readonly string[], number: number) => nets.findIndex((net) => numberOf(net) === number);
  const byLine = (kind: 'column' | 'row') => {
    const at = kind === 'column' ? 0 : 1;
    const nets = new Set(network.circuits.flatMap((c) => (c.kind === 'matrix' ? [c.nets[at] ?? ''] : [])));
    return [...nets].sort((a, b) => numberOf(a) - numberOf(b));
  };
  const columns = byLine('column');
  const rows = byLine('row');
  const directs = network.circuits.flatMap((c) => (c.kind === 'direct' ? [c.nets[0] ?? ''] : []));
  const cells = network.circuits.map(({ number, nets, kind }): Cell => {
    const [first = '', second = ''] = nets;
    return kind === 'matrix'
      ? { number, column: columns.indexOf(first), row: rows.indexOf(second) }
      : { number, column: -1, row: directs.indexOf(first) };
  });
  const { matrix } = chart.design;
  const firstOn = new Map<string, Cell>();
  for (const cell of cells.filter((c) => c.column >= 0))
    for (const net of [columns[cell.column], rows[cell.row]]) if (net !== undefined && !firstOn.has(net)) firstOn.set(net, cell);
  const darkened = new Map<string, number[]>();
  for (const element of network.elements.values())
    if (element.id.startsWith('emitters '))
      darkened.set(
        element.id,
        network.circuits.flatMap((c, index) => (c.normally === 'open' && element.serves.has(c.number) ? [index] : [])),
      );
  const bare = bareCells(chart).flatMap(({ number, ...at }): Cell[] => {
    const [column, row] = [numberedAt(columns, at.column), numberedAt(rows, at.row)];
    return column < 0 || row < 0 ? [] : [{ number, column, row }];
  });
  const shown = [...cells, ...bare];
  const wiring: Wiring = {
    network,
    columns,
    rows,
    directs,
    cells,
    shown,
    ofColumn: columns.map((_, c) => shown.flatMap(({ column, row }, index) => (column === c ? [{ index, row }] : []))),
    directCells: cells.flatMap(({ column }, index) => (column < 0 ? [index] : [])),
    cellOf: new Map(cells.map((cell, index) => [cell.number, index])),
    strobeLow: matrix.polarity === 'strobe-low',
    driven: matrix.idle === 'driven',
    diodeAtColumn: matrix.diodeEnd === 'contact-column',
    floatReads: matrix.floatReads,
    drops: dropsOf(matrix),
    normallyClosed: new Set(network.circuits.filter((c) => c.normally === 'closed').map((c) => c.number)),
    litOpen: (element) => (element.id.startsWith('emitters ') ? (darkened.get(element.id) ?? []) : nobody),
    lineOf: new Map([...columns, ...rows].map((net, index) => [net, index])),
    closedAtRest: network.circuits.map((c) => c.normally === 'closed'),
    firstOn,
  };
  made.set(network, wiring);
  return wiring;
}

const resting = new WeakMap<Wiring, ReadonlySet<number>>();

/** Cells that are electrically closed with nothing pressed. */
export function restCells(wiring: Wiring): ReadonlySet<number> {
  let cells = resting.get(wiring);
  if (!cells) {
    cells = new Set(wiring.cells.flatMap((cell, index) => (wiring.normallyClosed.has(cell.number) ? [index] : [])));
    resting.set(wiring, cells);
  }
  return cells;
}

const pressing = new WeakMap<Wiring, Map<string, ReadonlySet<number>>>();

/** Cells that are electrically closed while one switch is pressed. */
export function toggled(wiring: Wiring, number: string): ReadonlySet<number> {
  const known = pressing.get(wiring) ?? new Map<string, ReadonlySet<number>>();
  pressing.set(wiring, known);
  let cells = known.get(number);
  if (!cells) {
    const changed = new Set(restCells(wiring));
    const index = wiring.cellOf.get(number) ?? -1;
    if (!changed.delete(index)) changed.add(index);
    cells = changed;
    known.set(number, cells);
  }
  return cells;
}
