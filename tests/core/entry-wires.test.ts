/** A cell that names no wire is never called understood, whatever table it stands in. Notations: common practice, no source. */
import { describe, expect, it } from 'vitest';
import { type EntryChart, emptyMachine, marksOf, readTable, understand } from '@/lib/core/chart/entry';
import { machineOf, matrixGrid, sb2, sheet, switchList } from './entry-pastes';

const chart: EntryChart = { design: sb2, machine: emptyMachine(sb2, { id: 'new', name: 'New machine' }) };
const notWires = [
  'not a wire',
  'no wire',
  'plaid',
  'xyzzy',
  'grey 12',
  'V3-YEL',
  'grey/plaid',
  'see note 4',
  '—',
  '?',
  'grey or white',
  '12',
  'orange peel',
  'unused',
  'none',
];
const list = switchList();
const netsOf = (kind: string) => sb2.nets.filter((net) => net.kind === kind);
const [header] = sb2.headers;
const pins = header?.pins.slice(0, 6).map((p) => [header.id, String(p.position), 'grey/orange', p.net]) ?? [];
const lamps = [1, 2, 3].map((n) => [
  '',
  `Lamp ${n}`,
  '1',
  netsOf('lamp-column')[0]?.colour ?? '',
  String(n),
  netsOf('lamp-row')[n - 1]?.colour ?? '',
]);
/** Each with the row and column, from 0, of a wire in it. */
const tables: Record<string, [rows: string[][], row: number, column: number]> = {
  'the column wire of a switch list': [list, 5, 3],
  'the row wire of a switch list': [list, 5, 6],
  'a connector list': [[['Header', 'Pin', 'Wire', 'Line'], ...pins], 3, 2],
  'a connector list without lines': [[['Header', 'Pin', 'Wire'], ...pins.map((row) => row.slice(0, 3))], 3, 2],
  'a list of lines': [[['Line', 'Wire', 'AWG'], ...sb2.nets.slice(0, 6).map((net) => [net.id, net.colour, '22'])], 3, 1],
  'a load list': [
    [
      ['No.', 'Coil', 'Driver', 'Wire', 'Supply'],
      ...netsOf('load')
        .slice(0, 6)
        .map((net, i) => [`L${i + 1}`, `Coil ${i}`, net.part ?? '', net.colour, 'supply.coil']),
    ],
    3,
    3,
  ],
  'a list of lamp strings': [
    [
      ['String', 'Name', 'Line', 'Back', 'Lamps', 'Wire'],
      ['G1', 'Upper', 'illumination.1', 'illumination.1-back', '12', 'white'],
    ],
    1,
    5,
  ],
  'a lamp list': [[['Lamp no', 'Lamp', 'Column', 'Column wire', 'Row', 'Row wire'], ...lamps], 2, 3],
  'an in-line list, near half': [
    [
      ['Connector', 'Position', 'Line', 'Wire', 'Wire beyond'],
      ['X1', '1', 'switch-row.1', 'grey/blue', 'white'],
      ['X1', '2', 'switch-row.2', 'grey/red', 'pink'],
    ],
    2,
    3,
  ],
  'an in-line list, far half': [
    [
      ['Connector', 'Position', 'Line', 'Wire', 'Wire beyond'],
      ['X1', '1', 'switch-row.1', 'grey/blue', 'white'],
      ['X1', '2', 'switch-row.2', 'grey/red', 'pink'],
    ],
    2,
    4,
  ],
};

describe.each(Object.entries(tables))('%s', (_, [rows, row, column]) => {
  const markWith = (cell: string) => {
    const table = readTable(sheet(rows.map((cells, r) => cells.map((text, c) => (r === row && c === column ? cell : text)))));
    return marksOf(table, understand(table, chart))(row + 1, column + 1).mark;
  };
  it.each(notWires)('“%s” is not called understood', (cell) => expect(['understood', 'heading', 'blank']).not.toContain(markWith(cell)));
  it('a wire is', () => expect(markWith(rows[row]?.[column] ?? '')).toBe('understood'));
});

it.each(notWires.filter((cell) => !/^(—|\?|12|unused|none)$/.test(cell)))('the head of a matrix drawn as a grid: “%s” is told', (cell) => {
  const grid = matrixGrid().map((cells, r) => cells.map((text, c) => (r === 0 && c === 3 ? text.replace('VIO-BLK', cell) : text)));
  const table = readTable(sheet(grid));
  const read = understand(table, chart);
  const told = [...read.not, ...read.asks.map(({ at, text }) => ({ ...at, text }))].filter(({ row, column }) => row === 1 && column === 4);
  expect(told.length).toBeGreaterThan(0);
});

it('the lists that the club keeps are understood to the last cell', () => {
  expect(machineOf('tin-orchard').inlinePins?.length).toBe(6);
  const read = understand(readTable(sheet(list)), chart);
  expect(read.not).toEqual([]);
});
