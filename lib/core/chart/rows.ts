/**
 * A chart as a tree of named cells: a list whose rows have an identity becomes rows by name and their order, so that two states can be
 * compared and two people's changes joined cell by cell. Lists without identities (keys of a header, steps of a chain) are one cell.
 */
export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
/** Rows of a list are branches named `=` and their identity; beside them stands their order. */
export type Tree = Json | { [key: string]: Tree };

const orderKey = '↕'; // no field of a chart has such a name
const text = (row: Record<string, Json>, field: string) => String(row[field] ?? '');
const place = (row: Record<string, Json>) => `${text(row, 'column')}·${text(row, 'row')}`;

/** What names a row of each list; lists that are not here are one cell. */
const identities: Record<string, (row: Record<string, Json>) => string> = {
  boards: (row) => text(row, 'designator'),
  nets: (row) => text(row, 'id'),
  headers: (row) => text(row, 'id'),
  pins: (row) => text(row, 'position'),
  switches: place,
  direct: (row) => text(row, 'number'),
  lamps: place,
  loads: (row) => text(row, 'number'),
  illumination: (row) => text(row, 'id'),
  chains: (row) => text(row, 'tap'),
  inline: (row) => text(row, 'id'),
  inlinePins: (row) => text(row, 'pin'),
  asFound: (row) => text(row, 'id'),
  keysAsFound: (row) => text(row, 'header'),
  photos: (row) => text(row, 'picture'),
  boardPhotos: (row) => text(row, 'picture'),
  pinned: (row) => text(row, 'id'),
  boardPinned: (row) => text(row, 'id'),
};

export const isBranch = (value: unknown): value is Record<string, Tree> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isRow = (value: Json): value is Record<string, Json> => isBranch(value);

/** The tree of plain JSON. Two rows of one name are told apart by their turn: `4·6`, `4·6 (2)`. */
export function treeOf(value: Json, name = ''): Tree {
  const identity = Object.hasOwn(identities, name) ? identities[name] : undefined;
  if (Array.isArray(value)) {
    if (!identity || !value.every(isRow)) return value;
    const rows = new Map<string, Tree>();
    for (const row of value) {
      const first = identity(row);
      let key = first;
      for (let turn = 2; rows.has(key); turn++) key = `${first} (${turn})`;
      rows.set(key, treeOf(row));
    }
    return { [orderKey]: [...rows.keys()], ...Object.fromEntries([...rows].map(([key, row]) => [`=${key}`, row])) };
  }
  if (!isBranch(value)) return value;
  return Object.fromEntries(Object.entries(value).map(([key, child]) => [key, treeOf(child as Json, key)]));
}

/** The JSON of a tree. A row that the order does not name stands at the end, an order without its row is passed over. */
export function jsonOf(tree: Tree): Json {
  if (!isBranch(tree)) return tree as Json;
  if (!isList(tree)) return Object.fromEntries(Object.entries(tree).map(([key, child]) => [key, jsonOf(child)]));
  return keysOf(tree).map((key) => jsonOf(tree[`=${key}`] as Tree));
}

export const isList = (tree: Record<string, Tree>) => Object.hasOwn(tree, orderKey);
export const isOrder = (key: string) => key === orderKey;
export const rowKey = (key: string) => (key.startsWith('=') ? key.slice(1) : null);

/** Names of a list's rows, in its order. */
export function keysOf(list: Record<string, Tree>): string[] {
  const there = Object.keys(list).flatMap((key) => rowKey(key) ?? []);
  const order = ((list[orderKey] ?? []) as string[]).filter((key) => Object.hasOwn(list, `=${key}`));
  const known = new Set(order);
  return [...order, ...there.filter((key) => !known.has(key))];
}

export function sameTree(a: Tree | undefined, b: Tree | undefined): boolean {
  if (a === b) return true;
  if (Array.isArray(a) || Array.isArray(b))
    return Array.isArray(a) && Array.isArray(b) && a.length === b.length && a.every((x, i) => sameTree(x, b[i]));
  if (!isBranch(a) || !isBranch(b)) return false;
  const keys = Object.keys(a);
  return keys.length === Object.keys(b).length && keys.every((key) => Object.hasOwn(b, key) && sameTree(a[key], b[key]));
}
