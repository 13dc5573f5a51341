/** The limit at which a plan warns of a live part, against the standards. Figures and their sources: safety.json. */
import { describe, expect, it } from 'vitest';
import type { Net } from '@/lib/core/chart/schema';
import { liveVolts, peakVolts, planConnector } from '@/lib/core/harness';
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
