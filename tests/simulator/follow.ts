/** The fault finder at work on a simulated machine: it hears the complaint, then its own advice is followed until it stops. */
import { type Finding, findFault, type Power, type Seen, type Test } from '@/lib/core/diagnosis';
import { ask, toldFirst, withTicked } from './ask';
import type { SimCase } from './cases';
import { type Errors, errors as usual } from './errors';
import { elementsWith } from './places';

export interface Solved {
  /** One for each test asked; measuring a line to ground and to all others counts as two. */
  tests: number;
  minutes: number; // with switching off, unplugging and back
  /** Elements by their share, likeliest first: first those that the page lists, `listed` of them. */
  ranking: readonly { element: string; share: number }[];
  listed: number;
  /** Place of the truth in the ranking, from 1; infinite when it is not in it. */
  truthRank: number;
  stopped: 'found' | 'no-test' | 'most';
  standing: Finding['standing'];
  asked: readonly { test: string; saw: string }[];
}

interface Follow {
  most?: number;
  errors?: Errors;
  /** Goes on with tests that are offered though they are not worth their minutes. */
  thorough?: boolean;
  /** What was done to the machine lately, ids of histories. */
  done?: readonly string[];
}

/** Follows the advice on a case. It asks the world of the case, and so uses up its chance. */
export function solveCase(one: SimCase, { most = 25, errors = usual, thorough = false, done = [] }: Follow = {}): Solved {
  const { chart, world } = one;
  let seen: Seen = { ...toldFirst(chart, one.complaint), done };
  let power: Power = 'on';
  let tests = 0;
  let minutes = 0;
  const asked: { test: string; saw: string }[] = [];
  for (;;) {
    const finding = findFault(chart, seen, {}, power);
    const { standing } = finding;
    const next = finding.next ?? (thorough ? (finding.others[0] ?? null) : null);
    const stopped = standing === 'found' ? 'found' : next === null ? 'no-test' : tests >= most ? 'most' : null;
    if (stopped !== null || next === null) {
      const ranking = rankingOf(finding);
      const places = elementsWith(chart, one.truth);
      const rank = ranking.findIndex(({ element }) => places.includes(element)) + 1;
      const listed = finding.suspects.length;
      return { tests, minutes, ranking, listed, truthRank: rank || Infinity, stopped: stopped ?? 'no-test', standing, asked };
    }
    const ticked = ask(world, seen, next.test.id, errors);
    asked.push({ test: next.test.id, saw: ticked.result?.saw ?? words(ticked.observations) });
    seen = withTicked(seen, ticked);
    tests += countOf(next.test);
    minutes += next.minutes;
    power = next.test.power;
  }
}

const countOf = ({ id }: Test) => (id.startsWith('ohms ') ? 2 : 1);

function words(observations: Seen['observations']): string {
  return observations
    .map((o) =>
      o.kind === 'presses' ? `${o.missed}/${o.presses}${o.others.length > 0 ? ` +${o.others.join('+')}` : ''}` : JSON.stringify(o),
    )
    .join('; ');
}

function rankingOf({ suspects, shares }: Finding): Solved['ranking'] {
  const listed = suspects.map(({ id, share }) => ({ element: id, share }));
  const names = new Set(listed.map(({ element }) => element));
  const others = [...shares].flatMap(([element, share]) => (names.has(element) ? [] : [{ element, share }]));
  return [...listed, ...others.sort((a, b) => b.share - a.share)];
}
