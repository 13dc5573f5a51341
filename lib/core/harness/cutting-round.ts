/** From amounts of the relaxation to whole packings: what is fractional, rounding, and reading strips off whole counts. */

import { complete, openings } from './cutting-greedy';
import { compareCost, costOf, type Model, type Packing, type Pattern, room } from './cutting-model';
import type { Relaxed } from './cutting-relaxation';
import { type Column, type Count, placesOf } from './cutting-rows';

const near = 1e-6;
export const isWhole = (amount: number): boolean => Math.abs(amount - Math.round(amount)) < near;

interface Counted {
  count: Count;
  amount: number;
}
/** The counts of a relaxed packing, coarse before fine: packs, strips by kind, where strips end, where pieces lie. */
export function countsOf(model: Model, { basis, amounts }: Relaxed): Counted[][] {
  const groups = new Map<Count['on'], Map<string, Counted>>([
    ['packs', new Map()],
    ['strips', new Map()],
    ['end', new Map()],
    ['place', new Map()],
  ]);
  const add = (count: Count, amount: number) => {
    const group = groups.get(count.on)!;
    const key = `${count.kind} ${'at' in count ? count.at : ''} ${'type' in count ? count.type : ''}`;
    const known = group.get(key);
    if (known) known.amount += amount;
    else group.set(key, { count, amount });
  };
  basis.forEach((column, i) => {
    const amount = amounts[i]!;
    if (column.is === 'packs') add({ on: 'packs', kind: column.kind }, amount);
    if (column.is !== 'pattern') return;
    const { kind, used } = column.pattern;
    add({ on: 'strips', kind }, amount);
    add({ on: 'end', kind, at: used }, amount);
    for (const { type, at } of placesOf(model, column.pattern)) add({ on: 'place', kind, at, type }, amount);
  });
  return [...groups.values()].map((group) => [...group.values()]);
}

/** The count to branch on: the one nearest to a half, coarse before fine. Null when all are whole. */
export function fractional(groups: readonly Counted[][]): Counted | null {
  for (const group of groups) {
    let best: Counted | null = null;
    let least = 0.5 - near;
    for (const counted of group) {
      const off = Math.abs(counted.amount - Math.floor(counted.amount) - 0.5);
      if (off < least) [best, least] = [counted, off];
    }
    if (best) return best;
  }
  return null;
}

/** Reads strips off whole counts: from the start of a strip along its pieces to an end. */
export function readOff(model: Model, groups: readonly Counted[][]): Packing {
  const left = groups.flat().map(({ count, amount }) => ({ count, n: Math.round(amount) }));
  const take = (wanted: (count: Count) => boolean): Count | null => {
    const found = left.find((c) => c.n > 0 && wanted(c.count));
    if (!found) return null;
    found.n -= 1;
    return found.count;
  };
  const patterns: Pattern[] = [];
  for (let strip = take((c) => c.on === 'strips'); strip; strip = take((c) => c.on === 'strips')) {
    const { kind } = strip;
    const pieces: number[] = [];
    let at = 0;
    for (;;) {
      const place = take((c) => c.on === 'place' && c.kind === kind && c.at === at);
      if (place?.on !== 'place') break;
      pieces.push(place.type);
      at += room(model.kinds[kind]!, model.lengths[place.type]!);
    }
    take((c) => c.on === 'end' && c.kind === kind && c.at === at);
    patterns.push({ kind, pieces: pieces.sort((a, b) => a - b), used: at });
  }
  return packingOf(model, patterns);
}

function packingOf(model: Model, patterns: readonly Pattern[]): Packing {
  const unmet = [...model.demand];
  for (const p of patterns) for (const i of p.pieces) unmet[i]! -= 1;
  return { patterns, unmet, cost: costOf(model, patterns, unmet) };
}

/** The best packing near a relaxed one: its patterns as far as they fit, the largest amounts first, the rest packed greedily. */
export function roundOff(model: Model, { basis, amounts }: { basis: readonly Column[]; amounts: Float64Array }): Packing {
  const weighed = basis
    .flatMap((column, i) => (column.is === 'pattern' && amounts[i]! > near ? [{ pattern: column.pattern, amount: amounts[i]! }] : []))
    .sort((a, b) => b.amount - a.amount);
  let best: Packing | null = null;
  for (const least of [0.99, 0.6, 0.3, 0])
    for (const opening of openings) {
      const packing = complete(model, fitting(model, weighed, least), opening);
      if (!best || compareCost(packing.cost, best.cost) < 0) best = packing;
    }
  return best!;
}

function fitting(model: Model, weighed: readonly { pattern: Pattern; amount: number }[], least: number): Pattern[] {
  const left = [...model.demand];
  const supply = model.kinds.map((k) => (k.pack ? Number.POSITIVE_INFINITY : k.onHand));
  const taken: Pattern[] = [];
  for (const { pattern, amount } of weighed)
    for (let n = Math.floor(amount + 1 - Math.max(least, near)); n > 0; n--) {
      const after = [...left];
      for (const i of pattern.pieces) after[i]! -= 1;
      if (supply[pattern.kind]! <= 0 || after.some((x) => x < 0)) break;
      after.forEach((x, i) => {
        left[i] = x;
      });
      supply[pattern.kind]! -= 1;
      taken.push(pattern);
    }
  return taken;
}
