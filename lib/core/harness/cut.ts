/**
 * Cutting pieces from a longer strip. A sawn cut goes through a cavity, so that the neighbour keeps its wall: it costs one position.
 * A scored strip breaks between positions and costs none (common practice, no source).
 */
export const lostPerCut = { sawn: 1, scored: 0 } as const;
export type CutKind = keyof typeof lostPerCut;

const sum = (numbers: readonly number[]) => numbers.reduce((total, n) => total + n, 0);

/** True when pieces of these lengths can be cut from one strip of `stock` positions, `lost` at each cut: Σ(l + κ) ≤ L + κ. */
export const piecesFit = (lengths: readonly number[], stock: number, lost: number): boolean =>
  sum(lengths) + lost * lengths.length <= stock + lost;

/** Positions left over after pieces that fit are cut off: max(0, L − Σl − κm). */
export const offcut = (lengths: readonly number[], stock: number, lost: number): number =>
  Math.max(0, stock - sum(lengths) - lost * lengths.length);
