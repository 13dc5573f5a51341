/** Charts as sheets: every record a row of text, and rows ready for the places that the board design has. */
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { type HeaderPlace, placesOfTable } from './places';
import { valueAt } from './records';
import { aboutKey, fieldsOf, isOpen, tableOf, tablesOf } from './tables';
import type { Around, ColumnSpec, Rec, Sheet, SheetRow, TableSpec } from './types';

export const aroundOf = (sheet: Pick<Sheet, 'machine' | 'design'>): Around => ({
  design: sheet.design,
  switches: new Set([...(sheet.machine?.switches ?? []), ...(sheet.machine?.direct ?? [])].flatMap((s) => s.number ?? [])),
  loads: new Set(sheet.machine?.loads.map((l) => l.number)),
  ...(sheet.machine && { numbering: sheet.machine.numbering }),
});

/** The lists of a chart as its tables have them: pins stand in a table of their own. */
function recordsOf({ machine, design }: { machine: Machine | null; design: BoardDesign }, table: string): readonly Rec[] {
  const chart: Rec = { ...(machine ?? design) };
  if (!machine && table === 'pins') return design.headers.flatMap((h) => h.pins.map((p): Rec => ({ header: h.id, ...p })));
  return (chart[table] ?? []) as readonly Rec[];
}

export const machineSheet = (machine: Machine, design: BoardDesign): Sheet => sheetOf('machine', machine, design, []);
/** `lines` are names of lines that a new design is going to have. */
export const designSheet = (design: BoardDesign, lines: readonly string[] = []): Sheet => sheetOf('design', null, design, lines);

function sheetOf(kind: Sheet['kind'], machine: Machine | null, design: BoardDesign, lines: readonly string[]): Sheet {
  const around = aroundOf({ machine, design });
  let nextId = 1;
  const tables: Record<string, readonly SheetRow[]> = {};
  for (const table of tablesOf(kind)) {
    if (table.key === aboutKey) {
      const from = (machine ?? design) as unknown as Rec;
      tables[aboutKey] = fieldsOf(kind).map((field) => ({ id: nextId++, cells: [field.head, cellOf(field, from, around)] }));
      continue;
    }
    const rows = recordsOf({ machine, design }, table.key).map(
      (from, index): SheetRow => ({
        id: nextId++,
        from,
        index,
        cells: table.columns.map((column) => cellOf(column, from, around)),
      }),
    );
    const ready = table.key === 'nets' ? lines.map((id) => [id]) : placesOfTable(kind, table.key, design, design.headers);
    const merged = withPlaces(table, rows, ready, nextId);
    nextId = merged.nextId;
    tables[table.key] = merged.rows;
  }
  return { kind, machine, design, tables, nextId };
}

const cellOf = (column: ColumnSpec, record: Rec, around: Around): string => column.type.show(valueAt(record, column.path), around);

/** Index of the columns that name a row. A matrix place is named by column and row, a line's place by its line. */
const namingColumns = (table: TableSpec): number[] => {
  const by = table.names.includes('column') ? ['column', 'row'] : table.names.includes('net') ? ['net'] : table.names;
  return by.map((path) => table.columns.findIndex((c) => c.path === path));
};
export const identityOf = (table: TableSpec, cells: readonly string[]): string =>
  namingColumns(table)
    .map((i) => cells[i]?.trim().toLowerCase() ?? '')
    .join('·');

/** Rows in the order of the places, those of the chart in theirs; what stands outside follows; one blank row ends an open table. */
function withPlaces(table: TableSpec, rows: readonly SheetRow[], places: readonly string[][], firstId: number) {
  let nextId = firstId;
  const left = new Map<string, SheetRow[]>();
  for (const row of rows) {
    const key = identityOf(table, row.cells);
    left.set(key, [...(left.get(key) ?? []), row]);
  }
  const width = table.columns.length;
  const ordered: SheetRow[] = [];
  const taken = new Set(rows.map((row) => row.cells[0]));
  for (const names of places) {
    const cells = Array.from({ length: width }, () => '');
    for (const [i, path] of table.names.entries()) cells[table.columns.findIndex((c) => c.path === path)] = names[i] ?? '';
    const key = identityOf(table, cells);
    const own = left.get(key);
    if (own) ordered.push(...own);
    else {
      if (taken.has(cells[0]) && table.names.includes('net')) cells[0] = '';
      ordered.push({ id: nextId++, cells, place: true });
    }
    left.delete(key);
  }
  const outside = new Set([...left.values()].flat());
  const all = places.length === 0 ? [...rows] : [...ordered, ...rows.filter((row) => outside.has(row))];
  return endBlank(table, all, nextId);
}

export const isBlank = (cells: readonly string[]) => cells.every((cell) => cell.trim() === '');

/** An open table ends with one blank row to write in. */
export function endBlank(table: TableSpec, rows: readonly SheetRow[], nextId: number): { rows: readonly SheetRow[]; nextId: number } {
  const last = rows.at(-1);
  if (!isOpen(table) || (last && isBlank(last.cells))) return { rows, nextId };
  return { rows: [...rows, { id: nextId, cells: table.columns.map(() => '') }], nextId: nextId + 1 };
}

/** The sheet with rows for the pins that its headers have by now. */
export function withPinPlaces(sheet: Sheet): Sheet {
  if (sheet.kind !== 'design') return sheet;
  const headers = tableOf('design', 'headers');
  const [id, positions, keys] = ['id', 'positions', 'keys'].map((path) => headers.columns.findIndex((c) => c.path === path));
  const places = (sheet.tables.headers ?? []).flatMap(({ cells }): HeaderPlace[] => {
    const count = Number(cells[positions ?? 0]);
    const name = cells[id ?? 0]?.trim() ?? '';
    if (!name || !Number.isInteger(count) || count < 1) return [];
    return [{ id: name, positions: count, keys: (cells[keys ?? 0]?.match(/\d+/g) ?? []).map(Number) }];
  });
  const table = tableOf('design', 'pins');
  const used = (sheet.tables.pins ?? []).filter((row) => (!row.place && !isBlank(row.cells) ? true : row.place && isFilled(table, row)));
  const { rows, nextId } = withPlaces(table, used, placesOfTable('design', 'pins', sheet.design, places), sheet.nextId);
  const before = sheet.tables.pins ?? [];
  const same =
    rows.length === before.length && rows.every((row, i) => identityOf(table, row.cells) === identityOf(table, before[i]?.cells ?? []));
  return same ? sheet : { ...sheet, tables: { ...sheet.tables, pins: rows }, nextId };
}

/** Whether somebody wrote more than what names the place. */
export const isFilled = (table: TableSpec, row: SheetRow): boolean =>
  row.cells.some((cell, i) => cell.trim() !== '' && !(row.place && table.names.includes(table.columns[i]?.path ?? '')));
