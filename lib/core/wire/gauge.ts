/** American wire gauge: sizes of a solid round conductor of a gauge. Defined by 36 AWG = 0.127 mm, 4/0 = 11.684 mm, 39 equal ratio steps between (ASTM B258). */

/** Diameter in mm. 1/0 is gauge 0, 2/0 is −1, and so on. */
export const awgDiameterMm = (awg: number): number => 0.127 * 92 ** ((36 - awg) / 39);

/** Cross section in mm². */
export const awgAreaMm2 = (awg: number): number => (Math.PI / 4) * awgDiameterMm(awg) ** 2;

/** Ω per metre of copper at 20 °C: 1/58 Ω mm²/m, the International Annealed Copper Standard. */
export const ohmsPerMetre = (awg: number): number => 1 / (58 * awgAreaMm2(awg));

/** The gauge of one conductor with the area of all these together. Not rounded; throws without a wire. */
export function equivalentAwg(gauges: readonly number[]): number {
  const [first] = gauges;
  if (first === undefined) throw new RangeError('equivalentAwg needs at least one wire');
  if (gauges.length === 1) return first; // exactly, so that 20 is not 20.000000000001
  const diameter = Math.sqrt(gauges.reduce((sum, awg) => sum + awgDiameterMm(awg) ** 2, 0));
  return 36 - (39 * Math.log(diameter / 0.127)) / Math.log(92);
}

const strandedOverSolid = 1.13; // seven strands of the same area measure about this much more across
const wallMm = 0.4; // of common 300 V hook-up wire

/**
 * Outer diameter in mm that hook-up wire of this gauge usually has, to 0.1 mm. An estimate for want of a measurement: common practice,
 * no source; thin-walled and old rubbery wire differ by half a millimetre.
 */
export const estimatedInsulationMm = (awg: number): number => Math.round((awgDiameterMm(awg) * strandedOverSolid + 2 * wallMm) * 10) / 10;
