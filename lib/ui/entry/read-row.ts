/** One row of text as a record: what cannot be read is said by cell, and does not hold up the rest. */
import { matrixSize, printedNumber } from '@/lib/core/chart/numbering';
import { read } from '@/lib/core/chart/read';
import { valueAt, withValue } from './records';
import { isFilled } from './sheet';
import type { Around, ColumnSpec, Rec, SheetRow, TableSpec } from './types';

export interface RowProblem {
  column: number;
  message: string;
  mend: string;
}
/** `record` is null for a row that is not filled in, and for one that cannot be kept yet. */
export interface ReadRow {
  record: Rec | null;
  problems: readonly RowProblem[];
}

const known = new WeakMap<SheetRow, { around: Around; read: ReadRow }>();
const nothing: ReadRow = { record: null, problems: [] };

/** Rows are never changed, so each is read once for what stands around it. */
export function readRow(table: TableSpec, row: SheetRow, around: Around): ReadRow {
  const before = known.get(row);
  if (before && sameAround(table, before.around, around)) return before.read;
  const fresh = isFilled(table, row) ? readFilled(table, row, around) : nothing;
  known.set(row, { around, read: fresh });
  return fresh;
}

const sameAround = (table: TableSpec, a: Around, b: Around) =>
  a === b ||
  (table.key !== 'chains' &&
    a.design === b.design &&
    (a.numbering === b.numbering || JSON.stringify(a.numbering) === JSON.stringify(b.numbering)));

function readFilled(table: TableSpec, row: SheetRow, around: Around): ReadRow {
  const problems: RowProblem[] = [];
  let record: Record<string, unknown> = { ...row.from };
  let complete = true;
  for (const [i, column] of table.columns.entries()) {
    const cell = readCell(column, row.cells[i] ?? '', row.from, around);
    if ('message' in cell) problems.push({ column: i, ...cell });
    else if (cell.value !== valueAt(record, column.path)) record = withValue(record, column.path, cell.value);
    if (!column.need || valueAt(record, column.path) !== undefined) continue;
    complete = false;
    if (!('message' in cell))
      problems.push({
        column: i,
        message: `${column.head} is missing.`,
        mend: 'Until it is there, the row stays on this device and is not saved.',
      });
  }
  if (!complete) return { record: null, problems };
  record = withoutPrinted(table, table.complete?.(record) ?? record, row, around);
  for (let tries = 0; ; tries++) {
    const result = read(table.shape, record);
    if (result.ok) return { record: result.value as Rec, problems };
    const columns = result.findings.map((f) => ({
      f,
      i: table.columns.findIndex((c) => f.path === c.path || f.path.startsWith(`${c.path}[`) || f.path.startsWith(`${c.path}.`)),
    }));
    for (const { f, i } of columns)
      problems.push({
        column: Math.max(0, i),
        message: f.message.replace(/“[\w.[\]]+” is/, i < 0 ? '$&' : `${table.columns[i]?.head} is`),
        mend: f.mend,
      });
    const wrong = columns.flatMap(({ i }) => (i >= 0 && !table.columns[i]?.need ? [table.columns[i] as ColumnSpec] : []));
    if (tries > 0 || wrong.length < columns.length) return { record: null, problems };
    for (const column of wrong) record = withValue(record, column.path, valueAt(row.from, column.path));
  }
}

/** A cell whose text is as it was keeps its value exactly; one that cannot be read leaves it. */
export function readCell(
  column: ColumnSpec,
  cell: string,
  from: Rec | undefined,
  around: Around,
): { value: unknown } | { message: string; mend: string } {
  const text = cell.trim();
  const before = valueAt(from, column.path);
  if (from && text === column.type.show(before, around).trim()) return { value: before };
  if (text === '') return { value: undefined };
  const result = column.type.read(text, around);
  return result.ok ? { value: result.value } : { message: result.message, mend: result.mend };
}

/** A number that the scheme gives is not written down, so that it follows the scheme. */
function withoutPrinted(table: TableSpec, record: Record<string, unknown>, row: SheetRow, around: Around): Record<string, unknown> {
  const { number, column, row: line } = record;
  if (number === undefined || valueAt(row.from, 'number') === number) return record;
  const printed = printedOf(table, Number(column), Number(line), around);
  return printed !== null && number === printed ? withValue(record, 'number', undefined) : record;
}

/** The number that the scheme gives to a place; null for tables without one. */
export function printedOf(table: TableSpec, column: number, row: number, { design, numbering }: Around): string | null {
  if (!numbering || !table.names.includes('column') || !Number.isInteger(column) || !Number.isInteger(row)) return null;
  const size = matrixSize(design, table.key === 'lamps' ? 'lamp' : 'switch');
  const last = (first: number | undefined, count: number) => (first ?? 1) + count - 1;
  const inside =
    column >= (size.firstColumn ?? 1) &&
    row >= (size.firstRow ?? 1) &&
    column <= last(size.firstColumn, size.columns) &&
    row <= last(size.firstRow, size.rows);
  return inside ? printedNumber(numbering, column, row, size) : null;
}
