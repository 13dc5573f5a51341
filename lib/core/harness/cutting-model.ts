/** The cutting problem of one pitch as the search sees it: lengths with counts, kinds of strip, patterns and their cost. */

/** What counts, the first above all others. Each is a whole number; less is better. */
export const levels = ['unmet', 'spend', 'packs', 'value', 'positions', 'cuts', 'scrap'] as const;
export type Level = (typeof levels)[number];
/**
 * unmet: pieces that no strip is left for; spend: pence for whole packs to buy; packs: how many; value: of every strip taken, in hundredths of a penny;
 * positions: of every strip taken; cuts: saw cuts and breaks; scrap: positions in offcuts too short to keep.
 */
export type Cost = Record<Level, number>;

export interface Kind {
  length: number; // positions
  lost: number; // positions lost at a cut
  whole: boolean; // never cut: serves a piece of its own length only
  onHand: number;
  value: number; // hundredths of a penny each
  pack: { size: number; pence: number } | null; // null: cannot be bought
}
export interface Model {
  lengths: readonly number[]; // distinct, longest first
  demand: readonly number[]; // pieces of each length
  kinds: readonly Kind[];
  reusable: number; // shortest offcut that is kept
}
/** One strip as it is cut: indices into `lengths`, longest first. `used` is Σ(l + κ). */
export interface Pattern {
  kind: number;
  pieces: readonly number[];
  used: number;
}
export interface Packing {
  patterns: readonly Pattern[];
  unmet: readonly number[]; // by length
  cost: Cost;
}

/** Room in a strip when each piece takes l + κ: the last piece needs no cut behind it. */
export const capacity = (kind: Kind): number => kind.length + kind.lost;
export const room = (kind: Kind, length: number): number => length + kind.lost;
export const takes = (kind: Kind, length: number): boolean => (kind.whole ? length === kind.length : length <= kind.length);

/** Positions left behind the last cut. */
export const leftOver = (kind: Kind, used: number): number => Math.max(0, kind.length - used);
export const scrapOf = (kind: Kind, used: number, reusable: number): number => {
  const left = leftOver(kind, used);
  return left < reusable ? left : 0;
};
export const cutsOf = (kind: Kind, pieces: number, used: number): number => pieces - (used === capacity(kind) ? 1 : 0);

export const packsFor = (kind: Kind, strips: number): number =>
  kind.pack === null ? 0 : Math.ceil(Math.max(0, strips - kind.onHand) / kind.pack.size);

export function costOf(model: Model, patterns: readonly Pattern[], unmet: readonly number[]): Cost {
  const cost: Cost = { unmet: unmet.reduce((a, b) => a + b, 0), spend: 0, packs: 0, value: 0, positions: 0, cuts: 0, scrap: 0 };
  const strips = model.kinds.map(() => 0);
  for (const { kind: k, pieces, used } of patterns) {
    const kind = model.kinds[k]!;
    strips[k]! += 1;
    cost.value += kind.value;
    cost.positions += kind.length;
    cost.cuts += cutsOf(kind, pieces.length, used);
    cost.scrap += scrapOf(kind, used, model.reusable);
  }
  model.kinds.forEach((kind, k) => {
    const packs = packsFor(kind, strips[k]!);
    cost.packs += packs;
    cost.spend += packs * (kind.pack?.pence ?? 0);
  });
  return cost;
}

/** True when every piece lies in one strip that holds it, none is made twice, and no more strips are taken than can be had. */
export function isPacking(model: Model, { patterns, unmet }: Packing): boolean {
  const free = model.kinds.map((k) => (k.pack ? Number.POSITIVE_INFINITY : k.onHand));
  return (
    unmet.every((n) => n >= 0) &&
    patterns.every(({ kind: k, pieces, used }) => {
      const kind = model.kinds[k]!;
      free[k]! -= 1;
      const taken = pieces.reduce((sum, i) => sum + room(kind, model.lengths[i]!), 0);
      return (
        free[k]! >= 0 &&
        pieces.length > 0 &&
        taken === used &&
        used <= capacity(kind) &&
        pieces.every((i) => takes(kind, model.lengths[i]!))
      );
    })
  );
}

/** Below zero when `a` is the better one. */
export function compareCost(a: Cost, b: Cost): number {
  for (const level of levels) if (a[level] !== b[level]) return a[level] - b[level];
  return 0;
}

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));
/** The size of one step of a level: every cost is a multiple of it. */
export function stepOf(model: Model, level: Level): number {
  const steps: Partial<Record<Level, number[]>> = {
    spend: model.kinds.map((k) => k.pack?.pence ?? 0),
    value: model.kinds.map((k) => k.value),
    positions: model.kinds.map((k) => k.length),
  };
  return steps[level]?.reduce(gcd, 0) || 1;
}
