/** Which cautions are shown for which work. Limits are checked in tests/reference/safety.test.ts. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Net } from '@/lib/core/chart/schema';
import { planConnector } from '@/lib/core/harness';
import { fixtureChart } from './fixture';
import { chartWith, fixtureCatalogue, fixtureStock } from './parts-fixture';

type Side = 'sound' | 'reflow' | 'replace';
function cautions(header: string, headerSide: Side = 'sound', chart = fixtureChart) {
  const result = planConnector(chart, header, fixtureCatalogue, fixtureStock, { headerSide, saveKey: true });
  if (!result.ok) throw new Error(result.message);
  return result.plan.cautions;
}
const ids = (...args: Parameters<typeof cautions>) => cautions(...args).map((c) => c.id);
const supply = (change: Partial<Net>): Net => ({ id: 'supply.extra', kind: 'supply', colour: 'orange', awg: 22, ...change });
const onBoard = (net: Net) => chartWith({ positions: 9, pins: [{ position: 1, net: net.id }] }, [net]);

describe('cautions', () => {
  it('always begin with the mains plug, take the batteries out, and end with local rules', () => {
    for (const header of fixtureChart.headers.keys()) {
      const shown = ids(header);
      expect(shown[0], header).toBe('mains');
      expect(shown, header).toContain('batteries');
      expect(shown.at(-1), header).toBe('licensed');
    }
    expect(cautions('A3J4').at(-1)?.text).toMatch(/licensed.*local codes/);
  });

  it('name the highest live line of the header', () => {
    expect(cautions('A1J2').find((c) => c.id === 'high-voltage')?.text).toMatch(/^52 V d\.c\. on Coil supply\. Above 42\.4 V/);
    expect(ids('A3J4')).not.toContain('high-voltage');
  });

  it('count lines that run in the same loom', () => {
    const beside = (net: string) => chartWith({ positions: 2, pins: [{ position: 1, net: 'ground' }], beside: [net] });
    expect(ids('A9J1', 'sound', beside('supply.coil'))).toContain('high-voltage');
    expect(ids('A9J1', 'sound', beside('switch-row.1'))).not.toContain('high-voltage');
  });

  it('count the neighbours on the same board, and no other board', () => {
    const chart = chartWith({ id: 'A3J9', positions: 9, pins: [{ position: 1, net: 'supply.coil' }] });
    expect(ids('A3J4', 'sound', chart)).toContain('high-voltage');
    expect(ids('A4J2', 'sound', chart)).not.toContain('high-voltage');
  });

  it('flag a large reservoir at any voltage, and a small one only where the line is live', () => {
    const stores = (net: Net) => ids('A9J1', 'sound', onBoard(net)).includes('stored-charge');
    expect(stores(supply({ volts: 5, supply: 'dc', storedMicrofarads: 10000 }))).toBe(true);
    expect(stores(supply({ volts: 25, supply: 'dc', storedMicrofarads: 1000 }))).toBe(false);
    expect(stores(supply({ volts: 72, supply: 'dc', storedMicrofarads: 100 }))).toBe(true);
    expect(stores(supply({ volts: 72, supply: 'dc' }))).toBe(false);
  });

  it('warn of solder with the iron, of the blade with a cut', () => {
    expect(ids('A3J4')).toContain('blade'); // cut from 16
    expect(ids('A3J6')).not.toContain('blade'); // exact
    expect(ids('A3J6', 'replace')).toContain('blade'); // the header is cut from a strip
    expect(ids('A3J6')).not.toContain('solder');
    expect(ids('A3J6', 'reflow')).toContain('solder');
    expect(ids('A3J6', 'replace')).toContain('solder');
  });

  it('warn of heat at lamps', () => {
    expect(ids('A4J2')).toContain('heat');
    expect(ids('A3J4')).not.toContain('heat');
  });

  it('have a title without a full stop and a text of whole sentences', () => {
    const texts = JSON.parse(readFileSync(new URL('../../content/cautions.json', import.meta.url), 'utf8')) as Record<
      string,
      { title: string; text: string }
    >;
    for (const [id, { title, text }] of Object.entries(texts)) {
      expect(title, id).toMatch(/^[A-Z].*[^.]$/);
      expect(text, id).toMatch(/^[A-Z].*\.$/);
    }
  });
});
