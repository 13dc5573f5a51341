/** A board design from pastes, and lists as manuals print them. */
import { describe, expect, it } from 'vitest';
import {
  type Answers,
  applyTable,
  blankChart,
  type EntryChart,
  emptyDesign,
  emptyMachine,
  readTable,
  understand,
} from '@/lib/core/chart/entry';
import { colourOf, lines, matrixGrid, nameAt, pinOfLine, sb2, sheet } from './entry-pastes';

const bare = emptyDesign({ id: 'SB-9', name: 'A board', boards: [{ designator: 'A3', name: 'Switch board' }], matrix: sb2.matrix });
const headers = [
  ['Header', 'Name', 'Ways', 'Pitch', 'Key', 'Plating', 'Termination', 'Numbering', 'Rows', 'Left-out letters'],
  ['A3J4', 'Rows', '11', '0.1"', '4', 'tinned', 'IDC', '', '', ''],
  ['A3J5', 'Both', '9', '2.54 mm', '2', 'tin', 'IDC', '', '', ''],
  ['A3J6', 'Columns', '9', '2.54 mm', '2', 'tin', 'IDC', '', '', ''],
  ['A3J8', 'Ribbon', '10', '2.54', 'none', 'gold', 'crimp', 'odd and even', '2', ''],
  ['A3J9', 'Card edge', '36', '3.96', 'none', 'tin', 'crimp', 'lettered', '2', 'GIOQ'],
];
const axis = (of: 'column' | 'row', heads: string[]) => [
  heads,
  ...lines.map((n) => [
    String(n),
    colourOf(sb2, `switch-${of}.${n}`, 'short'),
    of === 'column' ? `A3J6-${n < 2 ? 1 : n + 1}` : `J4-${n < 4 ? n : n + 1}`,
    'U14',
  ]),
];

function pasted(chart: EntryChart, rows: string[][], answers: Answers = {}): { chart: EntryChart; asks: string[] } {
  const read = understand(readTable(sheet(rows)), chart, answers);
  expect(read.not).toEqual([]);
  const applied = applyTable(chart, read);
  expect(applied.findings).toEqual([]);
  return { chart: applied.chart, asks: read.asks.map((q) => q.id) };
}

describe('a board design', () => {
  it('comes of a list of headers and a list for each axis; the gauge is asked for', () => {
    let { chart, asks } = pasted(blankChart(bare), headers);
    expect(asks).toEqual([]);
    expect(chart.design.headers[3]).toMatchObject({ rows: 2, numbering: 'zigzag', keys: [], plating: 'gold' });
    expect(chart.design.headers[4]).toMatchObject({ numbering: 'lettered', skipLetters: 'GIOQ', pitchMm: 3.96 });
    const columns = axis('column', ['Column', 'Wire', 'Pin', 'Transistor']);
    expect(understand(readTable(sheet(columns)), chart).asks.map((q) => q.id)).toEqual(['matrix', 'gauge.switch-column']);
    ({ chart } = pasted(chart, columns, { matrix: 'switch', 'gauge.switch-column': '24' }));
    ({ chart, asks } = pasted(chart, axis('row', ['Switch row', 'Colour', 'Connector', 'Read by']), {
      matrix: 'switch',
      'gauge.switch-row': '24',
    }));
    const known = (design: typeof sb2) =>
      design.nets
        .filter((n) => n.kind.startsWith('switch-'))
        .map(({ id, kind, number, colour, awg }) => ({ id, kind, number, colour, awg }));
    expect(known(chart.design)).toEqual(known(sb2));
    expect(chart.design.headers[2]?.pins.map((p) => p.net)).toEqual(lines.map((n) => `switch-column.${n}`));
    expect(chart.design.headers[0]?.pins.map((p) => p.position)).toEqual([1, 2, 3, 5, 6, 7, 8, 9]);
  });

  it('comes of a grid too, whose heads have wires and pins', () => {
    const design = {
      ...sb2,
      nets: sb2.nets.filter((n) => !n.kind.startsWith('switch-')),
      headers: sb2.headers.map((h) => ({ ...h, pins: h.pins.filter((p) => !p.net.startsWith('switch-')) })),
    };
    const chart = { design, machine: emptyMachine(design, { id: 'new', name: 'New machine' }) };
    const answers = { kind: 'switch-matrix', orientation: 'columns', 'gauge.switch-column': '24', 'gauge.switch-row': '24' };
    const { chart: next } = pasted(chart, matrixGrid(), answers);
    expect(next.machine.switches).toHaveLength(64);
    expect(
      next.design.nets
        .filter((n) => n.kind.startsWith('switch-'))
        .map((n) => n.colour)
        .sort(),
    ).toEqual(
      sb2.nets
        .filter((n) => n.kind.startsWith('switch-'))
        .map((n) => n.colour)
        .sort(),
    );
  });

  it('tells of what it lacks, by row', () => {
    const read = understand(
      readTable(
        sheet([
          ['Header', 'Position', 'Line', 'Wire'],
          ['A3J4', '1', 'Row 1', 'GRY-BLU'],
        ]),
      ),
      blankChart(bare),
    );
    const { findings } = applyTable(blankChart(bare), read);
    expect(findings).toMatchObject([{ rule: 'unknown-header', row: 2, level: 'error' }]);
  });
});

