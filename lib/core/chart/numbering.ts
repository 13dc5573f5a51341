/** Switch numbers as the manual prints them. The scheme is a property of the chart. */
import type { Numbering } from './schema';

/** Number of the cell at a column and row, for a matrix of that many columns and rows. Lines are numbered from 1. */
export function printedNumber(scheme: Numbering, column: number, row: number, size: { columns: number; rows: number }): string {
  const pad = (n: number) => String(n).padStart(scheme.width, '0');
  switch (scheme.order) {
    case 'column-row':
      return `${column}${row}`;
    case 'row-column':
      return `${row}${column}`;
    case 'down-columns':
      return pad(scheme.first + (column - 1) * size.rows + row - 1);
    case 'along-rows':
      return pad(scheme.first + (row - 1) * size.columns + column - 1);
  }
}
