/** The grid as a state: where one stands, what is chosen, what is being written, what can be undone. Pure. */
import { copied, pastedRows, type Range, rangeOf } from './ranges';
import { endBlank, identityOf, withPinPlaces } from './sheet';
import { isFixed, isOpen, tableOf } from './tables';
import type { Sheet, SheetRow, TableSpec } from './types';

export interface Place {
  row: number; // index of the row shown
  column: number;
}
export interface Grid {
  sheet: Sheet;
  table: string;
  at: Place;
  /** The other corner of what is chosen. */
  anchor: Place;
  /** What is being written in the cell; `caret`: arrows move in the text and not in the grid. */
  editing: { text: string; caret: boolean } | null;
  /** Column to which Enter goes back after a run of Tab. */
  home: number | null;
  past: readonly Sheet[];
  future: readonly Sheet[];
  /** What was not done, and why; said once. */
  notice: string;
}
export type Act =
  | { do: 'move'; rows: number; columns: number; extend?: boolean }
  | { do: 'goto'; at: Place; extend?: boolean; table?: string }
  | { do: 'edge'; to: 'row-start' | 'row-end' | 'start' | 'end'; extend?: boolean }
  | { do: 'all' }
  | { do: 'type'; text: string }
  | { do: 'edit' }
  | { do: 'write'; text: string }
  | { do: 'commit'; and: 'stay' | 'down' | 'up' | 'next' | 'back' }
  | { do: 'cancel' }
  | { do: 'clear' }
  | { do: 'fill' }
  | { do: 'paste'; rows: readonly (readonly string[])[] }
  | { do: 'table'; table: string }
  | { do: 'sheet'; sheet: Sheet } // taken over, undoable
  | { do: 'rebase'; sheet: Sheet } // of the server, ends what can be undone
  | { do: 'undo' }
  | { do: 'redo' };

const mostUndo = 200;
export const newGrid = (sheet: Sheet, table: string): Grid => ({
  sheet,
  table,
  at: startOf(sheet, table),
  anchor: startOf(sheet, table),
  editing: null,
  home: null,
  past: [],
  future: [],
  notice: '',
});

/** Where writing begins: in the first cell that names nothing, or that has no name yet. */
function startOf(sheet: Sheet, table: string): Place {
  const spec = tableOf(sheet.kind, table);
  const cells = sheet.tables[table]?.[0]?.cells ?? [];
  const named = spec.columns.some((c, i) => spec.names.includes(c.path) && cells[i]);
  const column = spec.columns.findIndex((c, i) => !isFixed(spec, i) && !(named && spec.names.includes(c.path)));
  return { row: 0, column: Math.max(0, column) };
}

export const rowsOf = (grid: Grid): readonly SheetRow[] => grid.sheet.tables[grid.table] ?? [];
const specOf = (grid: Grid): TableSpec => tableOf(grid.sheet.kind, grid.table);
export const rangeIn = (grid: Grid): Range => rangeOf(grid.at, grid.anchor);
export const textAt = (grid: Grid, { row, column }: Place): string => rowsOf(grid)[row]?.cells[column] ?? '';

