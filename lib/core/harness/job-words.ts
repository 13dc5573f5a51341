/** A cut strip in one line, as it is done at the bench. */
import type { CutStrip } from './cutting';

/** "cut through 10 and 18: A1J1 is 1 to 9, A1J2 is 11 to 17, A1J3 is 19 to 24; nothing left over". */
export function stripWords({ pieces, cuts, left, kept }: CutStrip): string {
  const lies = pieces.map(({ id, from, to }) => `${id} is ${from === to ? from : `${from} to ${to}`}`).join(', ');
  if (cuts.length === 0) return `whole: ${lies}`;
  const sawn = cuts.every((c) => c.lost !== null);
  const how = sawn ? `saw through ${list(cuts.map((c) => c.lost!))}` : `break behind ${list(cuts.map((c) => c.after))}`;
  const rest = left === 0 ? 'nothing left over' : `${left} left over, ${kept ? 'kept' : 'too short to keep'}`;
  return `${how}: ${lies}; ${rest}`;
}

const list = (numbers: readonly number[]) =>
  numbers.length < 2 ? numbers.join('') : `${numbers.slice(0, -1).join(', ')} and ${numbers.at(-1)}`;
