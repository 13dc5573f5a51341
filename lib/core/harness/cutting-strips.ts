/** Catalogue parts as strips to cut: what is on hand, what it is worth, what a pack costs. */
import type { Stock } from '../parts/schema';
import { type CutKind, lostPerCut } from './cut';
import type { Kind } from './cutting-model';
import type { Offcut } from './job-types';

/** Offcuts of this many positions and more go back to stock: the shortest connector in use (common practice, no source). */
export const shortestKept = 3;

export interface StripKind {
  part: string;
  positions: number;
  cut: CutKind | 'no';
  onHand: number;
  value: number; // hundredths of a penny each, whole; nothing for a loose offcut
  pack: { size: number; pence: number } | null; // null: cannot be bought
  offcut: boolean; // a loose offcut of the part
}
/** The strip as the search sees it. */
export const kindOf = ({ positions, cut, onHand, value, pack }: StripKind): Kind => ({
  length: positions,
  lost: cut === 'no' ? 0 : lostPerCut[cut],
  whole: cut === 'no',
  onHand,
  value,
  pack,
});

/** A housing or header strip of the catalogue. */
export interface StripPart {
  id: string;
  positions: number;
  cut: CutKind | 'no';
  pack: number; // strips in a pack
  packPence?: number | undefined;
}
const unknownRate = 1; // pence a position, when no part of the group has a price

/**
 * The strips of one pitch. A part without a price is reckoned at the dearest known price a position among these parts, so that it is
 * neither thrown away nor bought in place of one whose price is known. A loose offcut costs nothing.
 */
export function stripKinds(parts: readonly StripPart[], stock: Stock, offcuts: readonly Offcut[]): StripKind[] {
  const rates = parts.flatMap((p) => (p.packPence === undefined ? [] : [p.packPence / p.pack / p.positions]));
  const rate = rates.length > 0 ? Math.max(...rates) : unknownRate;
  return parts.flatMap((part): StripKind[] => {
    const pence = part.packPence ?? Math.ceil(rate * part.positions * part.pack);
    const { id, positions, cut } = part;
    const value = Math.round((100 * pence) / part.pack);
    const whole: StripKind = { part: id, positions, cut, onHand: stock[id] ?? 0, value, pack: { size: part.pack, pence }, offcut: false };
    const loose = offcuts.filter((o) => o.part === id).map((o) => o.positions);
    const lengths = [...new Set(loose)].sort((a, b) => a - b);
    return [
      whole,
      ...lengths.map(
        (length): StripKind => ({
          part: id,
          positions: length,
          cut,
          onHand: loose.filter((l) => l === length).length,
          value: 0,
          pack: null,
          offcut: true,
        }),
      ),
    ];
  });
}
