/** What stands in a cell beside what was written: the number that the scheme gives, the wire of a line. */
import type { BoardDesign, NetKind } from '@/lib/core/chart/schema';
import { colourNames } from '@/lib/core/wire';
import { printedOf } from './read-row';
import type { Around, SheetRow, TableSpec } from './types';

export interface Beside {
  ghost?: string;
  wire?: string;
  /** A wire whose name is what was written. */
  sample?: string;
}
const lines = new WeakMap<BoardDesign, { byId: Map<string, string>; byPlace: Map<string, string> }>();
function linesOf(design: BoardDesign) {
  const known = lines.get(design);
  if (known) return known;
  const fresh = {
    byId: new Map(design.nets.map((net) => [net.id, net.colour])),
    byPlace: new Map(design.nets.map((net) => [`${net.kind} ${net.number}`, net.colour])),
  };
  lines.set(design, fresh);
  return fresh;
}

const names = new RegExp(`^(${colourNames.join('|')})(/(${colourNames.join('|')}))?$`);
const nothing: readonly Beside[] = [];
const known = new WeakMap<SheetRow, { around: Around; beside: readonly Beside[] }>();

/** By column; the same object again while nothing changed. */
export function besideOf(table: TableSpec, row: SheetRow, around: Around): readonly Beside[] {
  const before = known.get(row);
  if (before?.around === around) return before.beside;
  const beside = make(table, row, around);
  known.set(row, { around, beside });
  return beside;
}

function make(table: TableSpec, row: SheetRow, around: Around): readonly Beside[] {
  const at = (path: string) => row.cells[table.columns.findIndex((c) => c.path === path)]?.trim() ?? '';
  const { byId, byPlace } = linesOf(around.design);
  const matrix = table.key === 'switches' ? 'switch' : table.key === 'lamps' ? 'lamp' : null;
  if (table.key === 'about') return nothing;
  return table.columns.map(({ path }, c): Beside => {
    const text = row.cells[c]?.trim() ?? '';
    if (matrix && path === 'number' && text === '') {
      const printed = at('column') && at('row') ? printedOf(table, Number(at('column')), Number(at('row')), around) : null;
      return printed === null ? {} : { ghost: printed };
    }
    if (matrix && (path === 'column' || path === 'row'))
      return wired(byPlace.get(`${matrix}-${path} ${text}` satisfies `${NetKind} ${string}`));
    if (path === 'colour') return names.test(text) ? { sample: text } : {};
    if (['net', 'supply', 'back', 'emitterSupply'].includes(path)) return wired(byId.get(text));
    return {};
  });
}
const wired = (wire: string | undefined): Beside => (wire ? { wire } : {});
/** What a cell shows: what was written, or what stands there in its place. */
export const shownText = (table: TableSpec, row: SheetRow, column: number, around: Around): string =>
  row.cells[column] || besideOf(table, row, around)[column]?.ghost || '';
