/** Rectangles of cells, and how they go to and from other programs: tab-separated text, quoted where it must be. */

import { finish } from '@/lib/core/chart/entry';
import { delimited } from '@/lib/core/chart/entry/table/delimited';

export interface Range {
  top: number;
  left: number;
  bottom: number;
  right: number;
}
interface Corner {
  row: number;
  column: number;
}
export const rangeOf = (a: Corner, b: Corner): Range => ({
  top: Math.min(a.row, b.row),
  left: Math.min(a.column, b.column),
  bottom: Math.max(a.row, b.row),
  right: Math.max(a.column, b.column),
});

const quoted = (cell: string) => (/["\t\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
export const copied = (rows: readonly (readonly string[])[]): string => rows.map((row) => row.map(quoted).join('\t')).join('\n');

/** Rows of pasted text; the line break at its end is none of them. */
export const cellsOf = (text: string): string[][] =>
  finish(delimited(text.replace(/^\ufeff/, ''), '\t')).rows.map((row) => row.map((cell) => cell.replace(/\r?\n/g, ' ')));

/** One cell fills all of what is chosen; a block is repeated where the choice is a multiple of it. */
export function pastedRows(rows: readonly (readonly string[])[], { top, left, bottom, right }: Range): readonly (readonly string[])[] {
  const width = Math.max(0, ...rows.map((row) => row.length));
  const [high, wide] = [bottom - top + 1, right - left + 1];
  if (rows.length === 0 || width === 0) return [];
  const down = high % rows.length === 0 ? high / rows.length : 1;
  const along = wide % width === 0 ? wide / width : 1;
  return Array.from({ length: rows.length * down }, (_, r) =>
    Array.from({ length: width * along }, (_, c) => rows[r % rows.length]?.[c % width] ?? ''),
  );
}
