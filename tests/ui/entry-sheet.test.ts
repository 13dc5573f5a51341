/** A chart as tables of text and back: exactly the same, cell by cell, and what cannot be read is said and kept out. */
import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { differences } from '@/lib/core/chart/differences';
import { emptyMachine, exportJson } from '@/lib/core/chart/entry';
import { type BoardDesign, boardDesign, machine, type Step } from '@/lib/core/chart/schema';
import { readSteps, showSteps } from '@/lib/ui/entry/chain-text';
import { cellOfPath, readSheet } from '@/lib/ui/entry/read-sheet';
import { designSheet, machineSheet, withPinPlaces } from '@/lib/ui/entry/sheet';
import { tableOf } from '@/lib/ui/entry/tables';
import type { Sheet } from '@/lib/ui/entry/types';
import { wholeFile } from '@/lib/ui/entry/whole-file';

const content = new URL('../../content/', import.meta.url);
const all = (folder: string): unknown[] =>
  readdirSync(new URL(folder, content)).map((name) => JSON.parse(readFileSync(new URL(`${folder}/${name}`, content), 'utf8')));
const designs = all('designs').map((d) => boardDesign.parse(d));
const machines = all('machines').map((m) => machine.parse(m));
const designOf = (id: string) => designs.find((d) => d.id === id) as BoardDesign;
const sb2 = designOf('SB-2');

function write(sheet: Sheet, table: string, row: number, path: string, text: string): Sheet {
  const column = tableOf(sheet.kind, table).columns.findIndex((c) => c.path === path);
  const rows = sheet.tables[table]!.map((r, i) => (i === row ? { ...r, cells: r.cells.map((c, j) => (j === column ? text : c)) } : r));
  return { ...sheet, tables: { ...sheet.tables, [table]: rows } };
}

describe('round trip', () => {
  test.each(machines.map((m) => [m.id, m] as const))('machine %s', (_, m) => {
    const read = readSheet(machineSheet(m, designOf(m.design)));
    expect(read.problems).toEqual([]);
    expect(read.machine).toEqual(m);
  });
  test.each(designs.map((d) => [d.id, d] as const))('design %s', (_, d) => {
    const read = readSheet(designSheet(d));
    expect(read.problems).toEqual([]);
    expect(read.design).toEqual(d);
  });
  test('an empty machine has a row ready for every place and stays empty', () => {
    const empty = emptyMachine(sb2, { id: 'x', name: 'X' });
    const sheet = machineSheet(empty, sb2);
    expect(sheet.tables.switches).toHaveLength(64 + 1); // 8 columns × 8 rows of SB-2, and one to write in
    expect(readSheet(sheet).machine).toEqual(empty);
  });
});

describe('cells', () => {
  const empty = emptyMachine(sb2, { id: 'x', name: 'X' });
  const sheet = machineSheet(empty, sb2);
  test('a name makes a switch of its place; words are read as lists write them', () => {
    const named = write(
      write(write(sheet, 'switches', 9, 'name', 'Gull lane'), 'switches', 9, 'normally', 'NC'),
      'switches',
      9,
      'device',
      'micro',
    );
    expect(readSheet(named).machine?.switches).toMatchObject([
      { column: 2, row: 2, name: 'Gull lane', normally: 'closed', device: 'microswitch' },
    ]);
  });
  test('a number that the scheme gives is not written down', () => {
    const numbered = write(write(sheet, 'switches', 9, 'name', 'Gull lane'), 'switches', 9, 'number', '22');
    expect(readSheet(numbered).machine?.switches[0]).not.toHaveProperty('number');
    const other = write(numbered, 'switches', 9, 'number', '23');
    expect(readSheet(other).machine?.switches[0]).toHaveProperty('number', '23');
  });
  test('a cell that cannot be read is said with its mend; the rest of the row is kept', () => {
    const wrong = write(write(sheet, 'switches', 0, 'name', 'Gull lane'), 'switches', 0, 'normally', 'perhaps');
    const read = readSheet(wrong);
    expect(read.machine?.switches[0]).toMatchObject({ name: 'Gull lane', normally: 'open' });
    expect(read.problems).toMatchObject([
      { table: 'switches', row: sheet.tables.switches![0]!.id, unsaved: true, mend: 'Write open, closed.' },
    ]);
  });
  test('a load without its supply waits, and says what it waits for', () => {
    const row = sheet.tables.loads!.length - 2;
    const begun = write(sheet, 'loads', row, 'name', 'Bell');
    const read = readSheet(begun);
    expect(read.machine?.loads).toEqual([]);
    expect(read.problems.map((p) => p.message)).toEqual(['Kind is missing.', 'Supply is missing.']);
  });
  test('a line is found by its number, its wire or its pin', () => {
    const [net] = sb2.nets.filter((n) => n.kind === 'direct');
    const pin = sb2.headers.flatMap((h) => h.pins.filter((p) => p.net === net!.id).map((p) => `${h.id}-${p.position}`))[0]!;
    for (const said of [net!.id, String(net!.number), pin.toLowerCase()]) {
      const named = write(write(sheet, 'direct', 0, 'name', 'Coin door'), 'direct', 0, 'net', said);
      expect(readSheet(named).machine?.direct, said).toMatchObject([{ name: 'Coin door', net: net!.id }]);
    }
  });
  test('a wire is read in any notation and kept as base/stripe', () => {
    const design = designSheet(sb2);
    const row = sb2.nets.findIndex((n) => n.id === 'switch-row.6');
    const read = readSheet(write(design, 'nets', row, 'colour', 'PNK-ORN'));
    expect(read.design.nets[row]?.colour).toBe('pink/orange');
    expect(differences(sb2, read.design)).toHaveLength(1);
  });
  test('a field of the machine that does not fit leaves the old one', () => {
    const m = machines[0]!;
    const s = machineSheet(m, designOf(m.design));
    const read = readSheet({
      ...s,
      tables: { ...s.tables, about: s.tables.about!.map((r) => (r.cells[0] === 'Name' ? { ...r, cells: ['Name', 'x'.repeat(90)] } : r)) },
    });
    expect(read.machine?.name).toBe(m.name);
    expect(read.problems).toMatchObject([{ table: 'about', column: 1 }]);
  });
});

