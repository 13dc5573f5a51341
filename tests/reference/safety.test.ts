/** The limit at which a plan warns of a live part, against the standards. Figures and their sources: safety.json. */
import { describe, expect, it } from 'vitest';
import type { Net } from '@/lib/core/chart/schema';
import { dischargeSeconds, instrumentVolts, liveVolts, peakVolts, planConnector, storedJoules } from '@/lib/core/harness';
import { chartWith, fixtureCatalogue, fixtureStock } from '../core/parts-fixture';
import figures from './safety.json';

interface Limit {
  id: string;
  ac_rms?: number;
  ac_peak?: number;
  dc?: number;
  values?: Record<string, number>;
}
const row = (id: string) => (figures.rows as Limit[]).find((r) => r.id === id);
const appliance = row('IEC 60335-1 8.1.4 accessible part not live at SELV');
const instrument = row('IEC 61010-1 normal condition');

function live(volts: number, supply: 'ac' | 'dc') {
  const net: Net = { id: 'supply.extra', kind: 'supply', name: 'Extra supply', colour: 'orange', awg: 22, volts, supply };
  const chart = chartWith({ positions: 9, pins: [{ position: 1, net: net.id }] }, [net]);
  const result = planConnector(chart, 'A9J1', fixtureCatalogue, fixtureStock, { headerSide: 'sound', saveKey: true });
  if (!result.ok) throw new Error(result.message);
  return result.plan.cautions.find((c) => c.id === 'high-voltage')?.text;
}

describe('the live limit is that of the standard for amusement machines (IEC 60335-1, 8.1.4, by part 2-82)', () => {
  it('is 42.4 V, peak a.c. or d.c.', () => {
    expect(liveVolts).toBe(appliance?.ac_peak);
    expect(liveVolts).toBe(appliance?.dc);
  });

  it('starts above 42.4 V d.c., not at the 60 V d.c. of the standard for instruments (IEC 61010-1)', () => {
    expect(live(42.4, 'dc')).toBeUndefined();
    expect(live(42.5, 'dc')).toContain('42.5 V d.c. on Extra supply');
    const between = (instrument?.dc ?? 0) - 5;
    expect(live(between, 'dc')).toBeDefined();
  });

  it('takes a.c. at its peak: 30 V r.m.s. is 42.43 V and over, 29.9 V is under', () => {
    expect(live(30, 'ac')).toContain('30 V a.c., 42.4 V at its peak');
    expect(live(29.9, 'ac')).toBeUndefined();
    expect(live(6.3, 'ac')).toBeUndefined();
  });

  it('says which standard it goes by', () => {
    expect(live(72, 'dc')).toContain('IEC 60335-1, 8.1.4');
  });
});

describe('peak of a sine', () => {
  it.each(Object.entries(row('sine check')?.values ?? {}))('%s is %f V', (rms, peak) => {
    expect(peakVolts({ volts: Number.parseFloat(rms), supply: 'ac' })).toBeCloseTo(peak, 2);
  });

  it('of d.c. is the d.c., of a line without a voltage nothing', () => {
    expect(peakVolts({ volts: 52, supply: 'dc' })).toBe(52);
    expect(peakVolts({})).toBe(0);
  });
});

describe('the standard for instruments is shown beside it (IEC 61010-1, dry; edition not checked)', () => {
  it('with its three limits', () => {
    expect(instrumentVolts).toEqual({ acRms: instrument?.ac_rms, acPeak: instrument?.ac_peak, dc: instrument?.dc });
    const text = live(52, 'dc');
    for (const limit of [`${instrumentVolts.acRms} V r.m.s.`, `${instrumentVolts.acPeak} V peak`, `${instrumentVolts.dc} V d.c.`])
      expect(text).toContain(limit);
    expect(text).toContain('edition not checked');
  });
});

interface Discharge {
  id: string;
  R: number; // ohm
  C: number; // farad
  V0: number;
  V: number;
  t: number | { exact: number };
  energy_J?: { exact: number };
}
const discharges = (figures.rows as unknown as Discharge[]).filter((r) => r.V0 !== undefined);
const micro = 1e6;

