/** Fuses, keys on the machine, what the matrix can read. */
import { describe, expect, it } from 'vitest';
import { freeAirAmps, fuseAmps, fuseName, indexChart, keysOnMachine, readableDrops, readableVolts } from '@/lib/core/chart';
import { fixtureDesign, fixtureMachine } from './fixture';

describe('fuses', () => {
  it.each([
    ['F3, 4 A slow', 4],
    ['F10, 6.3 A slow', 6.3],
    ['3,15 A', 3.15],
    ['F4A', 4],
    ['T3.15AL250V', 3.15], // marking of a cartridge fuse: speed, rating, breaking capacity, voltage (IEC 60127, from memory)
    ['T500mAL250V', 0.5],
    ['500 mA quick', 0.5],
    ['5 amps', null], // small letters are words, not the unit
    ['5 Amps', 5],
    ['1/4 A', 0.25], // ratings below one ampere are printed as fractions on glass fuses in inches (from memory)
    ['F3, 1/4 A slow', 0.25],
    ['F3 1/2 A', 0.5],
    ['F3, 1 1/2 A slow', 1.5],
    ['1-1/2 A', 1.5],
    ['2 1/4A', 2.25],
    ['F1/4A', 0.25], // F for quick, as in F4A
    ['½ A', 0.5],
    ['F3, 1½ A', 1.5],
    ['3⁄8 A', 0.375],
    ['1/16 A', 0.0625],
    ['32 V/4 A', 4],
    ['32 V / 4 A', 4],
    ['250/4 A', null], // no fraction that a fuse has, and no rating alone
    ['3/5 A', null],
    ['F3', null],
    ['A3, back box', null],
    ['', null],
  ])('reads %s', (text, amps) => expect(fuseAmps(text)).toBe(amps));

  it('knows a fuse by its name', () => {
    expect(['F3, 4 A slow', 'f3 4 A', '4 A slow', 'F10'].map(fuseName)).toEqual(['F3', 'F3', null, 'F10']);
  });

  it('bears less the thinner the wire, and takes the thinner of two gauges', () => {
    const bears = Array.from({ length: 27 }, (_, i) => freeAirAmps(i + 10));
    expect(bears).toEqual([...bears].sort((a, b) => b - a));
    expect([freeAirAmps(18), freeAirAmps(19), freeAirAmps(20)]).toEqual([16, 11, 11]); // chassis wiring, as usually tabulated (from memory)
    expect(freeAirAmps(36)).toBeGreaterThan(0);
  });
});

describe('matrix', () => {
  const matrix = fixtureDesign.matrix;
  it('counts the diodes that a closed path may have: 7 at 12 V comparators, 1 at a 5 V gate that switches at 1.4 V', () => {
    expect(readableDrops(matrix)).toBe(7); // (12 × 0.42 − 0.15) ÷ 0.65 = 7.5
    expect(readableDrops({ ...matrix, rowSupplyVolts: 5, thresholdRatio: 0.28 })).toBe(1); // (1.4 − 0.15) ÷ 0.65 = 1.9
  });
  it('measures from the other rail when the strobe is high', () => {
    expect(readableVolts({ ...matrix, polarity: 'strobe-high', rowSupplyVolts: 5, thresholdRatio: 0.6, driverVolts: 0.2 })).toBeCloseTo(
      1.8,
    );
    expect(readableDrops({ ...matrix, thresholdRatio: 0.01 })).toBe(0);
  });
});

describe('further facts of an index', () => {
  it('finds a switch by its further numbers, its own first', () => {
    const switches = fixtureMachine.switches.map((s) =>
      s.name === 'Spinner' ? { ...s, also: ['T7', '11'], emitterSupply: 'supply.coil', optoBoard: 'Eye' } : s,
    );
    const chart = indexChart({ ...fixtureMachine, switches }, fixtureDesign);
    expect(chart.circuit.get('T7')).toMatchObject({ number: '46', also: ['T7', '11'], emitterSupply: 'supply.coil', optoBoard: 'Eye' });
    expect(chart.circuit.get('11')?.name).toBe('Coin left');
  });

  it('counts lines from 0 where the chart does', () => {
    const shift = (kind: string) => (n: (typeof fixtureDesign.nets)[number]) =>
      n.kind === kind ? { ...n, id: `${kind}.${n.number! - 1}`, number: n.number! - 1 } : n;
    const nets = fixtureDesign.nets.map(shift('switch-column')).map(shift('switch-row'));
    const switches = fixtureMachine.switches.map((s) => ({ ...s, column: s.column - 1, row: s.row - 1 }));
    const chart = indexChart({ ...fixtureMachine, switches }, { ...fixtureDesign, nets });
    expect(chart.columns).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
    expect(chart.circuit.get('35')).toMatchObject({ name: 'Spinner', nets: ['switch-column.3', 'switch-row.5'] });
    expect(chart.circuit.get('00')?.name).toBe('Coin left');
  });

  it('says which taps feed a string of lamps', () => {
    const illumination = [{ ...fixtureMachine.illumination[0]!, taps: ['A1J2-6', 'A1J2-8'] }];
    const goes = (chart: ReturnType<typeof indexChart>) => [6, 7, 8, 9].map((n) => chart.pins.get(`A1J2-${n}`)?.goesTo);
    expect(goes(indexChart(fixtureMachine, fixtureDesign))).toEqual(Array(4).fill('G1 Lower playfield'));
    expect(goes(indexChart({ ...fixtureMachine, illumination }, fixtureDesign))).toEqual([
      'G1 Lower playfield',
      '',
      'G1 Lower playfield',
      '',
    ]);
  });

  it('tells the keys of each half as found, else as charted; the last look counts', () => {
    const look = { header: 'A3J4', on: '2025-11-02', by: 'Ines Okafor' };
    const keysAsFound = [
      { ...look, pins: [4], plug: [4] },
      { ...look, plug: [] },
    ];
    const chart = indexChart({ ...fixtureMachine, keysAsFound }, fixtureDesign);
    expect(keysOnMachine(chart, 'A3J4')).toEqual({ pins: [4], plug: [] });
    expect(keysOnMachine(chart, 'A3J5')).toEqual({ pins: [3], plug: [3] });
    expect(keysOnMachine(chart, 'A9J9')).toEqual({ pins: [], plug: [] });
  });
});
