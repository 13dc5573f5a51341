/** Laws that hold for any connector, any catalogue, any stock. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Header } from '@/lib/core/chart/schema';
import { type PlanChoices, planConnector } from '@/lib/core/harness';
import { tally } from '@/lib/core/parts';
import { awgAreaMm2 } from '@/lib/core/wire/gauge';
import { chartWith, fixtureCatalogue, without } from './parts-fixture';

fc.configureGlobal({ seed: 1985 }); // the same cases at every run

const nets = ['switch-row.1', 'switch-column.2', 'ground', 'supply.coil', 'illumination.1', 'load.1', 'other.unknown'];
const partIds = fixtureCatalogue.parts.map((p) => p.id);
const common = fc.record({ awg: fc.constantFrom(18, 20, 22, 24, 26), strands: fc.constant(7) });
const odd = fc.record(
  {
    awg: fc.integer({ min: 14, max: 32 }),
    insulationMm: fc.integer({ min: 6, max: 30 }).map((tenths) => tenths / 10),
    strands: fc.constantFrom(1, 7, 19),
  },
  { requiredKeys: ['awg'] },
);
const wires = fc.oneof(
  { weight: 3, arbitrary: fc.tuple(common) },
  { weight: 1, arbitrary: fc.array(fc.oneof(common, odd), { minLength: 1, maxLength: 3 }) },
);
const header = fc.integer({ min: 1, max: 20 }).chain((positions) =>
  fc.record({
    positions: fc.constant(positions),
    pitchMm: fc.constantFrom<Header['pitchMm'][]>(2.5, 2.54, 2.54, 3.96, 3.96),
    plating: fc.constantFrom<Header['plating'][]>('tin', 'tin', 'tin', 'gold'),
    keys: fc.array(fc.integer({ min: 1, max: positions }), { maxLength: 2 }),
    pins: fc.array(
      fc.record(
        {
          position: fc.integer({ min: 1, max: positions }),
          net: fc.constantFrom(...nets),
          wires,
        },
        { requiredKeys: ['position', 'net'] },
      ),
      { maxLength: positions + 2 },
    ),
  }),
);
const choices = fc.record<PlanChoices>({ headerSide: fc.constantFrom('sound', 'reflow', 'replace'), saveKey: fc.boolean() });
const job = fc
  .record({
    header,
    choices,
    left: fc.subarray(partIds, { maxLength: 3 }),
    stock: fc.dictionary(fc.constantFrom(...partIds), fc.integer({ min: 0, max: 50 })),
  })
  .map((j) => ({ ...j, chart: chartWith(j.header), catalogue: without(...j.left) }));

function planOf(j: typeof job extends fc.Arbitrary<infer T> ? T : never) {
  const result = planConnector(j.chart, 'A9J1', j.catalogue, j.stock, j.choices);
  if (!result.ok) throw new Error(result.message);
  return result.plan;
}

describe('any plan', () => {
  it('has one row for each position, in order', () => {
    fc.assert(
      fc.property(job, (j) => {
        expect(planOf(j).rows.map((r) => r.position)).toEqual(Array.from({ length: j.header.positions }, (_, i) => i + 1));
      }),
    );
  });

  it('gives every wired position a terminal, or an error that names it and a mend; and nothing else a terminal', () => {
    fc.assert(
      fc.property(job, (j) => {
        for (const row of planOf(j).rows) {
          const errors = row.problems.filter((p) => p.level === 'error');
          const wired = j.header.pins.some((p) => p.position === row.position);
          expect(row.wires.length > 0).toBe(wired);
          expect(row.empty).toBe(!wired && !row.key);
          if (!wired) expect(row.terminal).toBeNull();
          else expect(row.terminal === null).toBe(errors.length > 0);
          for (const p of row.problems) {
            expect(p.position).toBe(row.position);
            expect(p.message).toContain(`A9J1-${row.position}`);
            expect(p.mend).not.toBe('');
          }
        }
      }),
    );
  });

  it('never puts a wire on a key, into another pitch or plating, or into a wing or barrel that it is too large for', () => {
    fc.assert(
      fc.property(job, (j) => {
        for (const row of planOf(j).rows) {
          if (!row.terminal) continue;
          const part = j.catalogue.parts.find((p) => p.id === row.terminal?.part);
          if (part?.kind !== 'terminal') throw new Error('not a terminal of the catalogue');
          expect(row.key).toBe(false);
          expect(part.plating).toBe(j.header.plating);
          expect(part.pitchMm).toBe(j.header.pitchMm);
          const area = row.wires.reduce((sum, w) => sum + awgAreaMm2(w.awg), 0);
          expect(area).toBeLessThanOrEqual(awgAreaMm2(part.awg[0]) * 1.03 * 1.0001);
          expect(area).toBeGreaterThanOrEqual(awgAreaMm2(part.awg[1]) * 0.9999);
          if (row.wires.every((w) => w.insulationKnown))
            expect(Math.hypot(...row.wires.map((w) => w.insulationMm))).toBeLessThanOrEqual(part.insulationMm[1] + 1e-6);
          const crowded = row.wires.length > part.ratedWires;
          expect(row.problems.some((p) => p.message.includes('outside the maker’s rating'))).toBe(crowded);
        }
      }),
    );
  });

  it('fits, spares and needs as many terminals as it has rows with one', () => {
    fc.assert(
      fc.property(job, (j) => {
        const plan = planOf(j);
        expect(plan.terminals.reduce((sum, t) => sum + t.fitted, 0)).toBe(plan.rows.filter((r) => r.terminal).length);
        for (const t of plan.terminals) {
          expect(t.spare * 10).toBeGreaterThanOrEqual(t.fitted);
          expect((t.spare - 1) * 10).toBeLessThan(t.fitted);
          expect(plan.needs.find((n) => n.part === t.part)?.quantity).toBe(t.fitted + t.spare + 2);
        }
      }),
    );
  });

  it('gives the same answer twice, leaves what it was given alone, and adds up', () => {
    fc.assert(
      fc.property(job, (j) => {
        const before = structuredClone({ catalogue: j.catalogue, stock: j.stock, chart: j.chart });
        const plan = planOf(j);
        expect(planOf(j)).toEqual(plan);
        expect({ catalogue: j.catalogue, stock: j.stock, chart: j.chart }).toEqual(before);
        expect(plan.minutes).toBe(plan.steps.reduce((sum, s) => sum + s.minutes, 0));
        expect(new Set(plan.steps.map((s) => s.id)).size).toBe(plan.steps.length);
        expect(plan.steps.every((s) => Number.isInteger(s.minutes) && s.minutes >= 1)).toBe(true);
      }),
    );
  });

  it('does not depend on the order of the catalogue, but for the order of the terminals list', () => {
    fc.assert(
      fc.property(job, (j) => {
        const turned = { ...j, catalogue: { ...j.catalogue, parts: [...j.catalogue.parts].reverse() } };
        const one = planOf(j);
        const other = planOf(turned);
        expect(other.housing).toEqual(one.housing);
        expect(other.rows.map((r) => r.terminal)).toEqual(one.rows.map((r) => r.terminal));
      }),
    );
  });

  it('needs parts that the tally can find', () => {
    fc.assert(
      fc.property(job, (j) => {
        const { lines } = tally(planOf(j).needs, j.catalogue, j.stock);
        expect(lines.flatMap((l) => l.notes).filter((n) => n.includes('not in the catalogue'))).toEqual([]);
      }),
    );
  });
});