describe('discharge through a resistor: t = R·C·ln(V0/V1), an estimate only', () => {
  // Worked out apart from this code: 10 000 µF, 4.7 kΩ, from 72 V.
  it.each([
    [42.4, 24.9],
    [5, 125],
  ])('72 V to %d V takes %d s', (to, seconds) => {
    expect(Math.abs(dischargeSeconds(4700, 10000, 72, to) - seconds)).toBeLessThan(seconds > 100 ? 0.5 : 0.05);
  });

  it.each(discharges.map((r): [string, Discharge] => [r.id, r]))('%s', (_, { R, C, V0, V, t }) => {
    expect(dischargeSeconds(R, C * micro, V0, V)).toBeCloseTo(typeof t === 'number' ? t : t.exact, 2);
  });

  it('of OpenStax College Physics, chapter 21, problem 71: 120 s to 0.250 %', () => {
    const problem = row('OpenStax 21.71') as unknown as { R: number; C: number; t_to_0p250pct: { exact: number } };
    expect(dischargeSeconds(problem.R, problem.C * micro, 1, 0.0025)).toBeCloseTo(problem.t_to_0p250pct.exact, 3);
  });

  it('is told in the plan only where the chart names a bleeder', () => {
    const net: Net = {
      id: 'supply.extra',
      kind: 'supply',
      colour: 'orange',
      awg: 22,
      volts: 72,
      supply: 'dc',
      storedMicrofarads: 10000,
      bleederOhms: 4700,
    };
    const chart = chartWith({ positions: 9, pins: [{ position: 1, net: net.id }] }, [net]);
    const result = planConnector(chart, 'A9J1', fixtureCatalogue, fixtureStock, { headerSide: 'sound', saveKey: true });
    if (!result.ok) throw new Error(result.message);
    expect(result.plan.reservoirs[0]?.bleed?.toLimit).toBeCloseTo(24.9, 1);
    expect(result.plan.steps.find((s) => s.id === 'charge')?.detail).toMatch(
      /at best 125 s to 5 V through 4700 Ω\..*counting seconds proves nothing/,
    );
  });

  it('is over when the voltage is there already', () => {
    expect(dischargeSeconds(4700, 10000, 5, 42.4)).toBe(0);
    expect(dischargeSeconds(4700, 10000, 5, 5)).toBe(0);
  });
});

describe('stored energy: ½CV²', () => {
  it('is 80 J at 400 V in 1000 µF, and 37.6 J in 470 µF', () => {
    const stored = row('stored energy') as unknown as { C: number; V: number; energy_J: number };
    expect(storedJoules(stored.C * micro, stored.V)).toBeCloseTo(stored.energy_J, 9);
    const bleeder = discharges.find((r) => r.id === 'bleeder example');
    expect(storedJoules((bleeder?.C ?? 0) * micro, bleeder?.V0 ?? 0)).toBeCloseTo(bleeder?.energy_J?.exact ?? 0, 1);
  });

  it('counts at any voltage: 10 000 µF at 25 V hold 3.1 J, and are flagged in words and in the plan', () => {
    const net: Net = {
      id: 'supply.extra',
      kind: 'supply',
      name: 'Extra supply',
      colour: 'orange',
      awg: 22,
      volts: 25,
      supply: 'dc',
      storedMicrofarads: 10000,
    };
    const chart = chartWith({ positions: 9, pins: [{ position: 1, net: net.id }] }, [net]);
    const result = planConnector(chart, 'A9J1', fixtureCatalogue, fixtureStock, { headerSide: 'sound', saveKey: true });
    if (!result.ok) throw new Error(result.message);
    expect(result.plan.reservoirs).toMatchObject([{ joules: expect.closeTo(3.125, 9), live: false, flagged: true, bleed: null }]);
    expect(result.plan.cautions.find((c) => c.id === 'stored-charge')?.text).toMatch(
      /^Extra supply: 10000 µF at 25 V hold 3\.1 J\. .*measure/,
    );
    expect(result.plan.steps.find((s) => s.id === 'charge')).toMatchObject({
      title: 'Capacitors discharged and measured',
      detail: expect.stringContaining('3.1 J'),
    });
  });
});
