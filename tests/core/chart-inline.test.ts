/** In-line connectors in the chart: derived positions, lint, tables. Rules are common practice, no source, unless said. */
import { describe, expect, it } from 'vitest';
import { differences, patched } from '@/lib/core/chart/differences';
import { applyTable, exportTables, importTables, readTable, understand } from '@/lib/core/chart/entry';
import { connectorOf, contactsOf, halfName, indexChart, keysOnMachine, lintMachine, splitHalf } from '@/lib/core/chart/index';
import { merge } from '@/lib/core/chart/merge';
import { type Machine, machine } from '@/lib/core/chart/schema';
import { cellOfPath, readSheet } from '@/lib/ui/entry/read-sheet';
import { machineSheet } from '@/lib/ui/entry/sheet';
import { inlineCases } from './chart-inline-cases';
import { designOf, machineOf } from './entry-pastes';

const design = designOf('sb-1');
const orchard = machineOf('tin-orchard');
/** The demo machine with some of it otherwise. */
const having = (change: (draft: Machine) => void): Machine => {
  const draft = structuredClone(orchard);
  change(draft);
  return machine.parse(draft);
};
const found = (m: Machine) => lintMachine(m, design).map(({ level, rule, path }) => `${level} ${rule} ${path}`);
const fresh = (m: Machine) => found(m).filter((line) => !found(orchard).includes(line));
const pins = (m: Machine) => m.inlinePins ?? [];

describe('a chart with an in-line connector', () => {
  const chart = indexChart(orchard, design);

  it('has both halves of each position, and what is beyond it', () => {
    expect(chart.through.get('X1-1')).toMatchObject({
      header: 'X1',
      position: 1,
      net: 'switch-column.2',
      goesTo: '13 Cart stop 5',
      behind: ['13', '14', '15', '16'],
      wires: { board: [{ colour: 'green/white', awg: 26 }], far: [{ colour: 'yellow/red', awg: 26, insulationMm: 1 }] },
    });
    expect(chart.through.get('X1-3')?.wires.far).toEqual(chart.through.get('X1-3')?.wires.board);
    expect(chart.pins.get('A1J10-1')?.goesTo).toBe('X1-1, then 13 Cart stop 5');
  });

  it('is found by name, with its keys as found on the machine', () => {
    const seen = having((m) => m.keysAsFound.push({ header: 'X1', plug: [], on: '2026-01-09', by: 'Wen' }));
    expect(connectorOf(chart, 'X1')?.positions).toBe(7);
    expect(keysOnMachine(indexChart(seen, design), 'X1')).toEqual({ pins: [5], plug: [] });
    expect(fresh(seen)).toEqual(['warning key-not-as-found keysAsFound[0].plug']);
  });

  it('names its halves and knows their contacts', () => {
    expect([halfName('X1', 'board'), splitHalf('X1F'), splitHalf('X1')]).toEqual(['X1B', { connector: 'X1', half: 'far' }, null]);
    expect([contactsOf({ pinsOn: 'far' }, 'far'), contactsOf({ pinsOn: 'far' }, 'board')]).toEqual(['pins', 'sockets']);
  });

  it('reads as before when it has none', () => {
    const { inline, inlinePins, ...old } = orchard;
    const read = machine.parse(old);
    expect('inline' in read || 'inlinePins' in read).toBe(false);
    expect(indexChart({ ...read, chains: [] }, design).through.size).toBe(0);
  });
});

describe('the lint', () => {
  it('has nothing to say of the demo', () => expect(found(orchard).filter((line) => /inline/.test(line))).toEqual([]));

  it.each(inlineCases)('finds %s', (_, change, expected) => {
    const m = having(change);
    const index = (tap: string) => m.chains.findIndex((c) => c.tap === tap);
    const here = expected.map((line) =>
      line.replace('chains[9]', `chains[${index('A1J10-1')}]`).replace('chains[13]', `chains[${index('A1J10-6')}]`),
    );
    expect(fresh(m).sort()).toEqual(here.sort());
  });

  it('puts each finding on its cell of the entry tables', () => {
    const m = having((draft) => {
      draft.inline![0]!.keys.push(9);
      Object.assign(pins(draft)[0]!, { far: [{ colour: 'yellow/red', strands: 60, strandMm: 0.5 }] });
    });
    const sheet = machineSheet(m, design);
    const { rows } = readSheet(sheet);
    const at = (path: string) => {
      const { table, row, column } = cellOfPath(sheet, path, rows);
      return [table, sheet.tables[table]?.findIndex((r) => r.id === row), column];
    };
    expect(at('inline[0].keys[1]')).toEqual(['inline', 0, 5]);
    expect(at('inlinePins[0].far[0].strands')).toEqual(['inlinePins', 0, 3]);
  });
});

