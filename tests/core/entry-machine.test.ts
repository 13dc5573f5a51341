/** A whole machine on a board design that is known, from pastes as people have them: three at most, and lint finds nothing. */
import { describe, expect, it } from 'vitest';
import {
  type Answers,
  applyTable,
  type EntryChart,
  emptyMachine,
  readTable,
  type TableKind,
  type Understanding,
  understand,
} from '@/lib/core/chart/entry';
import type { Machine } from '@/lib/core/chart/schema';
import { colourOf, lines, matrixGrid, nameAt, pinOfLine, sb2, sheet, switchList } from './entry-pastes';

const empty = (): EntryChart => ({ design: sb2, machine: emptyMachine(sb2, { id: 'new', name: 'New machine' }) });
const places = (list: Machine['switches'] | Machine['lamps']) =>
  Object.fromEntries(list.map(({ column, row, name }) => [`${column}.${row}`, name]));
const all = Object.fromEntries(lines.flatMap((c) => lines.map((r) => [`${c}.${r}`, nameAt(c, r)])));

/** Applies pastes one after the other; nothing may be asked, nothing left over, nothing found. */
function entered(
  pastes: readonly string[],
  kinds?: readonly TableKind[],
  answers: Answers = {},
): { chart: EntryChart; reads: Understanding[] } {
  expect(pastes.length).toBeLessThanOrEqual(3);
  const reads: Understanding[] = [];
  let chart = empty();
  for (const paste of pastes) {
    const read = understand(readTable(paste), chart, answers);
    expect(read.asks.filter(({ id }) => answers[id] === undefined)).toEqual([]);
    expect(read.not).toEqual([]);
    const applied = applyTable(chart, read);
    expect(applied.findings).toEqual([]);
    expect(applied.lint).toEqual({ machine: [], design: [] });
    chart = applied.chart;
    reads.push(read);
  }
  if (kinds) expect(reads.map((r) => r.kind)).toEqual(kinds);
  return { chart, reads };
}

const grid = matrixGrid();
const turned = (rows: readonly (readonly string[])[]) => (rows[0] ?? []).map((_, c) => rows.map((row) => row[c] ?? ''));
const list = switchList();
const only = (...heads: number[]) => list.map((row) => heads.map((i) => row[i] ?? ''));
/** Numbers and names in rows of their own, as a spreadsheet that was laid out for the eye. */
const pairs = grid.flatMap((row, i) =>
  i === 0
    ? [row]
    : [
        row.map((cell, c) => (c === 0 ? cell : (/^\d+/.exec(cell)?.[0] ?? ''))),
        row.map((cell, c) => (c === 0 ? '' : cell.replace(/^\d+\s/, ''))),
      ],
);
/** A column's cells written once for all its rows, as merged cells come out of the clipboard. */
const merged = list.map((row, i) => row.map((cell, c) => (i > 1 && (i - 1) % 8 !== 0 && (c === 2 || c === 3 || c === 4) ? '' : cell)));
const sequence = list.map((row, i) => (i === 0 ? row : row.map((cell, c) => (c === 0 ? String(i) : cell))));

