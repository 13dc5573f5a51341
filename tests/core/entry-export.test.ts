/** Charts out as CSV and JSON, and in again: the same, field by field. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exportTables, importTables } from '@/lib/core/chart/entry';
import { chartSchemas, exportJson, importJson } from '@/lib/core/chart/entry/json';
import { boardDesign, machine } from '@/lib/core/chart/schema';
import { arbitraryDesign, arbitraryMachine } from './chart-arbitrary';
import { designOf, machineOf } from './entry-pastes';

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
const some = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });

describe('CSV', () => {
  it('gives any chart back exactly', () => {
    fc.assert(
      fc.property(arbitraryMachine, arbitraryDesign, (m, d) => {
        expect(importTables(exportTables(m, d))).toStrictEqual({ ok: true, value: { machine: m, design: d } });
      }),
      { numRuns: 400 },
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
        expect(importTables(exportTables(given.machine, given.design))).toStrictEqual({ ok: true, value: given });
        expect(importJson(exportJson(given))).toStrictEqual({ ok: true, value: given });
      }),
      { numRuns: 300 },
    );
  });

  it.each(demo)('gives the demo chart $machine.id back exactly, columns and files in any order', (chart) => {
    const files = exportTables(chart.machine, chart.design);
    expect(importTables(files.toReversed())).toStrictEqual({ ok: true, value: chart });
    expect(exportTables(chart.machine, chart.design)).toStrictEqual(files);
  });

  it('never lets a spreadsheet run a name as a formula', () => {
    const chart = demo[0]!;
    const named = machine.parse({ ...chart.machine, name: '=HYPERLINK("x")' });
    const file = exportTables(named, chart.design).find((f) => f.name === 'machine.csv');
    expect(file?.csv).toContain(`"'=HYPERLINK(""x"")"`);
  });

  it('names file, row and column of what is wrong', () => {
    const files = exportTables(demo[0]!.machine, demo[0]!.design);
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

describe('JSON', () => {
  it('gives any chart back exactly', () => {
    fc.assert(
      fc.property(arbitraryMachine, arbitraryDesign, (m, d) => {
        expect(importJson(exportJson({ machine: m, design: d }))).toStrictEqual({ ok: true, value: { machine: m, design: d } });
      }),
      { numRuns: 200 },
    );
  });

  it('says by path what is wrong', () => {
    expect(importJson('{')).toMatchObject({ ok: false, findings: [{ rule: 'not-json' }] });
    const chart = demo[0]!;
    const read = importJson(JSON.stringify({ ...chart, machine: { ...chart.machine, name: 4 } }));
    expect(read).toMatchObject({ ok: false, findings: [{ path: 'machine.name' }] });
  });

  it('has a schema that requires what the reader requires', () => {
    const schemas = chartSchemas() as Record<string, { $schema: string; required: string[]; properties: Record<string, unknown> }>;
    expect(schemas.machine?.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    for (const [name, shape, given] of [
      ['machine', machine, demo[0]!.machine],
      ['design', boardDesign, demo[0]!.design],
    ] as const) {
      const schema = schemas[name];
      for (const key of Object.keys(schema?.properties ?? {})) {
        const without = Object.fromEntries(Object.entries(given).filter(([k]) => k !== key));
        expect(shape.safeParse(without).success).toBe(!schema?.required.includes(key));
      }
    }
  });
});