describe('the tables', () => {
  it('of the entry screen give the chart back, and leave a chart without in-line connectors without', () => {
    expect(readSheet(machineSheet(orchard, design)).machine).toEqual(orchard);
    const other = machineOf('kestrel-post-1');
    expect(readSheet(machineSheet(other, design)).machine).toEqual(other);
  });

  it('are read from what somebody wrote by hand', () => {
    const { inline, inlinePins, ...rest } = orchard;
    const bare = { machine: { ...rest, chains: [] } as Machine, design };
    const heads = applyTable(
      bare,
      understand(
        readTable(
          'In line\tName\tPositions\tPitch\tKey\tPlating\tTermination\tHalf with pins\nX1\tCart\t7\t2.54\t5\ttin\tcrimp\tcart, far\n',
        ),
        bare,
      ),
    );
    expect(heads.findings).toEqual([]);
    expect(heads.chart.machine.inline).toEqual([
      { id: 'X1', name: 'Cart', positions: 7, pitchMm: 2.54, keys: [5], plating: 'tin', termination: 'crimp', pinsOn: 'far' },
    ]);
    const list = understand(
      readTable(
        'Connector\tPosition\tLine\tWire\tWire beyond\tGoes to\nX1\t1\tswitch-column.2\tgreen/white\tyellow/red\t\nX1\t3\tswitch-row.5\twhite/green\t\t\nX1\t4\tswitch-row.6\tno wire\t\t\n',
      ),
      heads.chart,
    );
    expect(list.not.map(({ row, column, text }) => [row, column, text])).toEqual([[4, 4, 'no wire']]);
    const { chart } = applyTable(heads.chart, list);
    expect(chart.machine.inlinePins).toEqual([
      { pin: 'X1-1', net: 'switch-column.2', far: [{ colour: 'yellow/red' }] },
      { pin: 'X1-3', net: 'switch-row.5' },
      { pin: 'X1-4', net: 'switch-row.6' },
    ]);
    const harness = understand(readTable('Pin\tGoes to\nA1J10-1\tX1-1, 13, 14\n'), chart);
    expect(applyTable(chart, harness).chart.machine.chains).toEqual([
      { tap: 'A1J10-1', steps: [{ inline: 'X1-1' }, { switch: '13' }, { switch: '14' }] },
    ]);
  });

  it('say which half is none', () => {
    const files = exportTables({ machine: orchard, design }).map((f) =>
      f.name === 'in-line-pins.csv' ? { ...f, csv: f.csv.replace(',far,', ',near,') } : f,
    );
    const read = importTables(files);
    expect(read.ok ? [] : read.findings.map((f) => [f.path, f.mend])).toEqual([['in-line-pins.csv, row 2, Half', 'Write board or far.']]);
  });
});

it('two people’s changes of one position are joined, and differences say its name', () => {
  const mine = having((m) => Object.assign(pins(m)[2]!, { far: [{ colour: 'pink' }] }));
  const theirs = having((m) => Object.assign(pins(m)[2]!, { wires: [{ colour: 'grey' }] }));
  const joined = merge(orchard, mine, theirs);
  expect(joined.ok && joined.chart.inlinePins?.[2]).toEqual({
    pin: 'X1-3',
    net: 'switch-row.5',
    wires: [{ colour: 'grey' }],
    far: [{ colour: 'pink' }],
  });
  const changes = differences(orchard, mine);
  expect(changes.map((c) => c.label)).toEqual(['In-line position X1-3: wires of the far half']);
  expect(patched(orchard, changes)).toEqual(mine);
});
