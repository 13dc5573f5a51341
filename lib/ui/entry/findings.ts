/** All that is said about a sheet, each on its cell. */

import { lintDesignInSteps, lintMachineInSteps } from '@/lib/core/chart';
import { lintMissing, type Steps } from '@/lib/core/chart/entry';
import type { TerminalPart } from '@/lib/core/parts/schema';
import { cellOfPath, type ReadSheet, readSheetInSteps } from './read-sheet';
import type { CellFinding, Sheet } from './types';

export interface Checked {
  sheet: Sheet;
  read: ReadSheet;
  findings: CellFinding[];
  byRow: ReadonlyMap<number, readonly CellFinding[]>;
}

export function* checkInSteps(sheet: Sheet, terminals: readonly TerminalPart[]): Steps<Checked> {
  const read = yield* readSheetInSteps(sheet);
  yield;
  const { machine, design } = read;
  const lint = machine
    ? [...(yield* lintMachineInSteps(machine, design)), ...lintMissing(machine, design)]
    : yield* lintDesignInSteps(design, terminals);
  const by: Record<CellFinding['level'], CellFinding[]> = { error: [], warning: [], information: [] };
  for (const problem of read.problems) by[problem.level].push(problem);
  for (const finding of lint) {
    yield;
    const { level, rule, path, message, mend } = finding;
    const { table, row, column } = cellOfPath(sheet, path, read.rows);
    by[level].push({ level, rule, path, message, mend, table, row, column });
  }
  const findings = [...by.error, ...by.warning, ...by.information];
  yield;
  const byRow = new Map<number, CellFinding[]>();
  for (const [i, f] of findings.entries()) {
    if (i % 1000 === 999) yield;
    if (f.row === null) continue;
    const list = byRow.get(f.row);
    if (list) list.push(f);
    else byRow.set(f.row, [f]);
  }
  return { sheet, read, findings, byRow };
}
