/** How many clean presses a proof takes: the chance of a clean run if nothing was mended, and the run that makes it small. */
import { logBeta } from './beta';
import { clopperPearson } from './limits';

/** What was counted while the fault was there. */
export interface Counted {
  missed: number; // 1 or more
  presses: number;
}

/**
 * - `plugIn` takes the share that was missed for the true one: optimistic.
 * - `predictive` allows for its uncertainty (Jeffreys prior): the one that counts.
 * - `cautious` takes the lower end of the two-sided 95 % interval for the true one.
 */
export const rules = ['plugIn', 'predictive', 'cautious'] as const;
export type Rule = (typeof rules)[number];

/** Chance of `clean` presses without a miss if nothing was mended. */
export function cleanByChance({ missed, presses }: Counted, clean: number, rule: Rule = 'predictive'): number {
  if (rule === 'predictive') {
    const [a, b] = [missed + 0.5, presses - missed + 0.5];
    return clean === 0 ? 1 : Math.exp(logBeta(a, b + clean) - logBeta(a, b));
  }
  return (1 - shareMissed({ missed, presses }, rule)) ** clean;
}

const shareMissed = ({ missed, presses }: Counted, rule: 'plugIn' | 'cautious') =>
  rule === 'plugIn' ? missed / presses : clopperPearson(missed, presses, 0.95).low;

/** The fewest clean presses (1 or more) whose chance, if nothing was mended, is `chance` or less. Throws RangeError when nothing was missed. */
export function pressesNeeded(before: Counted, chance: number, rule: Rule = 'predictive'): number {
  if (before.missed < 1) throw new RangeError('nothing was missed, so no run proves a mend');
  if (rule !== 'predictive') return Math.max(1, Math.ceil(Math.log(chance) / Math.log1p(-shareMissed(before, rule))));
  const enough = (clean: number) => cleanByChance(before, clean) <= chance;
  let high = 1;
  while (!enough(high)) high *= 2;
  let low = Math.floor(high / 2); // not enough
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** Chance that the fault is mended after a run, from the chance given to the mend before it. A mended fault never misses. */
export const mendedAfter = (prior: number, byChance: number): number => prior / (prior + (1 - prior) * byChance);
