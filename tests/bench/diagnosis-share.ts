/** A share of the cases of the diagnosis bench, in a process of its own: `first count stride shown`; one message a case. */
import { bisect } from '../simulator/bisect';
import { simCase } from '../simulator/cases';
import { solveCase } from '../simulator/follow';
import { minutesOf } from '../simulator/minutes';

export interface Outcome {
  seed: number;
  sort: string;
  rank: number | null; // of the truth among the suspects that the page lists; null when it is not one of them
  topShare: number;
  found: boolean;
  tests: number;
  minutes: number;
  /** The same case with the textbook order; `rank` by the odds of what it leaves. */
  textbook: { tests: number; minutes: number; rank: number | null };
}

const [first = 0, count = 0, stride = 1, shown = 0] = process.argv.slice(2).map(Number);
for (let seed = first; seed < first + count; seed += stride) process.send?.(outcomeOf(seed, shown === 1));
process.disconnect?.();

function outcomeOf(seed: number, own: boolean): Outcome {
  const one = simCase(seed, { shown: own });
  const solved = solveCase(one);
  const listed = solved.ranking.slice(0, solved.listed);
  const { asked, tests, places } = bisect(simCase(seed, { shown: own }));
  const at = places.indexOf(one.place);
  return {
    seed,
    sort: `${one.truth.sort}${one.truth.intermittent ? ', now and then' : ''}`,
    rank: solved.truthRank <= solved.listed ? solved.truthRank : null,
    topShare: listed[0]?.share ?? 0,
    found: solved.stopped === 'found',
    tests: solved.tests,
    minutes: solved.minutes,
    textbook: { tests, minutes: minutesOf(asked.map(({ test }) => test)), rank: at < 0 ? null : at + 1 },
  };
}
