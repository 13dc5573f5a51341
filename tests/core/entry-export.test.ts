/** Charts out as CSV and JSON, and in again: the same, field by field. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exportJson, exportTables, finish, importJson, importTables } from '@/lib/core/chart/entry';
import { delimited } from '@/lib/core/chart/entry/table/delimited';
import { boardDesign, machine } from '@/lib/core/chart/schema';
import { arbitraryDesign, arbitraryMachine } from './chart-arbitrary';
import { designOf, machineOf, sheet } from './entry-pastes';

const demo = (['lantern-regatta-3', 'kestrel-post-1', 'tin-orchard'] as const).map((id) => {
  const own = machineOf(id);
  return { machine: own, design: designOf(own.design.toLowerCase()) };
});
/** Texts that CSV and spreadsheets stumble over. */
const awkward = fc.constantFrom(
  '',
  ' ',
  ' a ',
  '"',
  '""',
  'a,b',
  'a;b',
  'a\nb',
  'a\r\nb',
  '=1+1',
  '+1',
  '-',
  '@x',
  "'",
  "''a",
  'none',
  '\\',
  'a\\;b',
  '\ufeff',
  '\t',
  '01',
  'yes',
  'é',
  '🜚',
  '\u0000',
);
/** Charts are JSON: what is undefined is not there. */
const designs = arbitraryDesign.map((d) => boardDesign.parse(JSON.parse(JSON.stringify(d))));
const some = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });

describe('CSV', () => {
  it('gives any chart back exactly', () => {
    fc.assert(
      fc.property(arbitraryMachine, designs, (m, d) => {
        expect(importTables(exportTables({ machine: m, design: d }))).toStrictEqual({ ok: true, value: { machine: m, design: d } });
      }),
      { numRuns: 120 },
    );
  });

  it('gives a board design by itself back exactly', () => {
    fc.assert(
      fc.property(designs, (design) => {
        expect(importTables(exportTables({ design }))).toStrictEqual({ ok: true, value: { design } });
      }),
      { numRuns: 60 },
    );
  });

  it('gives any text back exactly', () => {
    const base = demo[0]!;
    fc.assert(
      fc.property(awkward, awkward, awkward, some(fc.array(awkward, { maxLength: 3 })), (one, two, three, also) => {
        const given = {
          machine: machine.parse({
            ...base.machine,
            sort: one,
            switches: [
              {
                column: 1,
                row: 1,
                name: two || 'x',
                location: three,
                number: one.slice(0, 8),
                ...(also && { also: also.map((a) => (a || 'y').slice(0, 8)) }),
              },
            ],
            chains: [
              {
                tap: 'A3J4-1',
                steps: [
                  { splice: one, branches: [[], [{ switch: two }, { splice: three, branches: [[{ lamp: one }], []] }], []] },
                  { load: three },
                ],
              },
            ],
            numbering: { ...base.machine.numbering, base: {} },
          }),
          design: boardDesign.parse({ ...base.design, notes: `${one}${two}\r\n${three}` }),
        };
        expect(importTables(exportTables(given))).toStrictEqual({ ok: true, value: given });
        expect(importJson(exportJson(given))).toStrictEqual({ ok: true, value: given });
      }),
      { numRuns: 100 },
    );
  });

  it.each(demo)('gives the demo chart $machine.id back exactly, columns and files in any order', (chart) => {
    const files = exportTables(chart);
    expect(importTables(files.toReversed())).toStrictEqual({ ok: true, value: chart });
    expect(exportTables(chart)).toStrictEqual(files);
  });

  it('never lets a spreadsheet run a name as a formula', () => {
    const chart = demo[0]!;
    const named = machine.parse({ ...chart.machine, name: '=HYPERLINK("x")' });
    const file = exportTables({ ...chart, machine: named }).find((f) => f.name === 'machine.csv');
    expect(file?.csv).toContain(`"'=HYPERLINK(""x"")"`);
  });

  it('names file, row and column of what is wrong', () => {
    const files = exportTables(demo[0]!);
    const spoilt = files.map((f) => (f.name === 'switches.csv' ? { ...f, csv: f.csv.replace('\r\n1,1,', '\r\none,1,') } : f));
    const read = importTables(spoilt);
    expect(read.ok).toBe(false);
    expect(!read.ok && read.findings[0]).toMatchObject({ path: 'switches.csv, row 2, Column', mend: 'Write a number.' });
    expect(importTables(files.slice(1))).toMatchObject({ ok: false, findings: [{ rule: 'file-missing', path: 'machine.csv' }] });
    expect(importTables([...files, { name: 'more.csv', csv: '' }])).toMatchObject({ ok: false, findings: [{ rule: 'unknown-file' }] });
    const chains = files.map((f) =>
      f.name === 'harness.csv' ? { ...f, csv: f.csv.replace('\r\n1,', '\r\n1,').replace(/\r\n(\d+),([^,]+),1,/, '\r\n$1,$2,2,') } : f,
    );
    expect(importTables(chains)).toMatchObject({ ok: false, findings: [{ rule: 'step-out-of-place', path: 'harness.csv, row 2' }] });
  });
});

describe('CSV of one table', () => {
  const chart = demo[0]!;

  it('is taken with the rest of the chart that is there', () => {
    const own = exportTables(chart).find((f) => f.name === 'switches.csv')!;
    const renamed = { name: 'Switches (2).csv', csv: own.csv.replace(chart.machine.switches[0]!.name, 'Drain gate') };
    const read = importTables([renamed], chart);
    expect(read.ok && read.value.machine?.switches[0]?.name).toBe('Drain gate');
    expect(importTables([own], chart)).toStrictEqual({ ok: true, value: chart });
    const alone = importTables([own], { design: chart.design });
    expect(!alone.ok && alone.findings.map((f) => f.path)).toContain('machine.csv');
  });

  // What spreadsheets make of a file when they save it: another separator, a mark in front, every cell quoted or line ends of one byte.
  it.each([
    ['semicolons', (rows: string[][]) => sheet(rows, ';')],
    ['tabs and a byte order mark', (rows: string[][]) => `\ufeff${sheet(rows, '\t')}`],
    ['every cell quoted', (rows: string[][]) => rows.map((r) => r.map((c) => `"${c.replaceAll('"', '""')}"`).join(',')).join('\n')],
  ])('is read when it was saved again with %s', (_, save) => {
    const files = exportTables(chart).map(({ name, csv }) => ({ name, csv: save(finish(delimited(csv, ',')).rows) }));
    expect(importTables(files)).toStrictEqual({ ok: true, value: chart });
  });

  it('names row and heading of what breaks the schema', () => {
    const files = exportTables(chart).map((f) => (f.name === 'switches.csv' ? { ...f, csv: f.csv.replace(',leaf,', ',feather,') } : f));
    const row =
      exportTables(chart)
        .find((f) => f.name === 'switches.csv')!
        .csv.split('\r\n')
        .findIndex((line) => line.includes(',leaf,')) + 1;
    expect(importTables(files)).toMatchObject({ ok: false, findings: [{ path: `switches.csv, row ${row}, Device` }] });
  });
});
