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
  return awgOfAreaMm2(gauges.reduce((sum, awg) => sum + awgAreaMm2(awg), 0));
}

/** The gauge, not rounded, of a solid round conductor of this cross section in mm². */
export const awgOfAreaMm2 = (area: number): number => 36 - (39 * Math.log(Math.sqrt((4 * area) / Math.PI) / 0.127)) / Math.log(92);

/** A conductor as it is marked, and its strands where somebody counted and measured one. */
export interface Conductor {
  awg: number;
  strands?: number;
  strandAwg?: number; // gauge of one strand
  strandMm?: number; // diameter of one strand; goes before its gauge
}

/** Copper in mm²: strands × strand where both are known (7/30 has 9.5 % more than nominal 22), else the nominal area of the gauge. */
export function conductorAreaMm2({ awg, strands, strandAwg, strandMm }: Conductor): number {
  const strand = strandMm ?? (strandAwg === undefined ? undefined : awgDiameterMm(strandAwg));
  return strands === undefined || strand === undefined ? awgAreaMm2(awg) : strands * (Math.PI / 4) * strand ** 2;
}

/**
 * The gauge of all these conductors together, by their copper, not rounded. One alone keeps the gauge it is marked with: makers state a
 * terminal's range for stranded wire by its mark. Throws without a wire.
 */
export function togetherAwg(wires: readonly Conductor[]): number {
  const [first] = wires;
  if (first === undefined) throw new RangeError('togetherAwg needs at least one wire');
  return wires.length === 1 ? first.awg : awgOfAreaMm2(wires.reduce((sum, w) => sum + conductorAreaMm2(w), 0));
}

/**
 * Ampere that a wire in a loom carries without its insulation growing hotter than 60 °C, and the largest fuse that protects it. As the
 * standard for industrial machinery tabulates it (NFPA 79, 30 °C ambient; from memory, edition not checked).
 */
const safeCurrents: readonly (readonly [awg: number, amps: number])[] = [
  [10, 30],
  [12, 20],
  [14, 20],
  [16, 10],
  [18, 7],
  [20, 5],
  [22, 3],
  [24, 2],
  [26, 1],
  [28, 0.8],
  [30, 0.5],
];

/** Ampere, see above; a gauge between two of the table counts as the thinner. Null for wire thinner than the table has. */
export function safeAmps(awg: number): number | null {
  return safeCurrents.find(([thickness]) => awg <= thickness)?.[1] ?? null;
}

const strandedOverSolid = 1.13; // seven strands of the same area measure about this much more across
const wallMm = 0.4; // of common 300 V hook-up wire

/**
 * Outer diameter in mm that hook-up wire of this gauge usually has, to 0.1 mm. An estimate for want of a measurement: common practice,
 * no source; thin-walled and old rubbery wire differ by half a millimetre.
 */
export const estimatedInsulationMm = (awg: number): number => Math.round((awgDiameterMm(awg) * strandedOverSolid + 2 * wallMm) * 10) / 10;
