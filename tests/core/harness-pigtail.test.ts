/** Pigtails, wire ends and the parts that they need. Rules are common practice without a source. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Header, Pin } from '@/lib/core/chart/schema';
import { type PlanChoices, planConnector } from '@/lib/core/harness';
import type { ConnectorPlan } from '@/lib/core/harness/types';
import { type Catalogue, catalogue } from '@/lib/core/parts/schema';
import { safeAmps } from '@/lib/core/wire';
import { chartWith, fixtureCatalogue, fixtureCatalogueJson, fixtureStock } from './parts-fixture';

fc.configureGlobal({ seed: 1987 });
const splice = { id: 'X-SPLICE', kind: 'splice', name: 'Splice connector', awg: [14, 24] };
const withSplice: Catalogue = catalogue.parse({ ...fixtureCatalogueJson, parts: [...fixtureCatalogueJson.parts, splice] });

function planOf(pins: Pin[], choices: Partial<PlanChoices> = {}, parts = withSplice, header: Partial<Header> = {}): ConnectorPlan {
  const result = planConnector(chartWith({ positions: 9, ...header, pins }), 'A9J1', parts, fixtureStock, {
    headerSide: 'sound',
    saveKey: true,
    ...choices,
  });
  if (!result.ok) throw new Error(result.message);
  return result.plan;
}
const row = (position: number): Pin => ({ position, net: 'switch-row.1' });
const ground = (position: number, ...gauges: number[]): Pin => ({
  position,
  net: 'ground',
  wires: gauges.map((awg) => ({ awg, insulationMm: 1.4 })),
});

describe('a wire that fits no terminal', () => {
  const pins = [row(1), ground(2, 24, 24)]; // 21.01 AWG together: between the two terminals

  it('stays refused until its pigtail is accepted, and the plan proposes one', () => {
    const plan = planOf(pins);
    expect(plan.rows[1]).toMatchObject({
      terminal: null,
      problems: [{ level: 'error' }],
      pigtail: { why: 'fits-none', chosen: false, awg: 22, terminal: { part: 'T-254-S' }, splice: { part: 'X-SPLICE' } },
    });
    expect(plan.needs.map((n) => n.name).join()).not.toContain('Stranded');
    expect(plan.steps.map((s) => s.id)).not.toContain('pigtails');
  });

  it('accepted: row, terminals, needs, minutes, and slack is asked for', () => {
    const before = planOf(pins);
    const plan = planOf(pins, { pigtails: [2] });
    expect(plan.rows[1]).toMatchObject({ terminal: { part: 'T-254-S' }, pigtail: { chosen: true } });
    expect(plan.rows[1]?.problems).toMatchObject([
      {
        level: 'warning',
        position: 2,
        message: expect.stringMatching(/^A9J1-2, black 24 AWG with black 24 AWG: .*22 AWG, 150 mm/),
        mend: expect.stringMatching(/40 mm of it are loose/),
      },
    ]);
    expect(plan.terminals).toMatchObject([{ part: 'T-254-S', fitted: 2 }]);
    expect(plan.needs).toContainEqual(
      expect.objectContaining({ name: expect.stringMatching(/^Stranded wire, 22 AWG, black, 150 mm/), quantity: 1 }),
    );
    expect(plan.needs).toContainEqual(expect.objectContaining({ part: 'X-SPLICE', quantity: 2, note: '1 fitted, 1 spare' }));
    const ids = plan.steps.map((s) => s.id);
    expect(ids.indexOf('pigtails')).toBe(ids.indexOf('wires') - 1);
    expect(plan.minutes).toBeGreaterThan(before.minutes);
    expect(plan.pullTests.map((t) => t.awg)).toEqual([22, 24]); // the pigtail is crimped, not the pair
    expect(plan.togetherTests).toEqual([]);
  });

  it('says so when the catalogue has no splice for it', () => {
    const plan = planOf(pins, { pigtails: [2] }, fixtureCatalogue);
    expect(plan.rows[1]?.pigtail?.splice.part).toBeNull();
    expect(plan.rows[1]?.problems.map((p) => p.message).join()).toContain('has no splice');
  });

  it('solid wire gets a stranded pigtail of its own gauge', () => {
    const plan = planOf([{ position: 1, net: 'ground', wires: [{ awg: 22, strands: 1 }] }], { pigtails: [1] });
    expect(plan.rows[0]).toMatchObject({ pigtail: { awg: 22, chosen: true }, terminal: { part: 'T-254-S' } });
  });

  it('has none where a splice mends nothing: wrong plating, too much current, a chart that contradicts itself', () => {
    expect(
      planOf([{ position: 1, net: 'switch-row.1' }], { pigtails: [1] }, withSplice, { plating: 'gold', pitchMm: 3.96 }).rows[0],
    ).toMatchObject({ pigtail: null, terminal: null });
    expect(planOf([{ position: 1, net: 'illumination.1' }], { pigtails: [1] }).rows[0]).toMatchObject({ pigtail: null, terminal: null }); // 5 A in 2.54 mm
    expect(planOf([row(3)], { pigtails: [3] }, withSplice, { keys: [3] }).rows[2]).toMatchObject({ pigtail: null, terminal: null });
  });
});

describe('other pigtails', () => {
  it('two wires that fit with a remark may go on one instead', () => {
    const pins = [ground(1, 22, 22)];
    expect(planOf(pins).rows[0]?.pigtail).toMatchObject({ why: 'two-wires', chosen: false });
    const plan = planOf(pins, { pigtails: [1] });
    expect(plan.problems.map((p) => p.message).join()).not.toContain('outside the maker’s rating');
  });

  it('a wire that is too short gets one of its own gauge', () => {
    expect(planOf([row(1)]).rows[0]?.pigtail).toMatchObject({ why: 'length', chosen: false, awg: 24 });
  });

  it('bears the current, and is protected by the fuse where one size is', () => {
    const plan = planOf([{ position: 1, net: 'supply.coil', wires: [{ awg: 16 }] }], { pigtails: [1] }); // 4 A, F3 4 A slow
    const awg = plan.rows[0]?.pigtail?.awg ?? 99;
    expect(safeAmps(awg)).toBeGreaterThanOrEqual(4);
  });
});

describe('more wires', () => {
  const spec = fc.record({ awg: fc.constantFrom(20, 22, 24, 26), insulationMm: fc.constantFrom(1.1, 1.3, 1.5) });
  const pins = fc.uniqueArray(
    fc.record({ position: fc.integer({ min: 1, max: 9 }), net: fc.constantFrom('switch-row.1', 'ground'), wires: fc.tuple(spec) }),
    {
      selector: (p) => p.position,
      minLength: 1,
    },
  );

  it('never need less: parts, minutes', () => {
    fc.assert(
      fc.property(pins, fc.array(fc.integer({ min: 1, max: 9 })), (all, pigtails) => {
        const fewer = planOf(all.slice(1), { pigtails });
        const more = planOf(all, { pigtails });
        const of = (plan: ConnectorPlan, key: string) =>
          plan.needs.filter((n) => (n.part ?? n.name) === key).reduce((sum, n) => sum + n.quantity, 0);
        for (const need of fewer.needs) expect(of(more, need.part ?? need.name)).toBeGreaterThanOrEqual(need.quantity);
        expect(more.minutes).toBeGreaterThanOrEqual(fewer.minutes);
      }),
    );
  });

  it('each stands in exactly one row and one group', () => {
    fc.assert(
      fc.property(pins, (all) => {
        const plan = planOf(all);
        expect(plan.rows.filter((r) => r.wires.length > 0).map((r) => r.position)).toEqual(
          all.map((p) => p.position).sort((a, b) => a - b),
        );
        expect(plan.groups.flatMap((g) => g.positions).sort((a, b) => a - b)).toEqual(all.map((p) => p.position).sort((a, b) => a - b));
      }),
    );
  });
});

describe('the steps', () => {
  const detail = (plan: ConnectorPlan, id: string) => plan.steps.find((s) => s.id === id)?.detail ?? '';

  it('cut back black strands, strip each to its terminal, never tin', () => {
    const plan = planOf([row(1)]);
    expect(detail(plan, 'wires')).toMatch(/cut back black strands to bright copper, strip 3\.2 mm, crimp.*Never tin before crimping/);
  });

  it('measure stored charge after the plug is out and before the batteries', () => {
    const plan = planOf([{ position: 1, net: 'supply.coil' }]);
    expect(plan.steps.slice(0, 3).map((s) => s.id)).toEqual(['power-off', 'charge', 'batteries']);
    expect(detail(plan, 'charge')).toMatch(/Coil supply, 4700 µF, 52 V, 6\.4 J/);
  });

  it('on the header side bring solder, braid, ventilation and their minutes', () => {
    for (const headerSide of ['reflow', 'replace'] as const) {
      const plan = planOf([row(1)], { headerSide });
      expect(plan.needs.map((n) => n.name)).toContain('Solder with flux');
      expect(plan.minutes).toBeGreaterThan(planOf([row(1)]).minutes);
      expect(detail(plan, headerSide === 'reflow' ? 'reflow' : 'header')).toContain('Window open');
      expect(plan.cautions.find((c) => c.id === 'solder')?.text).toMatch(/extraction or an open window.*lead/);
    }
    expect(planOf([row(1)], { headerSide: 'replace' }).needs.map((n) => n.name)).toContain('Desoldering braid');
  });
});
