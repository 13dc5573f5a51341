/** Joins two people's changes of one chart, cell by cell, against the state that both began with. */
import { type Change, differences, labelOf, plainTree } from './differences';
import { isBranch, isList, isOrder, type Json, jsonOf, keysOf, sameTree, type Tree } from './rows';
import type { BoardDesign, Machine } from './schema';

/** A cell that both changed, each in another way. */
export interface Conflict {
  path: string[];
  label: string;
  base: Json | undefined;
  mine: Json | undefined;
  theirs: Json | undefined;
}
export type Merged<T> = { ok: true; chart: T; taken: Change[] } | { ok: false; conflicts: Conflict[] };

/**
 * `taken` is what the result has of theirs beside mine. A row that one took out and the other changed is a conflict; a row that both put in
 * is compared cell by cell. The result may break a rule that each side kept: read and lint it before it is stored.
 */
export function merge<T extends BoardDesign | Machine>(base: T, mine: T, theirs: T): Merged<T> {
  const conflicts: Conflict[] = [];
  const tree = join(plainTree(base), plainTree(mine), plainTree(theirs), []);
  if (conflicts.length > 0 || tree === undefined) return { ok: false, conflicts };
  const chart = jsonOf(tree) as unknown as T;
  return { ok: true, chart, taken: differences(mine, chart) };

  function join(b: Tree | undefined, m: Tree | undefined, t: Tree | undefined, path: string[]): Tree | undefined {
    if (sameTree(m, t) || sameTree(t, b)) return m;
    if (sameTree(m, b)) return t;
    if (!isBranch(m) || !isBranch(t) || isList(m) !== isList(t) || (b !== undefined && (!isBranch(b) || isList(b) !== isList(m)))) {
      const json = (tree: Tree | undefined) => (tree === undefined ? undefined : jsonOf(tree));
      conflicts.push({ path, label: labelOf(path), base: json(b), mine: json(m), theirs: json(t) });
      return m;
    }
    const from = b ?? {};
    const joined: Record<string, Tree> = {};
    for (const key of new Set([...Object.keys(m), ...Object.keys(t)])) {
      if (isOrder(key)) continue;
      const value = join(from[key], m[key], t[key], [...path, key]);
      if (value !== undefined) joined[key] = value;
    }
    if (!isList(m)) return joined;
    const [orderBefore, orderMine, orderTheirs] = [isList(from) ? keysOf(from) : [], keysOf(m), keysOf(t)];
    const there = new Set(keysOf({ ...joined }));
    const [orderName = ''] = Object.keys(m).filter(isOrder);
    return { [orderName]: orderOf(orderBefore, orderMine, orderTheirs).filter((key) => there.has(key)), ...joined };
  }
}

/** Whoever moved rows decides their order, mine before theirs; a new row stands behind the one that it stood behind. */
function orderOf(before: string[], mine: string[], theirs: string[]): string[] {
  const old = new Set(before);
  const of = (keys: string[]) => keys.filter((key) => old.has(key));
  const both = new Set(of(mine).filter((key) => theirs.includes(key)));
  const moved = (keys: string[]) =>
    of(keys)
      .filter((k) => both.has(k))
      .join('\n') !== before.filter((k) => both.has(k)).join('\n');
  const order = (moved(mine) ? mine : moved(theirs) ? theirs : before).filter((key) => old.has(key));
  const fresh = [...new Set([...mine, ...theirs])].filter((key) => !old.has(key)).sort();
  const follow = (key: string, keys: string[]) => keys[keys.indexOf(key) - 1];
  const waiting = new Map(fresh.map((key) => [key, follow(key, mine.includes(key) ? mine : theirs)]));
  while (waiting.size > 0) {
    const next = [...waiting].filter(([, anchor]) => anchor === undefined || order.includes(anchor) || !waiting.has(anchor));
    for (const [key, anchor] of (next.length > 0 ? next : [...waiting]).reverse()) {
      order.splice(anchor === undefined ? 0 : order.indexOf(anchor) + 1, 0, key);
      waiting.delete(key);
    }
  }
  return order;
}
