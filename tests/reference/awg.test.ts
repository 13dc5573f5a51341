/** Wire gauges against a printed table, the definition's end points, and checked equivalents of two wires. */
import { describe, expect, it } from 'vitest';
import {
  awgAreaMm2,
  awgDiameterMm,
  awgOfAreaMm2,
  conductorAreaMm2,
  equivalentAwg,
  estimatedInsulationMm,
  ohmsPerMetre,
  safeAmps,
  togetherAwg,
} from '@/lib/core/wire';
import table from './awg.json';

const mmPerInch = 25.4;
const metresPerThousandFeet = 304.8;
const mm2PerCircularMil = (Math.PI / 4) * (mmPerInch / 1000) ** 2;
const within = (value: number, wanted: number, ratio: number) => expect(Math.abs(value / wanted - 1)).toBeLessThanOrEqual(ratio);

describe('American wire gauge', () => {
  it('has the end points and the step of its definition (ASTM B258)', () => {
    expect(awgDiameterMm(36)).toBeCloseTo(0.127, 12);
    expect(awgDiameterMm(-3)).toBeCloseTo(11.684, 9);
    expect(awgDiameterMm(20) / awgDiameterMm(21)).toBeCloseTo(1.122932, 6);
  });

  it.each(table.rows)('gauge %s measures as the printed table has it', (...row) => {
    const [awg, inches, mils, ohms] = row as [number, number, number, number];
    within(awgDiameterMm(awg), inches * mmPerInch, 0.002);
    within(awgAreaMm2(awg), mils * mm2PerCircularMil, 0.002);
    within(ohmsPerMetre(awg), ohms / metresPerThousandFeet, 0.0015);
  });

  it('covers every gauge of a harness', () => {
    const gauges = new Set(table.rows.map(([awg]) => awg));
    for (let awg = 10; awg <= 30; awg += 1) expect(gauges).toContain(awg);
  });

  it.each([
    [18, 20.9],
    [20, 33.3],
    [22, 53.0],
    [24, 84.2],
  ])('gauge %d has %d mΩ/m at 20 °C (1/58 Ω mm²/m, checked by script)', (awg, milliohms) => {
    expect(ohmsPerMetre(awg) * 1000).toBeCloseTo(milliohms, 1);
  });
});

/** Two wires in one terminal: summed area, not rounded (checked by script: n = 36 − 39·log₉₂(√Σd² / 0.127 mm)). */
describe('equivalentAwg', () => {
  it.each([
    [[24, 24], 21.01],
    [[22, 22], 19.01],
    [[20, 20], 17.01],
    [[18, 18], 15.01],
    [[22, 20], 17.9],
    [[18, 22], 16.56],
  ])('%j is %d', (gauges, wanted) => {
    expect(equivalentAwg(gauges)).toBeCloseTo(wanted, 2);
    expect(awgAreaMm2(equivalentAwg(gauges))).toBeCloseTo(
      gauges.reduce((sum, n) => sum + awgAreaMm2(n), 0),
      10,
    );
  });

  it('leaves one wire as it is, exactly, and refuses none', () => {
    expect(equivalentAwg([20])).toBe(20);
    expect(() => equivalentAwg([])).toThrow(RangeError);
  });
});

describe('copper of stranded wire, by strand count and strand size', () => {
  it('7/30 is 0.356 mm², 9.5 % above nominal 22 (checked by script)', () => {
    const area = conductorAreaMm2({ awg: 22, strands: 7, strandAwg: 30 });
    expect(area).toBeCloseTo(0.356, 3);
    expect((area / awgAreaMm2(22) - 1) * 100).toBeCloseTo(9.5, 1);
  });

  it.each(table.stranding)('%d AWG of %d strands of %d AWG has %d per cent over solid', (...row) => {
    const [awg, strands, strandAwg, percent] = row as [number, number, number, number];
    const strandMm = (Math.round((awgDiameterMm(strandAwg) / mmPerInch) * 1e4) / 1e4) * mmPerInch; // rounded as the reference has it
    expect((conductorAreaMm2({ awg, strands, strandMm }) / awgAreaMm2(awg) - 1) * 100).toBeCloseTo(percent, 0);
  });

  it('goes by a measured strand before its gauge, and by the mark where nobody counted', () => {
    expect(conductorAreaMm2({ awg: 22, strands: 7, strandAwg: 30, strandMm: 0.25 })).toBeCloseTo(7 * (Math.PI / 4) * 0.25 ** 2, 12);
    expect(conductorAreaMm2({ awg: 22, strands: 7 })).toBe(awgAreaMm2(22));
    expect(conductorAreaMm2({ awg: 22, strandAwg: 30 })).toBe(awgAreaMm2(22));
  });

  it('makes two wires thicker than their marks say, and leaves one at its mark', () => {
    const wire = { awg: 22, strands: 7, strandAwg: 30 };
    expect(togetherAwg([wire, wire])).toBeCloseTo(awgOfAreaMm2(2 * conductorAreaMm2(wire)), 12);
    expect(togetherAwg([wire, wire])).toBeLessThan(equivalentAwg([22, 22]));
    expect(togetherAwg([wire])).toBe(22);
    expect(togetherAwg([{ awg: 22 }, { awg: 22 }])).toBeCloseTo(19.01, 2);
    expect(() => togetherAwg([])).toThrow(RangeError);
    for (const awg of [-3, 0, 10, 22, 30]) expect(awgOfAreaMm2(awgAreaMm2(awg))).toBeCloseTo(awg, 9);
  });
});

describe('safeAmps', () => {
  // From memory: conductor table of NFPA 79 for industrial machinery, 60 °C insulation, 30 °C ambient; edition not checked.
  it.each([
    [30, 0.5],
    [28, 0.8],
    [26, 1],
    [24, 2],
    [22, 3],
    [20, 5],
    [18, 7],
    [16, 10],
  ])('%d AWG bears %d A', (awg, amps) => {
    expect(safeAmps(awg)).toBe(amps);
  });
});

describe('estimatedInsulationMm', () => {
  // From memory, common practice: 300 V hook-up wire is about 1.3 mm at 26, 1.4 at 24, 1.6 at 22, 1.8 at 20, 2.1 at 18 AWG.
  it.each([
    [26, 1.3],
    [24, 1.4],
    [22, 1.6],
    [20, 1.8],
    [18, 2.1],
  ])('is near common wire at %d AWG', (awg, usual) => {
    expect(Math.abs(estimatedInsulationMm(awg) - usual)).toBeLessThanOrEqual(0.2);
  });
});
