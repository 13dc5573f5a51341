/** Switch numbers as the manual prints them. The scheme is a property of the chart. */
import type { BoardDesign, Numbering } from './schema';

export interface MatrixSize {
  columns: number;
  rows: number;
}
export interface Cell {
  column: number;
  row: number;
}

/** Lines of a matrix of the design on each axis: the highest number printed there. */
export function matrixSize(design: BoardDesign, matrix: 'switch' | 'lamp' = 'switch'): MatrixSize {
  const highest = (kind: string) => Math.max(0, ...design.nets.flatMap((net) => (net.kind === kind && net.number ? [net.number] : [])));
  return { columns: highest(`${matrix}-column`), rows: highest(`${matrix}-row`) };
}

/** Number of the cell at a column and row, for a matrix of that size. Lines are numbered from 1. */
export function printedNumber(scheme: Numbering, column: number, row: number, size: MatrixSize): string {
  const pad = (n: number | string) => String(n).padStart(scheme.width, '0');
  switch (scheme.order) {
    case 'column-row':
      return pad(`${column}${row}`);
    case 'row-column':
      return pad(`${row}${column}`);
    case 'down-columns':
      return pad(scheme.first + (column - 1) * size.rows + row - 1);
    case 'along-rows':
      return pad(scheme.first + (row - 1) * size.columns + column - 1);
  }
}

/** The cell that bears a printed number; null when none of this matrix does, or when several do (digit schemes above nine lines). */
export function cellOf(scheme: Numbering, number: string, size: MatrixSize): Cell | null {
  const cells = allCells(size).filter(({ column, row }) => printedNumber(scheme, column, row, size) === number);
  return cells.length === 1 ? (cells[0] ?? null) : null;
}

/** Every cell, down the columns. */
export const allCells = ({ columns, rows }: MatrixSize): Cell[] =>
  Array.from({ length: columns * rows }, (_, i) => ({ column: Math.floor(i / rows) + 1, row: (i % rows) + 1 }));