describe('lists as manuals print them', () => {
  const empty: EntryChart = { design: sb2, machine: emptyMachine(sb2, { id: 'new', name: 'New machine' }) };

  it('two lists side by side, the same headings over each', () => {
    const half = ['No.', 'Switch', 'Column', 'Row'];
    const row = (c: number, r: number) => [`${c}${r}`, nameAt(c, r), String(c), String(r)];
    const rows = [['Switches'], [...half, ...half], ...lines.flatMap((r) => [1, 2, 3, 4].map((c) => [...row(c, r), ...row(c + 4, r)]))];
    const read = understand(readTable(sheet(rows)), empty);
    expect(read.columns.map((c) => [c.index, c.meaning]).slice(4)).toEqual([
      [5, 'number'],
      [6, 'name'],
      [7, 'column'],
      [8, 'row'],
    ]);
    const { chart, findings } = applyTable(empty, read);
    expect(findings).toEqual([]);
    expect(chart.machine.switches).toHaveLength(64);
    expect(chart.machine.switches.every((s) => s.name === nameAt(s.column, s.row))).toBe(true);
    const spoilt = understand(
      readTable(
        sheet(rows.map((cells, i) => (i === 4 ? cells.map((cell, c) => (c === 4 ? '' : c === 6 || c === 7 ? 'nowhere' : cell)) : cells))),
      ),
      empty,
    );
    expect(spoilt.not.every((n) => n.row === 5 && n.column > 4)).toBe(true);
    expect(spoilt.not.length).toBeGreaterThan(0);
  });

  it('a grid of names below and beside bare figures', () => {
    const rows = [['', ...lines.map(String)], ...lines.map((r) => [String(r), ...lines.map((c) => nameAt(c, r))])];
    const { chart } = pasted(empty, rows, { kind: 'switch-matrix', orientation: 'columns' });
    expect(chart.machine.switches.every((s) => s.name === nameAt(s.column, s.row))).toBe(true);
    expect(chart.machine.switches).toHaveLength(64);
  });

  it('a grid with a place that nobody knew the name of leaves it', () => {
    const rows = [['', ...lines.map(String)], ...lines.map((r) => [String(r), ...lines.map((c) => (c === r ? '?' : nameAt(c, r)))])];
    const { chart } = pasted(empty, rows, { kind: 'switch-matrix', orientation: 'columns' });
    expect(chart.machine.switches.map((s) => s.name)).not.toContain('?');
    expect(chart.machine.switches).toHaveLength(56);
  });

  it('one blank cell is not taken for the cell above it: the number says where the switch is', () => {
    const rows = [
      ['No.', 'Switch', 'Column', 'Row'],
      ['11', 'Coin left', '1', '1'],
      ['26', 'Tide gate', '2', '6'],
      ['31', 'Trough', '3', ''],
      ['13', 'Gap', '1', '3'],
    ];
    const read = understand(readTable(sheet(rows)), empty);
    expect(read.findings).toEqual([]);
    const { findings, chart } = applyTable(empty, read);
    expect(findings.filter(({ level }) => level !== 'information')).toEqual([]);
    expect(chart.machine.switches.map((s) => [s.name, s.column, s.row])).toContainEqual(['Trough', 3, 1]);
    expect(chart.machine.switches).toHaveLength(4);
  });

  it('two rows with different names for one place: the second is told, by the row of the first, and nothing is in conflict', () => {
    const rows = [
      ['No.', 'Switch'],
      ['11', 'Coin left'],
      ['12', 'Coin right'],
      ['11', 'Coin twice'],
      ['12', 'Coin right'],
    ];
    const read = understand(readTable(sheet(rows)), empty);
    expect(read.not).toMatchObject([{ row: 4, text: '11 Coin twice', why: 'Row 2 of the table says that “Coin left” stands there.' }]);
    const { findings, chart } = applyTable(empty, read);
    expect(findings.map(({ rule }) => rule)).toEqual(['not-placed']);
    expect(chart.machine.switches.map((s) => s.name)).toEqual(['Coin left', 'Coin right']);
  });

  it('a list with places that have no name counts them and leaves them', () => {
    const rows = [
      ['No.', 'Switch', 'Column wire'],
      ['46', '', 'VIO-YEL'],
      ['47', 'Gate', 'VIO-YEL'],
      ['48', 'not used', ''],
      ['45', '??', ''],
    ];
    const read = understand(readTable(sheet(rows)), empty);
    expect(read.findings).toMatchObject([{ rule: 'unused-places', message: expect.stringContaining('3 places') }]);
    expect(applyTable(empty, read).chart.machine.switches).toMatchObject([{ column: 4, row: 7, name: 'Gate' }]);
  });

  it('a load list whose heading says what they all are asks nothing of it', () => {
    const rows = [
      ['Solenoid', 'Name', 'Drive', 'Wire'],
      ['1', 'Outhole kicker', 'Q1', 'BRN-BLK'],
      ['2', 'Ball release', 'Q2', 'BRN-RED'],
    ];
    const read = understand(readTable(sheet(rows)), empty);
    expect(read.asks).toEqual([]);
    expect(applyTable(empty, read).chart.machine.loads.map((l) => [l.number, l.kind, l.supply])).toEqual([
      ['1', 'coil', 'supply.coil'],
      ['2', 'coil', 'supply.coil'],
    ]);
  });

  it('a list of pins that are known says nothing new', () => {
    const rows = [['Pin', 'Wire'], ...lines.map((n) => [pinOfLine(sb2, `switch-row.${n}`), colourOf(sb2, `switch-row.${n}`)])];
    const read = understand(readTable(sheet(rows)), empty);
    expect(applyTable(empty, read).chart.design).toBe(sb2);
  });
});
