/** A sheet set on another state of its chart: what others saved comes in, what could not be read yet is carried over. */
import { type Change, differences, patched } from '@/lib/core/chart/differences';
import { type Conflict, merge } from '@/lib/core/chart/merge';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { readSheet } from './read-sheet';
import { designSheet, identityOf, isBlank, machineSheet } from './sheet';
import { aboutKey, tablesOf } from './tables';
import type { CellFinding, Sheet, SheetRow } from './types';

export interface Charts {
  machine: Machine | null;
  design: BoardDesign;
}
export const sheetOfCharts = ({ machine, design }: Charts): Sheet => (machine ? machineSheet(machine, design) : designSheet(design));

/** The sheet of `next`, with the cells and rows of `old` that are in no chart. */
export function carried(old: Sheet, problems: readonly CellFinding[], next: Sheet): Sheet {
  const tables: Record<string, readonly SheetRow[]> = { ...next.tables };
  let { nextId } = next;
  for (const table of tablesOf(next.kind)) {
    const own = problems.filter((p) => p.unsaved && p.table === table.key && p.row !== null);
    const bare = (old.tables[table.key] ?? []).filter((row) => !isBlank(row.cells));
    const rows = [...(tables[table.key] ?? [])];
    const found = new Map(rows.map((row, i) => [table.key === aboutKey ? (row.cells[0] ?? '') : identityOf(table, row.cells), i]));
    for (const row of bare) {
      const columns = own.filter((p) => p.row === row.id).map((p) => p.column);
      if (columns.length === 0) continue;
      const at = found.get(table.key === aboutKey ? (row.cells[0] ?? '') : identityOf(table, row.cells));
      const there = at === undefined ? undefined : rows[at];
      if (there && at !== undefined) {
        // A row that stands in the chart keeps what it has; only what could not be read is written over it.
        const fresh = there.from === undefined && table.key !== aboutKey;
        rows[at] = { ...there, cells: there.cells.map((cell, c) => (fresh || columns.includes(c) ? (row.cells[c] ?? '') : cell)) };
      } else rows.splice(Math.max(0, rows.length - 1), 0, { id: nextId++, cells: row.cells });
    }
    tables[table.key] = rows;
  }
  return { ...next, tables, nextId };
}

export type Rebased = { ok: true; sheet: Sheet; taken: Change[] } | { ok: false; doc: 'machine' | 'design'; conflicts: Conflict[] };

/** What was written since `from`, on `onto`. */
export function rebased(sheet: Sheet, from: Charts, onto: Charts): Rebased {
  const { problems, ...mine } = readSheet(sheet);
  const design = merge(from.design, mine.design, onto.design);
  if (!design.ok) return { ok: false, doc: 'design', conflicts: design.conflicts };
  if (!mine.machine || !from.machine || !onto.machine)
    return { ok: true, sheet: carried(sheet, problems, designSheet(design.chart)), taken: design.taken };
  const machine = merge(from.machine, mine.machine, onto.machine);
  if (!machine.ok) return { ok: false, doc: 'machine', conflicts: machine.conflicts };
  return {
    ok: true,
    sheet: carried(sheet, problems, machineSheet(machine.chart, design.chart)),
    taken: [...design.taken, ...machine.taken],
  };
}

export type Choice = 'mine' | 'theirs';

/** Mine on theirs; where both changed the same, what was chosen. */
export function settledConflicts<T extends Machine | BoardDesign>(
  base: T,
  mine: T,
  theirs: T,
  conflicts: readonly Conflict[],
  choices: readonly Choice[],
): T {
  const touches = (a: readonly string[], b: readonly string[]) => a.slice(0, b.length).join('\n') === b.slice(0, a.length).join('\n');
  const free = differences(base, mine).filter(({ path }) => !conflicts.some((c) => touches(path, c.path)));
  const chosen = conflicts.flatMap((c, i): Change[] =>
    choices[i] === 'mine' && c.path.length > 0 ? [{ path: c.path, label: c.label, before: c.theirs, after: c.mine }] : [],
  );
  // What changes within a row that is gone from theirs has no place there.
  const merged = [...free, ...chosen].reduce<T>((chart, change) => {
    try {
      return patched(chart, [change]);
    } catch (reason) {
      if (reason instanceof TypeError) return chart;
      throw reason;
    }
  }, theirs);
  return merged;
}
