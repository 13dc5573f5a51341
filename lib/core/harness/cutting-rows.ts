/** Rows and columns of the linear relaxation. Patterns are columns made when they are wanted; see cutting-price.ts. */
import { cutsOf, type Level, type Model, type Pattern, room, scrapOf } from './cutting-model';

/**
 * A quantity of a packing that must be whole: packs bought of a kind, strips taken of a kind, strips that end at `at`,
 * pieces of one length that begin at `at`. When all of them are whole, strips can be read off.
 */
export type Count =
  | { on: 'packs'; kind: number }
  | { on: 'strips'; kind: number }
  | { on: 'end'; kind: number; at: number }
  | { on: 'place'; kind: number; at: number; type: number };
export type Row =
  | { on: 'demand'; type: number; rhs: number } // = rhs
  | { on: 'supply'; kind: number; rhs: number } // ≤ rhs
  | { on: 'level'; level: Level; step: number; rhs: number } // ≤ rhs, in steps
  | { on: 'count'; count: Count; sense: 1 | -1; rhs: number }; // sense 1: ≤ rhs, −1: ≥ rhs

export type Column =
  | { is: 'pattern'; pattern: Pattern }
  | { is: 'packs'; kind: number }
  | { is: 'unmet'; type: number }
  | { is: 'slack'; row: number; sign: 1 | -1 }
  | { is: 'artificial'; row: number; sign: 1 | -1 };

export const slackSign = (row: Row): 1 | -1 | 0 => (row.on === 'demand' ? 0 : row.on === 'count' ? row.sense : 1);

/** What one unit of a column adds to a level. */
export function levelOf(model: Model, column: Column, level: Level): number {
  if (column.is === 'packs') return level === 'packs' ? 1 : level === 'spend' ? model.kinds[column.kind]!.pack!.pence : 0;
  if (column.is === 'unmet') return level === 'unmet' ? 1 : 0;
  if (column.is !== 'pattern') return 0;
  const { kind: k, pieces, used } = column.pattern;
  const kind = model.kinds[k]!;
  if (level === 'value') return kind.value;
  if (level === 'positions') return kind.length;
  if (level === 'cuts') return cutsOf(kind, pieces.length, used);
  return level === 'scrap' ? scrapOf(kind, used, model.reusable) : 0;
}

/** How often a pattern uses what is counted. */
export function timesIn(model: Model, pattern: Pattern, count: Count): number {
  if (count.on === 'packs' || pattern.kind !== count.kind) return 0;
  if (count.on === 'strips') return 1;
  if (count.on === 'place') return placesOf(model, pattern).some((p) => p.type === count.type && p.at === count.at) ? 1 : 0;
  return pattern.used === count.at ? 1 : 0;
}

/** Where each piece begins when the longest comes first, in room taken. */
export function placesOf(model: Model, { kind: k, pieces }: Pattern): { type: number; at: number }[] {
  const kind = model.kinds[k]!;
  let at = 0;
  return pieces.map((type) => {
    const place = { type, at };
    at += room(kind, model.lengths[type]!);
    return place;
  });
}

/** The column's entry in every row, into `out`. */
export function fill(model: Model, rows: readonly Row[], column: Column, out: Float64Array): void {
  for (let r = 0; r < rows.length; r++) out[r] = entry(model, rows[r]!, r, column);
}

function entry(model: Model, row: Row, r: number, column: Column): number {
  switch (column.is) {
    case 'slack':
    case 'artificial':
      return column.row === r ? column.sign : 0;
    case 'unmet':
      if (row.on === 'demand') return row.type === column.type ? 1 : 0;
      break;
    case 'packs':
      if (row.on === 'supply') return row.kind === column.kind ? -model.kinds[row.kind]!.pack!.size : 0;
      if (row.on === 'count') return row.count.on === 'packs' && row.count.kind === column.kind ? 1 : 0;
      break;
    case 'pattern':
      if (row.on === 'demand') return column.pattern.pieces.reduce((n, i) => n + (i === row.type ? 1 : 0), 0);
      if (row.on === 'supply') return row.kind === column.pattern.kind ? 1 : 0;
      if (row.on === 'count') return timesIn(model, column.pattern, row.count);
      break;
  }
  return row.on === 'level' ? levelOf(model, column, row.level) / row.step : 0;
}
