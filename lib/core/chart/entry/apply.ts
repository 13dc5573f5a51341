/** Fills a chart from what was understood of a table. */
import { type Change, differences } from '../differences';
import { lintDesignInSteps } from '../lint-design';
import { lintMachineInSteps } from '../lint-machine';
import type { Finding } from '../types';
import { applyToDesign } from './fill/apply-design';
import { applyToMachine } from './fill/apply-machine';
import { type Conflicts, type Joining, report } from './fill/merge-fields';
import { finish, type Steps } from './steps';
import type { EntryChart, TableFinding, Understanding } from './types';

export type { Conflicts } from './fill/merge-fields';

export interface Applied {
  chart: EntryChart;
  /** What the table changed, cell by cell. */
  changes: { machine: Change[]; design: Change[] };
  /** What of the table was not taken, or differs, by its row and column; each with a mend. */
  findings: TableFinding[];
  /** Lint of the chart as it is now. */
  lint: { machine: Finding[]; design: Finding[] };
}

/**
 * The chart with the table in it. Rows are matched by what names them (a place of the matrix, a number, a line, a pin). What the chart has
 * is kept and what differs is reported, unless `conflicts` is `replace`. Rows that break the schema are left out and reported.
 */
export const applyTable = (chart: EntryChart, understood: Understanding, options: { conflicts?: Conflicts } = {}): Applied =>
  finish(applyTableInSteps(chart, understood, options));

/** The same in steps; the caller rests between them. */
export function* applyTableInSteps(
  chart: EntryChart,
  understood: Understanding,
  { conflicts = 'keep' }: { conflicts?: Conflicts } = {},
): Steps<Applied> {
  const to: Joining = { conflicts, findings: [] };
  yield* reportLeft(to, understood.not);
  const design = yield* applyToDesign(to, chart.design, understood.rows);
  yield;
  const numbered = { ...chart.machine, numbering: numberingOf(to, chart, understood) };
  const machine = yield* applyToMachine(to, numbered, design, understood.rows);
  yield;
  const changes = {
    machine: differences(chart.machine, machine),
    design: design === chart.design ? [] : differences(chart.design, design),
  };
  yield;
  const lint = { machine: yield* lintMachineInSteps(machine, design), design: yield* lintDesignInSteps(design) };
  return { chart: { machine, design }, changes, findings: to.findings, lint };
}

/** What was not understood; the same text of one column once, with how often it stands there. */
function* reportLeft(to: Joining, not: Understanding['not']): Steps<void> {
  const alike = new Map<string, { first: Understanding['not'][number]; more: number }>();
  for (const [i, left] of not.entries()) {
    if (i % 500 === 499) yield;
    const key = `${left.column} ${left.text} ${left.why}`;
    const there = alike.get(key);
    if (there) there.more += 1;
    else alike.set(key, { first: left, more: 0 });
  }
  for (const { first, more } of alike.values()) {
    const also = more === 0 ? '' : more === 1 ? ' One more cell reads the same.' : ` ${more} more cells read the same.`;
    const message = `“${first.text}” was not placed: ${first.why}${also}`;
    report(to, 'warning', 'not-placed', first, message, 'Correct it in the sheet and paste again, or enter it by hand.');
  }
}

/** The scheme of the table, where the machine has no number yet that would change with it. */
function numberingOf(to: Joining, { machine }: EntryChart, { numbering }: Understanding) {
  if (!numbering) return machine.numbering;
  const used = machine.switches.some((s) => s.number === undefined) || machine.lamps.some((l) => l.number === undefined);
  if (!used || to.conflicts === 'replace') return numbering;
  const message = 'The table prints its numbers by another scheme than the machine.';
  report(
    to,
    'warning',
    'differs',
    { row: 0, column: 0 },
    message,
    'The machine’s scheme was kept. Change it in the chart, or choose to replace.',
  );
  return machine.numbering;
}
