/** What counted presses and hours say about a rate. Rates are shares of presses (0 to 1) or events an hour. */
import { betaQuantile } from './beta';

export interface Interval {
  low: number;
  high: number;
}

/**
 * Two-sided interval for the true share of misses after `missed` of `presses`, that holds at least at `level` (Clopper & Pearson 1934).
 * Throws RangeError unless 0 ≤ missed ≤ presses, both whole, presses ≥ 1.
 */
export function clopperPearson(missed: number, presses: number, level: number): Interval {
  if (!Number.isInteger(missed) || !Number.isInteger(presses) || missed < 0 || presses < 1 || missed > presses)
    throw new RangeError(`${missed} of ${presses} is no count`);
  const tail = (1 - level) / 2;
  return {
    low: missed === 0 ? 0 : betaQuantile(tail, missed, presses - missed + 1),
    high: missed === presses ? 1 : betaQuantile(1 - tail, missed + 1, presses - missed),
  };
}

/** One-sided: the largest share of misses that `clean` presses without one leave possible at `level`. 1 after none. */
export const upperAfterClean = (clean: number, level: number): number => (clean === 0 ? 1 : 1 - (1 - level) ** (1 / clean));

/** One-sided: events an hour that `hours` without one leave possible at `level`; at 95 % the rule of three, 3/T (Hanley & Lippman-Hand 1983). */
export const rateAfterQuiet = (hours: number, level: number): number => -Math.log(1 - level) / hours;
