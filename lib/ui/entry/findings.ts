/** All that is said about a sheet, each on its cell. */

import { lintDesign, lintMachine } from '@/lib/core/chart';
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

const order = { error: 0, warning: 1, information: 2 } as const;

export function* checkInSteps(sheet: Sheet, terminals: readonly TerminalPart[]): Steps<Checked> {
  const read = yield* readSheetInSteps(sheet);
  yield;
  const { machine, design } = read;
  const lint = machine ? [...lintMachine(machine, design), ...lintMissing(machine, design)] : lintDesign(design, terminals);
  yield;
  const placed = lint.map((finding): CellFinding => ({ ...finding, ...cellOfPath(sheet, finding.path, read.rows) }));
  const findings = [...read.problems, ...placed].sort((a, b) => order[a.level] - order[b.level]);
  const byRow = new Map<number, CellFinding[]>();
  for (const f of findings) {
    if (f.row === null) continue;
    const list = byRow.get(f.row);
    if (list) list.push(f);
    else byRow.set(f.row, [f]);
  }
  return { sheet, read, findings, byRow };
}
