/** The next test: what it would teach for each minute. */
import type { Probe, Test } from './types';
import type { Gain } from './weigh';

export type Power = Test['power'];
export interface Advice {
  test: Test;
  bits: number; // expected information about the culprit
  minutes: number; // with the change of state that it needs first
  /** Chance of each outcome of the test, in its order. */
  chance: readonly number[];
  reason: string;
}

/** Minutes from one state of the machine to another: switching off or on, plugging or unplugging. Common practice, no source. */
function changeOver(from: Power, to: Power): number {
  const step = 0.5;
  const level = { on: 0, off: 1, unplugged: 2 };
  return Math.abs(level[from] - level[to]) * step;
}

const leastBits = 0.02; // below this a test teaches nothing
const leastWorth = 0.11; // bits a minute: a bit is worth nine minutes, about one mend done for nothing (common practice, no source)
const safeShare = 0.5; // a safe test goes first when it gives this share of a hazardous one's gain
const hazardous = 2;

/** Whether a test tells enough for its minutes to be done before the likeliest is mended and proved. */
export const isWorthwhile = ({ bits, minutes }: Advice) => bits >= leastWorth * minutes;

/** Tests that teach something, the best first: most bits a minute, a safe one before a hazardous one of not twice its worth. Only the first gets its reason. */
export function adviceFrom(
  probes: readonly Probe[],
  gains: readonly Gain[],
  present: Power,
  reasonOf: (test: Test, gain: Gain) => string,
): Advice[] {
  // Rounded, so that tests of equal worth keep their order whatever the last digit of a sum.
  const worth = ({ bits, minutes }: { bits: number; minutes: number }) => Math.round((bits / minutes) * 1e9) / 1e9;
  const ranked = gains
    .flatMap((gain, k) => {
      const test = probes[k];
      if (!test || gain.bits < leastBits) return [];
      return [{ test, gain, bits: gain.bits, minutes: test.minutes + changeOver(present, test.power), chance: gain.chance }];
    })
    .sort((a, b) => worth(b) - worth(a) || (a.test.id < b.test.id ? -1 : 1));
  const [first] = ranked;
  const safe = ranked.find((entry) => entry.test.hazard < hazardous);
  const swap = first && safe && first.test.hazard >= hazardous && worth(safe) >= safeShare * worth(first);
  const ordered = swap ? [safe, ...ranked.filter((entry) => entry !== safe)] : ranked;
  return ordered.map(({ gain, ...advice }, rank) => ({ ...advice, reason: rank === 0 ? reasonOf(advice.test, gain) : '' }));
}
