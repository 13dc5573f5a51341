/** The part for one connector: the job plan's order of costs, where each part gives one packing. */
import type { Stock } from '../parts/schema';
import { type CutKind, piecesFit } from './cut';
import { compareCost, costOf, type Pattern, room } from './cutting-model';
import { kindOf, type StripPart, shortestKept, stripKinds } from './cutting-strips';

/** A part that serves whole, or one that has to be cut. */
export type Choice<P extends StripPart> = { part: P; cut: CutKind | null; onHand: number };

/**
 * The part to take for so many positions: least to pay for packs, so on hand before ordered; then the least value, exact before cut
 * and the shortest where prices are the same; then by id. Null when none serves.
 */
export function chooseLength<P extends StripPart>(parts: readonly P[], positions: number, stock: Stock): Choice<P> | null {
  const byId = [...parts].sort((a, b) => (a.id < b.id ? -1 : 1));
  const kinds = stripKinds(byId, stock, []).map(kindOf);
  const model = { lengths: [positions], demand: [1], kinds, reusable: shortestKept };
  const choices = byId.flatMap((part, k) => {
    const kind = kinds[k]!;
    const exact = part.positions === positions;
    if (!exact && (kind.whole || !piecesFit([positions], part.positions, kind.lost))) return [];
    const pattern: Pattern = { kind: k, pieces: [0], used: room(kind, positions) };
    return [{ part, cut: exact || part.cut === 'no' ? null : part.cut, onHand: kind.onHand, cost: costOf(model, [pattern], [0]) }];
  });
  const [best] = choices.sort((a, b) => compareCost(a.cost, b.cost));
  return best ? { part: best.part, cut: best.cut, onHand: best.onHand } : null;
}