export function gridReducer(grid: Grid, act: Act): Grid {
  switch (act.do) {
    case 'move':
      return stand(settled(grid), { row: grid.at.row + act.rows, column: grid.at.column + act.columns }, act.extend);
    case 'goto': {
      const from = act.table && act.table !== grid.table ? gridReducer(grid, { do: 'table', table: act.table }) : settled(grid);
      return stand(from, act.at, act.extend);
    }
    case 'edge':
      return stand(settled(grid), edgeOf(grid, act.to), act.extend);
    case 'all': {
      const base = settled(grid);
      return { ...base, at: { row: 0, column: 0 }, anchor: { row: rowsOf(base).length - 1, column: specOf(base).columns.length - 1 } };
    }
    case 'type':
      return isFixed(specOf(grid), grid.at.column)
        ? grid
        : { ...grid, anchor: grid.at, editing: { text: act.text, caret: false }, notice: '' };
    case 'edit':
      return isFixed(specOf(grid), grid.at.column)
        ? grid
        : { ...grid, anchor: grid.at, editing: { text: textAt(grid, grid.at), caret: true }, notice: '' };
    case 'write':
      return grid.editing ? { ...grid, editing: { ...grid.editing, text: act.text } } : grid;
    case 'commit':
      return commit(grid, act.and);
    case 'cancel':
      return { ...grid, editing: null, anchor: grid.at };
    case 'clear':
      return changed(
        grid,
        writtenIn(grid, () => ''),
      );
    case 'fill':
      return fillDown(settled(grid));
    case 'paste':
      return paste(settled(grid), act.rows);
    case 'table': {
      const base = settled(grid);
      const sheet = act.table === 'pins' ? withPinPlaces(base.sheet) : base.sheet;
      return { ...base, sheet, table: act.table, at: startOf(sheet, act.table), anchor: startOf(sheet, act.table), home: null, notice: '' };
    }
    case 'sheet':
      return moved(grid, changed(settled(grid), act.sheet));
    case 'rebase':
      return moved(grid, { ...grid, sheet: act.sheet, past: [], future: [] });
    case 'undo': {
      if (grid.editing) return { ...grid, editing: null };
      const last = grid.past.at(-1);
      return last ? inside({ ...grid, sheet: last, past: grid.past.slice(0, -1), future: [grid.sheet, ...grid.future], notice: '' }) : grid;
    }
    case 'redo': {
      const [next, ...future] = grid.future;
      return next ? inside({ ...grid, sheet: next, past: [...grid.past, grid.sheet], future, notice: '' }) : grid;
    }
  }
}

function stand(grid: Grid, to: Place, extend = false): Grid {
  const at = held(grid, to);
  return { ...grid, at, anchor: extend ? grid.anchor : at, home: null, notice: '' };
}
const within = (n: number, count: number) => Math.max(0, Math.min(n, count - 1));
const held = (grid: Grid, { row, column }: Place): Place => ({
  row: within(row, rowsOf(grid).length),
  column: within(column, specOf(grid).columns.length),
});
const inside = (grid: Grid): Grid => ({ ...grid, at: held(grid, grid.at), anchor: held(grid, grid.anchor) });

/** One stands on the row of the same name, wherever it is now; what is being written there goes on. */
function moved(before: Grid, after: Grid): Grid {
  const spec = specOf(after);
  const cells = rowsOf(before)[before.at.row]?.cells;
  const same = (row: SheetRow | undefined) => !!row && !!cells && identityOf(spec, row.cells) === identityOf(spec, cells);
  const rows = rowsOf(after);
  const found = same(rows[before.at.row]) ? before.at.row : rows.findIndex(same);
  const at = { ...before.at, row: found < 0 ? before.at.row : found };
  return inside({ ...after, at, anchor: at });
}

function edgeOf(grid: Grid, to: 'row-start' | 'row-end' | 'start' | 'end'): Place {
  const last = { row: rowsOf(grid).length - 1, column: specOf(grid).columns.length - 1 };
  if (to === 'row-start') return { row: grid.at.row, column: 0 };
  if (to === 'row-end') return { row: grid.at.row, column: last.column };
  return to === 'start' ? { row: 0, column: 0 } : last;
}

/** What is being written goes into its cell. */
function settled(grid: Grid): Grid {
  if (!grid.editing) return grid;
  const { text } = grid.editing;
  const next = { ...grid, editing: null };
  return text === textAt(grid, grid.at) ? next : changed(next, written(next, [{ ...grid.at, text }]));
}

/** Tab runs along the row and on to the next; Enter goes down, below where the run of Tab began. */
function commit(grid: Grid, and: 'stay' | 'down' | 'up' | 'next' | 'back'): Grid {
  const base = settled(grid);
  const { row, column } = base.at;
  const home = grid.home ?? column;
  const columns = specOf(base).columns.length;
  switch (and) {
    case 'stay':
      return base;
    case 'down':
      return stand(base, { row: row + 1, column: home });
    case 'up':
      return stand(base, { row: row - 1, column: home });
    case 'next':
      return {
        ...stand(base, column + 1 < columns ? { row, column: column + 1 } : { row: row + 1, column: 0 }),
        home: column + 1 < columns ? home : 0,
      };
    case 'back':
      return { ...stand(base, column > 0 ? { row, column: column - 1 } : { row: row - 1, column: columns - 1 }), home: grid.home };
  }
}

