/** Switch numbers as the manual prints them. The scheme is a property of the chart. */
import type { BoardDesign, Numbering } from './schema';

/** Lines of a matrix on each axis, and the number of the first one: 1 unless the chart counts from 0. */
export interface MatrixSize {
  columns: number;
  rows: number;
  firstColumn?: number;
  firstRow?: number;
}
export interface Cell {
  column: number;
  row: number;
}

/** Lines of a matrix of the design on each axis, up to the highest number printed there. */
export function matrixSize(design: BoardDesign, matrix: 'switch' | 'lamp' = 'switch'): MatrixSize {
  const numbers = (kind: string) => design.nets.flatMap((net) => (net.kind === kind && net.number !== undefined ? [net.number] : []));
  const columns = numbers(`${matrix}-column`);
  const rows = numbers(`${matrix}-row`);
  const count = (lines: number[]) => Math.max(0, ...lines) + (lines.includes(0) ? 1 : 0);
  return {
    columns: count(columns),
    rows: count(rows),
    ...(columns.includes(0) && { firstColumn: 0 }),
    ...(rows.includes(0) && { firstRow: 0 }),
  };
}

/** Number of the cell at a column and row, for a matrix of that size. */
export function printedNumber(scheme: Numbering, column: number, row: number, size: MatrixSize): string {
  const { order, first, width, base, radix = 10, prefix = '' } = scheme;
  const firstColumn = size.firstColumn ?? 1;
  const firstRow = size.firstRow ?? 1;
  const write = (n: number) => n.toString(radix).toUpperCase();
  const print = (digits: string) => prefix + digits.padStart(width, '0');
  const c = write(column - firstColumn + (base?.column ?? firstColumn));
  const r = write(row - firstRow + (base?.row ?? firstRow));
  switch (order) {
    case 'column-row':
      return print(c + r);
    case 'row-column':
      return print(r + c);
    case 'down-columns':
      return print(write(first + (column - firstColumn) * size.rows + row - firstRow));
    case 'along-rows':
      return print(write(first + (row - firstRow) * size.columns + column - firstColumn));
  }
}

/** The cell that bears a printed number; null when none of this matrix does, or when several do (digit schemes above nine lines). */
export function cellOf(scheme: Numbering, number: string, size: MatrixSize): Cell | null {
  const cells = allCells(size).filter(({ column, row }) => printedNumber(scheme, column, row, size) === number);
  return cells.length === 1 ? (cells[0] ?? null) : null;
}

/** Every cell, down the columns. */
export const allCells = ({ columns, rows, firstColumn = 1, firstRow = 1 }: MatrixSize): Cell[] =>
  Array.from({ length: columns * rows }, (_, i) => ({ column: Math.floor(i / rows) + firstColumn, row: (i % rows) + firstRow }));

/** True when two lines of an axis would need two digits each, so that numbers made of a digit a line run together. */
export function digitsRunOut({ order, base, radix = 10 }: Numbering, size: MatrixSize): boolean {
  if (order !== 'column-row' && order !== 'row-column') return false;
  const last = (count: number, from: number) => from + count - 1;
  const column = last(size.columns, base?.column ?? size.firstColumn ?? 1);
  const row = last(size.rows, base?.row ?? size.firstRow ?? 1);
  return Math.max(column, row) >= radix;
}
