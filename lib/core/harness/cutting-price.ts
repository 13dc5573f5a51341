/** The pattern that pays best at given prices: a knapsack for each kind, in whole positions. */
import { capacity, type Kind, type Level, levels, type Model, type Pattern, room, scrapOf, takes } from './cutting-model';
import type { Row } from './cutting-rows';

export interface Prices {
  piece: Float64Array; // worth of a piece, by length
  strip: Float64Array; // worth of a strip, by kind
  level: Record<Level, number>; // price of one unit of a level
  end: ReadonlyMap<number, number>[]; // by kind: worth of ending at …
  place: ReadonlyMap<number, number>[]; // by kind: worth of a piece beginning at …, key type × width + at
  width: number;
}

/** Prices from the duals of the rows. `objective` is the level that is minimised, null while looking for a start. */
export function pricesFrom(
  model: Model,
  rows: readonly Row[],
  duals: Float64Array,
  objective: { level: Level; step: number } | null,
): Prices {
  const width = Math.max(0, ...model.kinds.map(capacity)) + 1;
  const level = Object.fromEntries(levels.map((l) => [l, 0])) as Record<Level, number>;
  if (objective) level[objective.level] = 1 / objective.step;
  const piece = new Float64Array(model.lengths.length);
  const strip = new Float64Array(model.kinds.length);
  const end = model.kinds.map(() => new Map<number, number>());
  const place = model.kinds.map(() => new Map<number, number>());
  const add = (map: Map<number, number>, key: number, dual: number) => map.set(key, (map.get(key) ?? 0) + dual);
  rows.forEach((row, r) => {
    const dual = duals[r]!;
    if (row.on === 'demand') piece[row.type]! += dual;
    else if (row.on === 'supply') strip[row.kind]! += dual;
    else if (row.on === 'level') level[row.level] -= dual / row.step;
    else if (row.count.on === 'strips') strip[row.count.kind]! += dual;
    else if (row.count.on === 'end') add(end[row.count.kind]!, row.count.at, dual);
    else if (row.count.on === 'place') add(place[row.count.kind]!, row.count.type * width + row.count.at, dual);
  });
  return { piece, strip, level, end, place, width };
}

/** The best pattern of one kind and its worth above cost (minus its reduced cost); null when the kind serves nothing. */
export function bestPattern(model: Model, k: number, prices: Prices): { pattern: Pattern; gain: number } | null {
  const kind = model.kinds[k]!;
  const most = capacity(kind);
  const reached = new Float64Array(most + 1).fill(Number.NEGATIVE_INFINITY);
  reached[0] = 0;
  const copies: (Uint8Array | null)[] = model.lengths.map((length, type) => {
    const times = kind.whole ? 1 : Math.min(model.demand[type]!, Math.floor(most / room(kind, length)), 255);
    return takes(kind, length) && times > 0 ? addType(kind, type, length, times, reached, prices, prices.place[k]!) : null;
  });
  let best = Number.NEGATIVE_INFINITY;
  let at = 0;
  const ends = prices.end[k]!;
  for (let used = 1; used <= most; used++) {
    if (reached[used] === Number.NEGATIVE_INFINITY || (kind.whole && used !== most)) continue;
    const gain =
      reached[used]! -
      prices.level.scrap * scrapOf(kind, used, model.reusable) +
      (used === most ? prices.level.cuts : 0) +
      (ends.size > 0 ? (ends.get(used) ?? 0) : 0);
    if (gain > best) [best, at] = [gain, used];
  }
  if (at === 0) return null;
  const gain = best + prices.strip[k]! - prices.level.value * kind.value - prices.level.positions * kind.length;
  return { pattern: { kind: k, pieces: traceBack(model, kind, copies, at), used: at }, gain };
}

/** Adds up to `times` pieces of one length to everything reached so far; returns how many were added to reach each point. */
function addType(
  kind: Kind,
  type: number,
  length: number,
  times: number,
  reached: Float64Array,
  prices: Prices,
  places: ReadonlyMap<number, number>,
): Uint8Array {
  const most = reached.length - 1;
  const step = room(kind, length);
  const worth = prices.piece[type]! - prices.level.cuts;
  const taken = new Uint8Array(most + 1);
  for (let n = 1, more = true; more && n <= times; n++) {
    more = false;
    for (let at = most - step; at >= 0; at--) {
      const value = reached[at]! + worth + (places.size > 0 ? (places.get(type * prices.width + at) ?? 0) : 0);
      if (value <= reached[at + step]!) continue;
      reached[at + step] = value;
      taken[at + step] = taken[at]! + 1;
      more = true;
    }
  }
  return taken;
}

function traceBack(model: Model, kind: Kind, copies: readonly (Uint8Array | null)[], end: number): number[] {
  const pieces: number[] = [];
  let at = end;
  for (let type = copies.length - 1; type >= 0; type--) {
    const n = copies[type]?.[at] ?? 0;
    for (let i = 0; i < n; i++) pieces.unshift(type);
    at -= n * room(kind, model.lengths[type]!);
  }
  return pieces;
}