interface Write extends Place {
  text: string;
}

/** The sheet with those cells written; rows below the last are added. */
function written(grid: Grid, cells: readonly Write[]): Sheet {
  const spec = specOf(grid);
  const rows = [...rowsOf(grid)];
  let { nextId } = grid.sheet;
  for (const { row, column, text } of cells) {
    if (isFixed(spec, column)) continue;
    while (row >= rows.length && isOpen(spec)) rows.push({ id: nextId++, cells: spec.columns.map(() => '') });
    const before = rows[row];
    if (!before || before.cells[column] === text) continue;
    const next = [...before.cells];
    next[column] = text;
    rows[row] = { ...before, cells: next };
  }
  const ended = endBlank(spec, rows, nextId);
  return { ...grid.sheet, tables: { ...grid.sheet.tables, [grid.table]: ended.rows }, nextId: ended.nextId };
}

function writtenIn(grid: Grid, text: (row: number, column: number) => string): Sheet {
  const { top, left, bottom, right } = rangeIn(grid);
  const cells: Write[] = [];
  for (let row = top; row <= bottom; row++)
    for (let column = left; column <= right; column++) cells.push({ row, column, text: text(row, column) });
  return written(grid, cells);
}

/** One step that can be undone; nothing when nothing changed. */
function changed(grid: Grid, sheet: Sheet): Grid {
  const same =
    Object.keys(sheet.tables).every((key) => sameRows(sheet.tables[key], grid.sheet.tables[key])) &&
    sheet.design === grid.sheet.design &&
    sheet.machine === grid.sheet.machine;
  return same
    ? { ...grid, editing: null }
    : { ...grid, sheet, editing: null, past: [...grid.past, grid.sheet].slice(-mostUndo), future: [], notice: '' };
}
const sameRows = (a: readonly SheetRow[] | undefined, b: readonly SheetRow[] | undefined) =>
  a === b || (a?.length === b?.length && !!a?.every((row, i) => row === b?.[i]));

/** The first row of what is chosen into the others; of one row the cell above it. */
function fillDown(grid: Grid): Grid {
  const { top, left, bottom, right } = rangeIn(grid);
  const from = top === bottom ? top - 1 : top;
  if (from < 0) return { ...grid, notice: 'There is nothing above to fill down from.' };
  const cells: Write[] = [];
  for (let row = from + 1; row <= bottom; row++)
    for (let column = left; column <= right; column++) cells.push({ row, column, text: textAt(grid, { row: from, column }) });
  return changed(grid, written(grid, cells));
}

function paste(grid: Grid, rows: readonly (readonly string[])[]): Grid {
  const spec = specOf(grid);
  const { top, left } = rangeIn(grid);
  const spread = pastedRows(rows, rangeIn(grid));
  const cells: Write[] = [];
  let beyond = 0;
  for (const [r, row] of spread.entries())
    for (const [c, text] of row.entries()) {
      if (left + c >= spec.columns.length || (!isOpen(spec) && top + r >= rowsOf(grid).length)) beyond += text.trim() === '' ? 0 : 1;
      else cells.push({ row: top + r, column: left + c, text: text.trim() });
    }
  if (beyond > 0)
    return {
      ...grid,
      notice: `${beyond} ${beyond === 1 ? 'cell' : 'cells'} of what you pasted would lie outside this table, so nothing was put in. Use “Paste what you have” above: it finds out what each column is.`,
    };
  const next = changed(grid, written(grid, cells));
  const height = spread.length;
  const width = Math.max(1, ...spread.map((row) => row.length));
  return inside({ ...next, at: { row: top, column: left }, anchor: { row: top + height - 1, column: left + width - 1 } });
}

/** What is chosen as tab-separated text; `shown` gives what a blank cell shows. */
export const copyOf = (grid: Grid, shown: (row: SheetRow, column: number) => string): string => {
  const { top, left, bottom, right } = rangeIn(grid);
  return copied(
    rowsOf(grid)
      .slice(top, bottom + 1)
      .map((row) => Array.from({ length: right - left + 1 }, (_, i) => shown(row, left + i))),
  );
};
