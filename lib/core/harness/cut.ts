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

interface Strip {
  id: string;
  positions: number;
  cut: CutKind | 'no';
}
/** A part that serves whole, or one that has to be cut. */
export type Choice<P extends Strip> = { part: P; cut: CutKind | null; onHand: number };

/**
 * The part to take for so many positions: one of that length on hand, else the shortest longer one on hand that can be cut, else one of
 * that length to order, else the shortest longer one to order. Null when none serves.
 */
export function chooseLength<P extends Strip>(
  parts: readonly P[],
  positions: number,
  stock: Readonly<Record<string, number>>,
): Choice<P> | null {
  const choices = [...parts]
    .sort((a, b) => a.positions - b.positions || (a.id < b.id ? -1 : 1))
    .flatMap((part): Choice<P>[] => {
      const onHand = stock[part.id] ?? 0;
      if (part.positions === positions) return [{ part, cut: null, onHand }];
      if (part.cut === 'no' || part.positions < positions) return [];
      return piecesFit([positions], part.positions, lostPerCut[part.cut]) ? [{ part, cut: part.cut, onHand }] : [];
    });
  return choices.find((c) => c.onHand > 0) ?? choices[0] ?? null;
}
