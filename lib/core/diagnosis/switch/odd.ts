/** Observations that no fault of this chart explains: the number was misread, or the chart is not this machine's. */

import type { Oddity } from '../verdict';
import type { Weighed } from '../weigh';
import { listed } from '../words';
import type { Case } from './case';
import type { Weighable } from './chances';
import { type Evidence, logSeen } from './evidence';

const unlikely = Math.log(0.02); // against the best that the same try could have given

/** Each observation is held against the likeliest explanation of all of them. */
export function oddities({ wiring, evidence, rates, network }: Case, weighed: Weighed): Oddity[] {
  const modes = (weighed.best[0]?.modes ?? []) as readonly Weighable[];
  const log = (part: Evidence) => logSeen(wiring, part, modes, rates);
  const name = (number: string) => {
    const circuit = network.circuits.find((c) => c.number === number);
    return circuit ? `${number} ${circuit.name}` : number;
  };
  const all = log(evidence);
  const odd: Oddity[] = [];
  for (const [k, seen] of evidence.presses.entries()) {
    const withSeen = (other: typeof seen) => log({ ...evidence, presses: evidence.presses.with(k, other) });
    if (seen.others.length > 0 && all - withSeen({ ...seen, others: [] }) < unlikely) {
      odd.push({
        what: `${listed(seen.others)} came up when ${name(seen.number)} was pressed, and no one or two faults of this chart do that.`,
        mend: 'Press it again and read the number. If it stays, hold the plugs against the chart: wires may have changed places, or the chart is not this machine’s.',
      });
      continue;
    }
    const chance = (missed: number) => withSeen({ ...seen, missed }) + logWays(seen.presses, missed);
    const best = Math.max(chance(0), chance(seen.presses), chance(Math.round(seen.presses / 3)));
    if (chance(seen.missed) - best < unlikely)
      odd.push({
        what: `${name(seen.number)} missed ${seen.missed} of ${seen.presses}, which does not go with the rest of what was seen.`,
        mend: 'Press it again. If it stays, look for three faults at once, or whether the chart puts it in the right column and row.',
      });
  }
  return odd;
}

/** ln of the number of orders in which so many presses of all can miss. */
function logWays(presses: number, missed: number): number {
  let log = 0;
  for (let k = 1; k <= missed; k++) log += Math.log((presses - missed + k) / k);
  return log;
}
