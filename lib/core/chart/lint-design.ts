/** What is wrong in a board design: each finding names the place and the mend. */
import type { TerminalPart } from '../parts/schema';
import { lintDesignator } from './designators';
import { finish, type Steps } from './entry/steps';
import { collected, error } from './finding';
import { indexHeaders, lintHeader } from './lint-header';
import { lintNet } from './lint-net';
import { lintBoardPinned } from './lint-pinned';
import { diodeDropVolts, readableDrops, readableVolts } from './matrix';
import type { BoardDesign } from './schema';
import type { Finding } from './types';

/** Findings of a board design by itself. With the catalogue's terminals, gauges that none of them takes are found too. */
export const lintDesign = (design: BoardDesign, terminals?: readonly TerminalPart[]): Finding[] =>
  finish(lintDesignInSteps(design, terminals));

/** The same in steps of a row or so; the caller rests between them. */
export function* lintDesignInSteps(design: BoardDesign, terminals?: readonly TerminalPart[]): Steps<Finding[]> {
  const nets = new Map(design.nets.map((net) => [net.id, net]));
  const headers = indexHeaders(design);
  return yield* collected(lints());

  function* lints() {
    yield lintBoards(design);
    yield lintMatrix(design);
    for (const [i, net] of design.nets.entries()) yield lintNet(design, net, i);
    for (const [i, header] of design.headers.entries()) yield lintHeader(design, header, i, nets, headers, terminals);
    yield lintBoardPinned(design);
  }
}

function* lintBoards({ boards }: BoardDesign): Generator<Finding> {
  for (const [i, { designator }] of boards.entries()) {
    const path = `boards[${i}].designator`;
    yield* lintDesignator(path, designator);
    if (boards.findIndex((b) => b.designator === designator) < i) {
      yield error('board-twice', path, `The board ${designator} stands here a second time.`, 'Remove or rename one of the two.');
    }
  }
}

function* lintMatrix({ matrix }: BoardDesign): Generator<Finding> {
  if (readableDrops(matrix) >= 1) return;
  const volts = Math.max(0, readableVolts(matrix)).toFixed(2);
  const message = `Only ${volts} V may be lost between driver and row, less than the ${diodeDropVolts} V of one diode: no switch could ever read closed.`;
  yield error('nothing-reads', 'matrix.thresholdRatio', message, 'Correct the threshold, the row supply, the driver or the polarity.');
}