describe('64 switches', () => {
  it.each<[string, string[], Answers?]>([
    ['a grid with wires and pins in its heads', [sheet(grid)]],
    ['a grid that is turned', [sheet(turned(grid))]],
    ['a grid as CSV', [sheet(grid, ',')]],
    ['a grid as CSV with semicolons and a byte order mark', [`\ufeff${sheet(grid, ';', '\n')}`]],
    ['a grid with a title above it', [sheet([['Switch matrix'], [], ...grid])]],
    ['a grid with full stops behind its numbers', [sheet(matrixGrid({ between: '. ' }))]],
    ['a grid with numbers and names in lines of their own', [sheet(matrixGrid({ between: '\n' }))]],
    ['a grid with numbers and names in rows of their own', [sheet(pairs)]],
    ['a grid with colours in full', [sheet(matrixGrid({ notation: 'names' }))]],
    [
      'a grid of names alone below “Column 1”, beside “Row 1”',
      [sheet(grid.map((row, r) => row.map((cell, c) => (r === 0 || c === 0 ? (cell.split('\n')[0] ?? '') : cell.replace(/^\d+\s/, '')))))],
      { kind: 'switch-matrix' },
    ],
    ['a list of everything', [sheet(list)]],
    ['a list as CSV with every cell quoted', [list.map((row) => row.map((cell) => `"${cell}"`).join(',')).join('\r\n')]],
    ['a list with merged cells', [sheet(merged)]],
    ['a list of number and name', [sheet(only(0, 1))]],
    ['a list of number and name without headings', [sheet(only(0, 1).slice(1))]],
    ['a list of name, column and row', [sheet(only(1, 2, 5))]],
    ['a list of name and the two wires', [sheet(only(1, 3, 6).map((row, i) => (i === 0 ? ['Name', 'Column wire', 'Row wire'] : row)))]],
    ['a list of name and the two pins', [sheet(only(1, 4, 7).map((row, i) => (i === 0 ? ['Name', 'Column pin', 'Row pin'] : row)))]],
    ['three lists, one of which says what each switch is', [sheet(only(0, 1)), sheet(only(0, 8, 9)), sheet(only(0, 10))]],
    ['two halves of a list', [sheet(list.slice(0, 33)), sheet([list[0] ?? [], ...list.slice(33)])]],
    ['a list with the headings printed again on each page', [sheet([...list.slice(0, 33), list[0] ?? [], ...list.slice(33)])]],
  ])('%s', (_, pastes, answers) => {
    const { chart } = entered(pastes, undefined, answers);
    expect(chart.machine.switches).toHaveLength(64);
    expect(places(chart.machine.switches)).toEqual(all);
    expect(chart.design).toBe(sb2);
  });

  it('a list numbered in sequence has its scheme asked for, with a guess that holds', () => {
    const read = understand(readTable(sheet(sequence)), empty());
    expect(read.asks.map((q) => q.id)).toEqual(['numbering']);
    const { chart } = applyTable(empty(), read);
    expect(places(chart.machine.switches)).toEqual(all);
    expect(chart.machine.numbering).toMatchObject({ order: 'down-columns', first: 1 });
    expect(chart.machine.switches.some((s) => s.number !== undefined)).toBe(false);
  });

  it('keep device, position at rest and place', () => {
    const { chart } = entered([sheet(list)]);
    expect(chart.machine.switches.find((s) => s.column === 2 && s.row === 8)).toMatchObject({
      device: 'opto',
      normally: 'closed',
      location: 'playfield, bank 2',
    });
  });
});

const loadList = [
  ['No.', 'Coil', 'Driver', 'Wire', 'Pin', 'Supply', 'Fuse', 'Ohms', 'Hold ohms', 'Windings'],
  ...[1, 2, 3, 4].map((n) => [
    `L${n}`,
    `${nameAt(n, 1)} coil`,
    `Q${n}`,
    colourOf(sb2, `load.${n}`, 'short'),
    pinOfLine(sb2, `load.${n}`),
    '52 V',
    'F3',
    '4.2',
    n === 2 ? '160' : '',
    n === 2 ? 'double' : '',
  ]),
  ...[13, 14].map((n) => [
    `L${n}`,
    `${nameAt(n - 12, 2)} flasher`,
    `Q${n}`,
    colourOf(sb2, `load.${n}`, 'short'),
    pinOfLine(sb2, `load.${n}`),
    '20 V',
    'F4',
    '',
    '',
    '',
  ]),
];
const directList = [
  ['No.', 'Switch', 'Wire', 'Pin', 'Type of switch', 'Normally'],
  ...[1, 2, 3].map((n) => [
    `D${n}`,
    `${nameAt(n, 3)} button`,
    colourOf(sb2, `direct.${n}`, 'short'),
    pinOfLine(sb2, `direct.${n}`),
    'Leaf',
    n === 2 ? 'N.C.' : 'N.O.',
  ]),
];
const stringList = [
  ['String', 'Name', 'Feed', 'Back line', 'Lamps', 'Fuse', 'Volts', 'Fed at'],
  [
    'G1',
    'Lower playfield',
    'Illumination string 1',
    'Illumination string 1, back',
    '19',
    'F10, 6.3 A slow',
    '6.3 V a.c.',
    'A1J5-1, A1J5-3',
  ],
  [
    'G2',
    'Upper playfield',
    'Illumination string 2',
    'Illumination string 2, back',
    '17',
    'F11, 6.3 A slow',
    '6.3 V a.c.',
    'A1J5-5, A1J5-8',
  ],
];

