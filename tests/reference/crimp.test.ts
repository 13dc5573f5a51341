/** Pull-test forces and gauges of several wires against published figures. Figures and their sources: crimp.json. */
import { describe, expect, it } from 'vitest';
import pullFigures from '@/content/pull-tests.json';
import { leastPull, planConnector, pullStandard } from '@/lib/core/harness';
import { equivalentAwg } from '@/lib/core/wire/gauge';
import { chartWith, fixtureCatalogue, fixtureStock } from '../core/parts-fixture';
import figures from './crimp.json';

interface Force {
  awg: string;
  lbf: number;
  N: number;
}
const row = (id: string) => figures.rows.find((r) => r.id === id);
const forces = (id: string) => (row(id)?.values ?? []) as unknown as Force[];
const ours = (awg: string) => leastPull(Number(awg));
const newtonPerPound = 4.4482216; // by definition of the pound-force

describe('least pull, commercial column of UL 486A (read in two trade documents)', () => {
  it('agrees from 28 to 10 AWG, also when worked out from the pounds', () => {
    const published = forces('UL486A').filter(({ awg }) => Number(awg) >= 10);
    expect(published.map((v) => v.awg)).toEqual(['10', '12', '14', '16', '18', '20', '22', '24', '26', '28']);
    for (const { awg, lbf, N } of published) {
      expect(ours(awg), `${awg} AWG`).toBe(N);
      expect(Math.abs((ours(awg) ?? 0) - lbf * newtonPerPound), `${awg} AWG`).toBeLessThan(0.06);
    }
  });

  it('names its standard, since others ask three times as much of the same wire', () => {
    expect(pullStandard).toContain('UL 486A');
    expect(ours('22')).toBe(figures.cross_checks[0]?.N?.UL486A);
    for (const { awg, N } of forces('MIL')) expect(N, `${awg} AWG`).toBeGreaterThan(ours(awg) ?? 0);
  });

  it('is not the table for terminal blocks, UL 486E, which is easily taken for it', () => {
    const blocks = (row('UL 486E Table 22 (terminal blocks, NOT crimps)')?.values ?? []) as unknown as { awg: string; N_printed: number }[];
    const both = blocks.filter(({ awg }) => ours(awg) !== null);
    expect(both.length).toBeGreaterThan(5);
    for (const { awg, N_printed } of both) expect(ours(awg), `${awg} AWG`).toBeGreaterThan(N_printed);
  });

  it('has no figure outside the table, and takes the thicker wire’s between two (our rule, no source)', () => {
    expect(leastPull(30)).toBeNull();
    expect(leastPull(8)).toBeNull();
    expect(leastPull(23)).toBe(leastPull(22));
    expect(leastPull(22.5)).toBe(leastPull(22));
  });
});

describe('in a plan', () => {
  const wires = [
    { awg: 22, insulationMm: 1.4 },
    { awg: 20, insulationMm: 1.5 },
  ];
  const chart = chartWith({
    positions: 9,
    pins: [
      { position: 1, net: 'switch-row.1' },
      { position: 2, net: 'ground', wires },
      { position: 3, net: 'direct.1', wires: [{ awg: 30, insulationMm: 0.8 }] },
    ],
  });
  const result = planConnector(chart, 'A9J1', fixtureCatalogue, fixtureStock, { headerSide: 'sound', saveKey: true });
  if (!result.ok) throw new Error(result.message);
  const { plan } = result;

  it('each wire is tested by itself, against the force for its own gauge', () => {
    expect(plan.pullTests.map(({ beside: _, ...test }) => test)).toEqual([
      { awg: 20, newtons: 57.8, standard: pullStandard },
      { awg: 22, newtons: 35.6, standard: pullStandard },
      { awg: 24, newtons: 22.2, standard: pullStandard },
    ]);
  });

  it('shows the other tables side by side, as published, and no IEC 60352-2, which was never read', () => {
    const nasa = row('NASA-STD-8739.4 Table 13-1')?.values as unknown as { awg: string; N_printed: number }[];
    for (const { awg, beside } of plan.pullTests) {
      const of = (name: string) => beside.find((b) => b.standard.startsWith(name))?.newtons;
      expect(of('MIL-T-7928'), `${awg} AWG`).toBe(forces('MIL').find((v) => v.awg === String(awg))?.N);
      expect(of('NASA-STD-8739.4'), `${awg} AWG`).toBe(nasa.find((v) => v.awg === String(awg))?.N_printed);
    }
    expect(JSON.stringify(pullFigures)).not.toContain('60352');
  });

  it('every figure of the military column is the published one', () => {
    const ours = pullFigures.beside.find((b) => b.standard.startsWith('MIL'))?.newtons as Record<string, number>;
    expect(Object.entries(ours).sort()).toEqual(
      forces('MIL')
        .map(({ awg, N }): [string, number] => [awg, N])
        .sort(),
    );
  });

  it('two wires in one terminal are each tested alone, against the force for the smaller', () => {
    expect(plan.togetherTests).toEqual([{ position: 2, wires: 'black 22 AWG with black 20 AWG', awg: 22, newtons: 35.6 }]);
  });

  it('a gauge without a figure is sent to the terminal’s maker', () => {
    expect(plan.problems).toContainEqual({
      level: 'warning',
      message: `There is no pull-test figure for 30 AWG in ${pullStandard}.`,
      mend: 'Go by the terminal maker’s own figure.',
    });
  });

  it('the test is called destructive, and is for samples only', () => {
    const sample = plan.steps.find((s) => s.id === 'sample');
    expect(sample?.detail).toMatch(/destroys.*On the harness there is only a tug by hand/);
    expect(plan.terminals.every((t) => t.samples === 2)).toBe(true);
  });

  it('solid wire is never crimped (NASA-STD-8739.4: crimping prohibited)', () => {
    expect(row('NASA-STD-8739.4 other numbers')?.values).toContainEqual({
      item: 'solid wire or solder-tinned stranded wire',
      rule: 'crimping prohibited',
    });
    const solid = chartWith({ positions: 9, pins: [{ position: 1, net: 'switch-row.1', wires: [{ strands: 1 }] }] });
    const r = planConnector(solid, 'A9J1', fixtureCatalogue, fixtureStock, { headerSide: 'sound', saveKey: true });
    expect(r.ok && r.plan.rows[0]).toMatchObject({ terminal: null, problems: [{ level: 'error' }] });
  });
});

// n = 36 − 39 · log₉₂(√Σd² / 0.127 mm), from the definition of AWG (ASTM B258); worked out apart from this code.
describe('two wires together', () => {
  it.each([
    [24, 24, 21.01],
    [22, 22, 19.01],
    [20, 20, 17.01],
    [18, 18, 15.01],
    [22, 20, 17.9],
    [18, 22, 16.56],
  ])('%i and %i AWG are %f AWG', (a, b, n) => {
    expect(equivalentAwg([a, b])).toBeCloseTo(n, 2);
    expect(equivalentAwg([b, a])).toBeCloseTo(n, 2);
  });
});
