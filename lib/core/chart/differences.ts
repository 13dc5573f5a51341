/** What differs between two states of a chart, cell by cell. */
import { isBranch, isList, isOrder, type Json, jsonOf, rowKey, sameTree, type Tree, treeOf } from './rows';
import type { BoardDesign, Machine } from './schema';

export interface Change {
  /** The cell: `switches 4·6 name`, one name a level. */
  path: string[];
  /** The same for a reader: "Switch at column 4, row 6: name". */
  label: string;
  before: Json | undefined; // absent: it was not there
  after: Json | undefined; // absent: it was taken out
}
type Chart = BoardDesign | Machine;

/** All changes that make `after` of `before`, in the order of the chart. A row that is new or gone is one change. */
export function differences<T extends Chart>(before: T, after: T): Change[] {
  const found: Change[] = [];
  walk(plainTree(before), plainTree(after), []);
  return found;

  function walk(a: Tree | undefined, b: Tree | undefined, path: string[]) {
    if (sameTree(a, b)) return;
    if (isBranch(a) && isBranch(b) && isList(a) === isList(b)) {
      for (const key of new Set([...Object.keys(a), ...Object.keys(b)])) walk(a[key], b[key], [...path, key]);
      return;
    }
    found.push({
      path,
      label: labelOf(path),
      before: a === undefined ? undefined : jsonOf(a),
      after: b === undefined ? undefined : jsonOf(b),
    });
  }
}

/** `chart` with the changes made; `differences(a, b)` made to a give b. */
export function patched<T extends Chart>(chart: T, changes: readonly Change[]): T {
  const tree = structuredClone(plainTree(chart)) as Record<string, Tree>;
  for (const { path, after } of changes) {
    const last = path.at(-1) ?? '';
    let at: Record<string, Tree> = tree;
    for (const key of path.slice(0, -1)) at = at[key] as Record<string, Tree>; // a change within a row stands in a row that both have
    if (after === undefined) delete at[last];
    else at[last] = isOrder(last) ? after : treeOf(after, last);
  }
  return jsonOf(tree) as unknown as T;
}

/** Charts are JSON: what is undefined is not there. */
export const plainTree = (chart: Chart): Tree => treeOf(JSON.parse(JSON.stringify(chart)) as Json);

const rowNames: Record<string, string> = {
  boards: 'Board',
  nets: 'Line',
  headers: 'Header',
  pins: 'position',
  direct: 'Direct switch',
  loads: 'Load',
  illumination: 'Lamp string',
  chains: 'Harness from',
  inline: 'In-line connector',
  inlinePins: 'In-line position',
  asFound: 'Found on the machine',
  keysAsFound: 'Keys found at',
  photos: 'Photo',
  boardPhotos: 'Photo',
  pinned: 'Pin on a photo',
  boardPinned: 'Pin on a photo',
};
const fieldNames: Record<string, string> = {
  awg: 'gauge',
  normally: 'position at rest',
  pitchMm: 'pitch',
  wires: 'wires',
  keys: 'key positions',
  pinsOn: 'half with the pins',
  far: 'wires of the far half',
  inline: 'in-line connectors',
  inlinePins: 'in-line positions',
  also: 'other numbers',
  boards: 'Boards',
  asFound: 'what was found on the machine',
  keysAsFound: 'keys as found',
  boardPhotos: 'photos',
  pinned: 'pins on photos',
  boardPinned: 'pins on photos',
  at: 'place',
};
const spaced = (name: string) => fieldNames[name] ?? name.replace(/[A-Z]/g, (c) => ` ${c.toLowerCase()}`);

/** A path in words that a technician reads: "Switch at column 4, row 6: name". */
export function labelOf(path: readonly string[]): string {
  const parts: string[] = [];
  for (let i = 0; i < path.length; i++) {
    const key = path[i] ?? '';
    const row = rowKey(path[i + 1] ?? '');
    if (row !== null) {
      const [column, line] = row.split('·');
      const cell = line !== undefined && (key === 'switches' || key === 'lamps');
      parts.push(
        cell
          ? `${key === 'lamps' ? 'Lamp' : 'Switch'} at column ${column}, row ${line}`
          : `${rowNames[key] ?? spaced(key)} ${/^[0-9a-f]{64}$/.test(row) ? row.slice(0, 6) : row}`, // of a hash as much as tells it apart
      );
      i++;
    } else parts.push(isOrder(key) ? 'order' : spaced(key));
  }
  const [first = 'The chart', ...rest] = parts;
  return [first.charAt(0).toUpperCase() + first.slice(1), ...(rest.length ? [rest.join(', ')] : [])].join(': ');
}