test('a pin carries a line that was typed a moment ago, also by its wire', () => {
  const design = designSheet({ ...sb2, nets: [], headers: [{ ...sb2.headers[0]!, pins: [] }] }, ['switch-column.1']);
  const lined = write(write(design, 'nets', 0, 'colour', 'vi-wh'), 'nets', 0, 'awg', '24');
  const read = readSheet(write(withPinPlaces(lined), 'pins', 0, 'net', 'violet/white'));
  expect(read.problems).toEqual([]);
  expect(read.design.headers[0]?.pins).toEqual([{ position: Number(design.tables.pins![0]!.cells[1]), net: 'switch-column.1' }]);
});

test('a cell that is needed and cannot be read is said once', () => {
  const design = write(designSheet(sb2), 'pins', 0, 'net', 'no such line');
  expect(readSheet(design).problems).toHaveLength(1);
});

test('a whole chart comes back from its file, exactly; the wrong board design is refused', () => {
  const m = machines[0]!;
  const design = designOf(m.design);
  const { charts } = wholeFile(exportJson({ machine: m, design }), {
    machine: emptyMachine(design, { id: 'other', name: 'Other' }),
    design,
  });
  expect(charts?.machine).toEqual({ ...m, id: 'other' });
  const elsewhere = designs.find((d) => d.id !== m.design)!;
  const refused = wholeFile(exportJson({ machine: m, design }), {
    machine: emptyMachine(elsewhere, { id: 'other', name: 'Other' }),
    design: elsewhere,
  });
  expect(refused.charts).toBeNull();
  expect(refused.said[0]).toContain(m.design);
  expect(wholeFile('{', { machine: null, design }).said[0]).toMatch(/not JSON/);
});

test('findings of the lint land on their cells', () => {
  const m = machines.find((x) => x.loads.length > 2)!;
  const sheet = machineSheet(m, designOf(m.design));
  const { rows } = readSheet(sheet);
  const at = cellOfPath(sheet, 'loads[2].supply', rows);
  const row = sheet.tables.loads!.find((r) => r.id === at.row);
  expect(row?.cells[0]).toBe(m.loads[2]!.number);
  expect(tableOf('machine', 'loads').columns[at.column]?.path).toBe('supply');
  const design = designSheet(sb2);
  const pin = cellOfPath(design, 'headers[1].pins[3].net', readSheet(design).rows);
  const cells = design.tables.pins!.find((r) => r.id === pin.row)?.cells;
  expect(cells?.slice(0, 2)).toEqual([sb2.headers[1]!.id, String(sb2.headers[1]!.pins[3]!.position)]);
});

test('a way along the harness reads back as it was written', () => {
  const numbers = { switches: new Set(['16', '46', 'L1']), loads: new Set(['L1', 'L3']) };
  const name = fc.constantFrom('16', '46', 'L1', 'L3', '99');
  const { step } = fc.letrec<{ step: Step; branch: Step[] }>((tie) => ({
    step: fc.oneof(
      { maxDepth: 3 },
      fc.record({ switch: name }),
      fc.record({ load: name }),
      fc.record({ lamp: name }),
      fc.record({ splice: fc.constantFrom('S1', 'S2'), branches: fc.array(tie('branch'), { minLength: 1, maxLength: 3 }) }),
    ),
    branch: fc.array(tie('step'), { maxLength: 3 }),
  }));
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 4 }), (steps) => {
      expect(readSteps(showSteps(steps, numbers), numbers)).toEqual(steps);
    }),
  );
  for (const wrong of ['', '16 >', 'S2 (16', ')', '16 | 46', '( 16 )']) expect(readSteps(wrong, numbers), wrong).toBeNull();
});