describe('the rest of a machine', () => {
  it('a lamp matrix', () => {
    const { chart } = entered([sheet(matrixGrid({ matrix: 'lamp' }))], ['lamp-matrix']);
    expect(places(chart.machine.lamps)).toEqual(all);
  });

  it('a lamp list with bulbs', () => {
    const rows = [
      ['No.', 'Lamp', 'Column', 'Row', 'Bulb'],
      ...lines.flatMap((c) => lines.map((r) => [`${c}${r}`, nameAt(c, r), String(c), String(r), r === 1 ? 'LED' : 'filament'])),
    ];
    const { chart } = entered([sheet(rows)], ['lamps']);
    expect(chart.machine.lamps.filter((l) => l.kind === 'led')).toHaveLength(8);
  });

  it('driven loads with driver, supply, fuse and a double winding', () => {
    const { chart } = entered([sheet(loadList)], ['loads']);
    expect(chart.machine.loads).toHaveLength(6);
    expect(chart.machine.loads[1]).toEqual({
      number: 'L2',
      name: 'Cockle lane coil',
      kind: 'coil',
      net: 'load.2',
      supply: 'supply.coil',
      ohms: 4.2,
      holdOhms: 160,
      windings: 'double',
    });
    expect(chart.machine.loads[4]).toMatchObject({ kind: 'flasher', net: 'load.13', supply: 'supply.flash' });
  });

  it('direct switches', () => {
    const { chart } = entered([sheet(directList)], ['switches']);
    expect(chart.machine.direct).toEqual(
      [1, 2, 3].map((n) => ({
        number: `D${n}`,
        net: `direct.${n}`,
        name: `${nameAt(n, 3)} button`,
        device: 'leaf',
        normally: n === 2 ? 'closed' : 'open',
      })),
    );
  });

  it('general illumination', () => {
    const { chart } = entered([sheet(stringList)], ['strings']);
    expect(chart.machine.illumination[0]).toEqual({
      id: 'G1',
      name: 'Lower playfield',
      net: 'illumination.1',
      back: 'illumination.1-back',
      lamps: 19,
      fuse: 'F10, 6.3 A slow',
      volts: 6.3,
      supply: 'ac',
      taps: ['A1J5-1', 'A1J5-3'],
    });
  });

  it('optical switches with the board that shapes their signal and the line that lights them', () => {
    const rows = [
      ['No.', 'Switch', 'Type of switch', 'Normally', 'Opto board', 'Emitter fed by'],
      ['38', 'Trough 1', 'Opto', 'NC', 'Trough board', 'Switch matrix supply'],
      ['48', 'Trough 2', 'Opto', 'NC', 'Trough board', '12 V'],
    ];
    const { chart } = entered([sheet(rows)], ['switches']);
    expect(chart.machine.switches).toMatchObject([
      { column: 3, row: 8, device: 'opto', normally: 'closed', optoBoard: 'Trough board', emitterSupply: 'supply.switch' },
      { column: 4, row: 8, optoBoard: 'Trough board', emitterSupply: 'supply.switch' },
    ]);
  });

  it('a connector list with splices, a key and parallel wires', () => {
    const rows = [
      ['Header', 'Pin', 'Wire', 'Line', 'Goes to'],
      ['A3J6', '1', 'VIO-WHT', 'Column 1', '11, 12, 13, 14, 15, 16, 17, 18'],
      ['', '2', 'Key', '', ''],
      ['A3J4', '7', 'GRY-ORN', 'Row 6', 'S2 (16 | 46, 26, 36, 56, 66, 76, 86)'],
    ];
    const { chart } = entered([sheet(grid), sheet(rows)], ['switch-matrix', 'pins']);
    expect(chart.machine.chains).toEqual([
      { tap: 'A3J6-1', steps: lines.map((r) => ({ switch: `1${r}` })) },
      {
        tap: 'A3J4-7',
        steps: [
          {
            splice: 'S2',
            branches: [[{ switch: '16' }], ['46', '26', '36', '56', '66', '76', '86'].map((number) => ({ switch: number }))],
          },
        ],
      },
    ]);
  });
});

describe('what stands in the chart', () => {
  it('is kept where a paste differs, and told', () => {
    const { chart } = entered([sheet(grid)]);
    const other = grid.map((row, r) => row.map((cell, c) => (r === 4 && c === 6 ? '64 Something else' : cell)));
    const read = understand(readTable(sheet(other)), chart);
    const kept = applyTable(chart, read);
    expect(kept.chart).toEqual(chart);
    expect(kept.findings).toMatchObject([{ level: 'warning', rule: 'differs', row: 5, column: 7 }]);
    const replaced = applyTable(chart, read, { conflicts: 'replace' });
    expect(replaced.changes.machine.map((c) => [c.label, c.before, c.after])).toEqual([
      ['Switch at column 6, row 4: name', nameAt(6, 4), 'Something else'],
    ]);
  });

  it('takes the same paste again without a change', () => {
    const { chart } = entered([sheet(list)]);
    const again = applyTable(chart, understand(readTable(sheet(list)), chart));
    expect(again.changes).toEqual({ machine: [], design: [] });
    expect(again.findings).toEqual([]);
  });
});
