/** A job in words: a cut strip in one line, as it is done at the bench, and what is not proved. */
import type { CutStrip } from './cutting';
import type { Level } from './cutting-model';
import type { JobGroup } from './job-types';

/** "cut through 10 and 18: A1J1 is 1 to 9, A1J2 is 11 to 17, A1J3 is 19 to 24; nothing left over". */
export function stripWords({
  pieces,
  cuts,
  left,
  kept,
}: Pick<CutStrip, 'pieces' | 'cuts' | 'left'> & { kept: boolean | string | null }): string {
  const lies = pieces.map(({ id, from, to }) => `${id} is ${from === to ? from : `${from} to ${to}`}`).join(', ');
  if (cuts.length === 0) return `whole: ${lies}`;
  const sawn = cuts.every((c) => c.lost !== null);
  const how = sawn ? `saw through ${list(cuts.map((c) => c.lost!))}` : `break behind ${list(cuts.map((c) => c.after))}`;
  const rest = left === 0 ? 'nothing left over' : `${left} left over, ${kept ? 'kept' : 'too short to keep'}`;
  return `${how}: ${lies}; ${rest}`;
}

const list = (numbers: readonly number[]) =>
  numbers.length < 2 ? numbers.join('') : `${numbers.slice(0, -1).join(', ')} and ${numbers.at(-1)}`;

const money = (pence: number) => (pence / 100).toFixed(2);
const counted: Record<Level, (n: number) => string> = {
  unmet: (n) => `${n} left out`,
  spend: (n) => `${money(n)} to pay for packs`,
  packs: (n) => `${n} packs to buy`,
  value: (n) => `strips worth ${money(n / 100)}`,
  positions: (n) => `strips of ${n} positions in all`,
  cuts: (n) => `${n} cuts`,
  scrap: (n) => `${n} positions of scrap`,
};

/** "Those of 2.54 mm: not proved the best. This plan has 9 cuts; with fewer than 7 it cannot be done." Empty when it is proved. */
export function gapWords({ pitchMm, cost, unproven }: JobGroup): string {
  if (!unproven) return '';
  const { level, bound } = unproven;
  return `Those of ${pitchMm} mm: not proved the best. This plan has ${counted[level](cost[level])}; with less than ${counted[level](bound)} it cannot be done.`;
}
