/** A chart as one JSON file, and the schema that is published of it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chartSchema, exportJson, importJson } from '@/lib/core/chart/entry';
import { boardDesign } from '@/lib/core/chart/schema';
import { arbitraryDesign, arbitraryMachine } from './chart-arbitrary';
import { misfits } from './entry-json-schema';
import { designOf, machineOf } from './entry-pastes';

const demo = (['lantern-regatta-3', 'kestrel-post-1', 'tin-orchard'] as const).map((id) => {
  const machine = machineOf(id);
  return { machine, design: designOf(machine.design.toLowerCase()) };
});
/** Charts are JSON: what is undefined is not there. */
const designs = arbitraryDesign.map((d) => boardDesign.parse(JSON.parse(JSON.stringify(d))));
const schema = chartSchema();
const fileOf = (chart: Parameters<typeof exportJson>[0]): Record<string, unknown> => JSON.parse(exportJson(chart));

describe('JSON', () => {
  it('gives any chart back exactly, with a machine and without', () => {
    fc.assert(
      fc.property(arbitraryMachine, designs, (machine, design) => {
        expect(importJson(exportJson({ machine, design }))).toStrictEqual({ ok: true, value: { machine, design } });
        expect(importJson(exportJson({ design }))).toStrictEqual({ ok: true, value: { design } });
      }),
      { numRuns: 60 },
    );
  });

  it.each(demo)('gives the demo chart $machine.id back exactly', (chart) => {
    expect(importJson(`\ufeff${exportJson(chart)}`)).toStrictEqual({ ok: true, value: chart });
  });

  it('says by path what is wrong', () => {
    expect(importJson('{')).toMatchObject({ ok: false, findings: [{ rule: 'not-json' }] });
    expect(importJson('3')).toMatchObject({ ok: false, findings: [{ path: '(whole)' }] });
    const chart = fileOf(demo[0]!) as { machine: object };
    const read = importJson(JSON.stringify({ ...chart, machine: { ...chart.machine, name: 4 } }));
    expect(read).toMatchObject({ ok: false, findings: [{ path: 'machine.name' }] });
  });
});

// JSON Schema draft 2020-12: https://json-schema.org/draft/2020-12
describe('the published schema', () => {
  it('says its dialect and what it is of', () => {
    expect(schema).toMatchObject({ $schema: 'https://json-schema.org/draft/2020-12/schema', title: 'Chart of a machine', type: 'object' });
  });

  it.each(demo)('holds for the demo chart $machine.id', (chart) => {
    expect(misfits(schema, fileOf(chart))).toEqual([]);
    expect(misfits(schema, fileOf({ design: chart.design }))).toEqual([]);
  });

  it('holds for whatever is exported', () => {
    fc.assert(
      fc.property(arbitraryMachine, designs, (machine, design) => {
        expect(misfits(schema, fileOf({ machine, design }))).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });

  /** Each value of the demo chart, one at a time, spoilt or taken out. */
  const spoilt = (value: unknown): fc.Arbitrary<unknown> => {
    const paths: (string | number)[][] = [];
    const walk = (at: unknown, path: (string | number)[]) => {
      if (typeof at === 'object' && at !== null)
        for (const [k, v] of Object.entries(at)) walk(v, [...path, Array.isArray(at) ? Number(k) : k]);
      if (path.length > 0) paths.push(path);
    };
    walk(value, []);
    return fc
      .tuple(fc.constantFrom(...paths), fc.constantFrom(undefined, null, -1, 1e9, '', 'Ω'.repeat(3000), true, [], {}))
      .map(([path, by]) => {
        const copy = structuredClone(value);
        let at = copy as Record<string | number, unknown>;
        for (const key of path.slice(0, -1)) at = at[key] as Record<string | number, unknown>;
        const last = path.at(-1)!;
        if (by === undefined && !Array.isArray(at)) delete at[last];
        else at[last] = by ?? null;
        return copy;
      });
  };

  it('and the reader refuse the same files', () => {
    fc.assert(
      fc.property(spoilt(fileOf(demo[2]!)), (file) => {
        expect(misfits(schema, file).length === 0).toBe(importJson(JSON.stringify(file)).ok);
      }),
      { numRuns: 200 },
    );
  });
});
