/** What is wrong in a machine's chart, held against its board design. */
import { indexChartInSteps } from './build';
import { finish, type Steps } from './entry/steps';
import { collected, error } from './finding';
import { lintChains } from './lint-chains';
import { lintFound } from './lint-found';
import { lintInline } from './lint-inline';
import { lintLines } from './lint-lines';
import { lintLoads } from './lint-loads';
import { lintNumbers } from './lint-numbers';
import { lintPinned } from './lint-pinned';
import { lintSwitches } from './lint-switches';
import type { BoardDesign, Machine } from './schema';
import type { Finding } from './types';

/** Findings of a machine against the design it names. */
export const lintMachine = (machine: Machine, design: BoardDesign): Finding[] => finish(lintMachineInSteps(machine, design));

/** The same in steps of a row or so; the caller rests between them. */
export function* lintMachineInSteps(machine: Machine, design: BoardDesign): Steps<Finding[]> {
  if (machine.design !== design.id) {
    const message = `The machine names the board design ${machine.design}, but was held against ${design.id}.`;
    return [error('other-design', 'design', message, 'Choose the design that the machine has.')];
  }
  const chart = yield* indexChartInSteps(machine, design);
  yield;
  const lints = [lintNumbers, lintSwitches, lintLines, lintLoads, lintChains, lintInline, lintFound, lintPinned];
  return yield* collected(lints.map((lint) => lint(chart)));
}
