/**
 * The cutting plan of one pitch: every piece from one strip, proved the best there is.
 *
 * Order of what counts (lexicographic, one after the other): fewest pieces left out, least pence for whole packs to buy, fewest
 * packs, least value of the strips taken, fewest positions of the strips taken, fewest cuts, fewest positions in offcuts too short to keep.
 */
import { type Cost, cutsOf, type Kind, type Level, leftOver, type Model, type Pattern, packsFor, takes } from './cutting-model';
import { searchPacking } from './cutting-search';
import { kindOf, type StripKind, shortestKept } from './cutting-strips';

export interface Piece {
  id: string; // the connector it is for
  length: number; // positions
}
export interface CutStrip {
  part: string;
  positions: number;
  from: 'on hand' | 'offcut' | 'to buy';
  pieces: { id: string; from: number; to: number }[]; // positions of the strip
  cuts: { after: number; lost: number | null }[]; // in order: behind position `after`; the position the blade takes
  left: number; // positions behind the last cut
  kept: boolean; // long enough to go back to stock
}
export interface CuttingPlan {
  strips: CutStrip[];
  unmet: Piece[]; // no strip serves them, or none is left
  buy: { part: string; packs: number; strips: number; pence: number }[];
  cost: Cost;
  /** The first of the costs not proved least, and what it cannot be below; null when all are proved. */
  unproven: { level: Level; bound: number } | null;
  nodes: number; // relaxations solved
}
export interface CuttingLimits {
  reusable: number; // shortest offcut that goes back to stock, positions
  nodes: number; // relaxations to solve before the best found is given as it is
}
export const usualLimits: CuttingLimits = { reusable: shortestKept, nodes: 1500 };

/** Plans the cuts. Lengths, positions, counts and prices are whole numbers ≥ 0 (≥ 1 for lengths, positions and pack sizes). */
export function planCuts(pieces: readonly Piece[], kinds: readonly StripKind[], limits: CuttingLimits = usualLimits): CuttingPlan {
  const sorted = [...kinds].sort((a, b) => order(a.part, b.part) || a.positions - b.positions || Number(a.offcut) - Number(b.offcut));
  const all = sorted.map(kindOf);
  const byLength = [...pieces].sort((a, b) => b.length - a.length || order(a.id, b.id));
  const served = byLength.filter((p) => all.some((k) => takes(k, p.length) && (k.onHand > 0 || k.pack)));
  const lengths = [...new Set(served.map((p) => p.length))];
  const useful = sorted.filter((_, i) => (all[i]!.onHand > 0 || all[i]!.pack) && lengths.some((l) => takes(all[i]!, l)));
  const model: Model = {
    lengths,
    demand: lengths.map((l) => served.filter((p) => p.length === l).length),
    kinds: useful.map(kindOf),
    reusable: limits.reusable,
  };
  const { packing, unproven, nodes } = searchPacking(model, limits.nodes);
  const waiting = lengths.map((l) => served.filter((p) => p.length === l));
  const strips = layOut(model, useful, packing.patterns, waiting);
  const unmet = [...byLength.filter((p) => !served.includes(p)), ...waiting.flat()];
  const buy = useful.flatMap(({ part, pack }, k) => {
    const packs = packsFor(model.kinds[k]!, packing.patterns.filter((p) => p.kind === k).length);
    return pack && packs > 0 ? [{ part, packs, strips: packs * pack.size, pence: packs * pack.pence }] : [];
  });
  return { strips, unmet, buy, cost: { ...packing.cost, unmet: unmet.length }, unproven, nodes };
}

const order = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

/** Names the pieces: takes them out of `waiting`, strips by part, what is on hand before what is bought. */
function layOut(model: Model, kinds: readonly StripKind[], patterns: readonly Pattern[], waiting: Piece[][]): CutStrip[] {
  const strips: CutStrip[] = [];
  kinds.forEach((strip, k) => {
    const kind = model.kinds[k]!;
    const same = patterns.filter((p) => p.kind === k).sort((a, b) => byPieces(a.pieces, b.pieces));
    same.forEach((pattern, n) => {
      const from = n >= strip.onHand ? 'to buy' : strip.offcut ? 'offcut' : 'on hand';
      const left = leftOver(kind, pattern.used);
      strips.push({
        part: strip.part,
        positions: strip.positions,
        from,
        ...cutUp(model, kind, pattern, waiting),
        left,
        kept: left >= model.reusable,
      });
    });
  });
  return strips;
}

function cutUp(model: Model, kind: Kind, { pieces, used }: Pattern, waiting: Piece[][]): Pick<CutStrip, 'pieces' | 'cuts'> {
  let at = 0;
  const cut = pieces.map((type) => {
    const to = at + model.lengths[type]!;
    const piece = { id: waiting[type]!.shift()!.id, from: at + 1, to };
    at = to + kind.lost;
    return piece;
  });
  const cuts = cut.slice(0, cutsOf(kind, pieces.length, used)).map(({ to }) => ({ after: to, lost: kind.lost > 0 ? to + 1 : null }));
  return { pieces: cut, cuts };
}

function byPieces(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < Math.min(a.length, b.length); i++) if (a[i] !== b[i]) return a[i]! - b[i]!;
  return b.length - a.length;
}
