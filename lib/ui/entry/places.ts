/** Rows that stand ready, because the board design has such places. */
import { allCells, matrixSize } from '@/lib/core/chart/numbering';
import type { BoardDesign, NetKind } from '@/lib/core/chart/schema';
import type { Sheet } from './types';

/** What names each place of a table, in the order of its `names`. */
export function placesOfTable(kind: Sheet['kind'], table: string, design: BoardDesign, headers: readonly HeaderPlace[]): string[][] {
  if (kind === 'design') return table === 'pins' ? pinPlaces(headers) : [];
  if (table === 'switches' || table === 'lamps')
    return allCells(matrixSize(design, table === 'lamps' ? 'lamp' : 'switch')).map(({ column, row }) => ['', String(column), String(row)]);
  if (table === 'direct') return linePlaces(design, 'direct', 'D');
  return table === 'loads' ? linePlaces(design, 'load', 'L') : [];
}

const linePlaces = (design: BoardDesign, kind: NetKind, letter: string): string[][] =>
  design.nets.filter((net) => net.kind === kind).map((net) => [`${letter}${net.number ?? net.id.split('.')[1] ?? ''}`, net.id]);

export interface HeaderPlace {
  id: string;
  positions: number;
  keys: readonly number[];
}
const mostPositions = 60;
const pinPlaces = (headers: readonly HeaderPlace[]): string[][] =>
  headers.flatMap(({ id, positions, keys }) =>
    Array.from({ length: Math.min(mostPositions, positions) }, (_, i) => i + 1)
      .filter((position) => !keys.includes(position))
      .map((position) => [id, String(position)]),
  );

/** Rows for the lines that a new design was said to have. */
export function newLines(
  counts: Readonly<Partial<Record<'columns' | 'rows' | 'direct' | 'lampColumns' | 'lampRows' | 'loads', number>>>,
): string[] {
  const kinds = {
    columns: 'switch-column',
    rows: 'switch-row',
    direct: 'direct',
    lampColumns: 'lamp-column',
    lampRows: 'lamp-row',
    loads: 'load',
  } as const;
  return Object.entries(kinds).flatMap(([key, kind]) =>
    Array.from({ length: Math.min(64, counts[key as keyof typeof counts] ?? 0) }, (_, i) => `${kind}.${i + 1}`),
  );
}
