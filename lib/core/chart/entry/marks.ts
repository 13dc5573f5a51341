/** A table cell by cell: what of it was understood, and what was not. */
import type { Table, Understanding } from './types';

export const marks = ['heading', 'understood', 'asked', 'not-understood', 'left-out', 'blank'] as const;
/** `asked`: a question points at it; `left-out`: it has no place in a chart, or says nothing new. */
export type Mark = (typeof marks)[number];
export interface CellMark {
  mark: Mark;
  /** Why, for a cell that was not understood or is asked about; otherwise what its column is taken for. */
  why: string;
}

/** Looks up the mark of any cell, by row and column from 1. */
export function marksOf(table: Table, { headRows, columns, rows, asks, not }: Understanding): (row: number, column: number) => CellMark {
  const key = (row: number, column: number) => `${row} ${column}`;
  const asked = new Map(asks.map(({ at, text }) => [key(at.row, at.column), text]));
  const refused = new Map(not.map(({ row, column, why }) => [key(row, column), why]));
  const rowRefused = new Map(not.map(({ row, why }) => [row, why]));
  const placed = new Set(rows.map(({ at }) => at.row));
  const meaning = new Map(columns.map((column) => [column.index, column]));
  return (row, column) => {
    const own = meaning.get(column);
    const text = table.rows[row - 1]?.[column - 1] ?? '';
    const why = own?.why ?? '';
    const question = asked.get(key(row, column));
    if (question !== undefined) return { mark: 'asked', why: question };
    const refusal = refused.get(key(row, column));
    if (refusal !== undefined) return { mark: 'not-understood', why: refusal };
    if (text === '') return { mark: 'blank', why: '' };
    if (row <= headRows) return { mark: 'heading', why };
    if (!own || own.meaning === 'unused') return { mark: 'left-out', why };
    if (placed.has(row)) return { mark: 'understood', why };
    const whole = rowRefused.get(row);
    return whole === undefined ? { mark: 'left-out', why } : { mark: 'not-understood', why: whole };
  };
}
