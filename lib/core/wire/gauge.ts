/**
 * American wire gauge. Formula: ASTM B258 (36 AWG = 0.005 in, 4/0 = 0.46 in, 39 equal steps). Resistance: annealed copper of 100 % IACS,
 * 1/58 Ω·mm²/m at 20 °C.
 */

/** Diameter of a solid conductor, mm. */
export const awgDiameterMm = (awg: number) => 0.127 * 92 ** ((36 - awg) / 39);
/** Area of a solid conductor, mm². */
export const awgAreaMm2 = (awg: number) => (Math.PI / 4) * awgDiameterMm(awg) ** 2;
/** Resistance of copper at 20 °C, Ω/m. */
export const ohmsPerMetre = (awg: number) => 1 / (58 * awgAreaMm2(awg));
/** The gauge whose area equals that of all the wires together; not rounded. 22 and 22 make 19.01. Throws on an empty list. */
export function equivalentAwg(gauges: readonly number[]): number {
  if (gauges.length === 0) throw new RangeError('equivalentAwg needs at least one gauge');
  if (gauges.length === 1) return gauges[0] as number;
  const squares = gauges.reduce((sum, g) => sum + awgDiameterMm(g) ** 2, 0);
  return 36 - (39 * Math.log(Math.sqrt(squares) / 0.127)) / Math.log(92);
}
/** Outer diameter over the insulation of common hook-up wire, mm: conductor and two walls of 0.41 mm, stranding 12 % over solid. Common practice, no source. */
export const estimatedInsulationMm = (awg: number) => Math.round((awgDiameterMm(awg) * 1.12 + 2 * 0.41) * 100) / 100;
