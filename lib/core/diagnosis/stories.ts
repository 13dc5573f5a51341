/** Every explanation with at most two faults, its prior, and the chance of what was seen if it is true. */
import { type Kind, pairsWithin, pairWeight, sharing, without } from './kinds';
import type { Mode } from './types';

/** Faults that may be present, and how to judge them. */
export interface Field {
  modes: readonly Mode[];
  /** Every mode that there is, as one kind, when `modes` leaves out those that nothing seen or tested depends on. */
  all?: Kind;
  nothing: number; // w_0
  /** Factor on the prior of every explanation without a fault in the focus, "nothing is wrong" among them; absent: 1. */
  elsewhere?: number;
  pair: number; // ρ
  together: number; // κ
  /** ln of the chance of everything that was seen and tested, when exactly these modes are present. */
  given(modes: readonly Mode[]): number;
  /**
   * The same for two, where that is quick to know, or an upper bound of it where it is not; what is below `least` need not be told
   * exactly. Absent: `given` is asked.
   */
  both?(a: Mode, b: Mode, least: number): number | { most: number };
  /** True for elements that can be behind the complaint; the next test is chosen to tell these apart. */
  focus(element: string): boolean;
}

/** One explanation, merged: no kind, one, or two. */
export interface Story {
  kinds: readonly Kind[];
  prior: number;
  log: number; // ln of the chance of the evidence
  mass: number; // its share of the posterior, once all are known
}

/** One mode for each kind; two of different elements for a kind with itself; none for a kind of which no mode is known. */
export function firstOf(kinds: readonly Kind[]): readonly Mode[] {
  const [a, b] = kinds;
  if (a && a === b) return a.two ?? [];
  const first = a?.modes[0];
  const second = b?.modes[0];
  return first && second ? [first, second] : first ? [first] : second ? [second] : [];
}

/**
 * `hush` is one kind of all the modes that the field leaves out: with them the chance is that of no fault at all, or of the other fault alone.
 * `shared` tells which kinds share an element or a group.
 */
export function storiesOf(
  field: Field,
  loud: readonly Kind[],
): { stories: Story[]; hush: Kind | null; shared: (a: Kind, b: Kind) => boolean } {
  const hush = field.all ? without(field.all, loud, loud.length) : null;
  const shared = sharing(loud);
  const pairPrior = (a: Kind, b: Kind) => field.pair * (shared(a, b) ? pairWeight(a, b, field.together) : a.weight * b.weight);
  // On the log and not on the prior, which the shares of pairs are worked out from.
  const lean = Math.log(field.elsewhere ?? 1);
  const nothing = field.given([]);
  const quiet = nothing + lean;
  const alone = loud.map((kind) => field.given(firstOf([kind])) + (kind.focus ? 0 : lean));
  const stories: Story[] = [{ kinds: [], prior: field.nothing, log: quiet, mass: 0 }];
  const tell = (of: readonly Kind[], prior: number, log: number): Story => ({ kinds: of, prior, log, mass: 0 });
  for (const [i, kind] of loud.entries()) stories.push(tell([kind], kind.weight, alone[i] ?? quiet));
  const dear: { story: Story; most: number }[] = [];
  const best = alone.reduce((most, log) => Math.max(most, log), quiet);
  const sure = loud.reduce(
    (sum, kind, i) => sum + kind.weight * Math.exp((alone[i] ?? quiet) - best),
    field.nothing * Math.exp(quiet - best),
  );
  const faint = best + Math.log(nowhere * sure);
  let beside = 0; // prior of all pairs with a loud one
  for (let i = 0; i < loud.length; i++) {
    const a = loud[i] as Kind;
    if (hush) {
      const prior = field.pair * pairWeight(a, hush, field.together);
      beside += prior;
      stories.push(tell([a, hush], prior, alone[i] ?? quiet));
    }
    for (let j = i; j < loud.length; j++) {
      const b = loud[j] as Kind;
      const prior = pairPrior(a, b);
      beside += prior;
      const first = a.modes[0] as Mode;
      const second = i === j ? a.two?.[1] : b.modes[0];
      if (!second || prior <= 0) continue;
      const least = faint - Math.log(prior);
      const known = field.both ? field.both(first, second, least) : field.given([first, second]);
      const log = (typeof known === 'number' ? known : known.most) + (a.focus || b.focus ? 0 : lean);
      if (log < least) continue;
      if (typeof known === 'number') stories.push(tell([a, b], prior, log));
      else dear.push({ story: tell([a, b], prior, 0), most: log });
    }
  }
  if (hush && field.all) {
    const pairs = field.pair * pairsWithin(field.all, field.together) - beside;
    stories.push(tell([hush], hush.weight, quiet), tell([hush, hush], pairs, quiet));
  }

  return { stories: [...stories, ...worthwhile(field, stories, dear, lean)], hush, shared };
}

/** A pair of less than this share of the single faults is passed over: ten thousand of them hold less than a hundredth of a per cent. */
const nowhere = 1e-8;

/** Share of the posterior that stories left out may have held, at the very most. */
const leftOut = 3e-3;

/** Stories that are dear to compute, the most promising first, until all that are left together could not matter. */
function worthwhile(field: Field, cheap: readonly Story[], dear: readonly { story: Story; most: number }[], lean: number): Story[] {
  const top = cheap.reduce((most, s) => Math.max(most, s.log), -Infinity);
  let total = cheap.reduce((sum, { prior, log }) => sum + prior * Math.exp(log - top), 0);
  const queue = dear.map(({ story, most }) => ({ story, bound: story.prior * Math.exp(most - top) })).sort((a, b) => b.bound - a.bound);
  let left = queue.reduce((sum, entry) => sum + entry.bound, 0);
  const done: Story[] = [];
  for (const { story, bound } of queue) {
    if (left <= leftOut * total) break;
    left -= bound;
    story.log = field.given(firstOf(story.kinds)) + (story.kinds.some((kind) => kind.focus) ? 0 : lean);
    total += story.prior * Math.exp(story.log - top);
    done.push(story);
  }
  return done;
}
