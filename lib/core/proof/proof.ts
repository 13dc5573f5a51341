/** What a record of presses proves. */
import { clopperPearson, type Interval, rateAfterQuiet, upperAfterClean } from './limits';
import { type Counted, cleanByChance, mendedAfter, pressesNeeded, type Rule, rules } from './presses';
import { type Condition, cleanOf, conditions, noPresses, type ProofRecord, type Run } from './record';

export const levels = [95, 99] as const; // per cent
export type Level = (typeof levels)[number];
export type Needed = Record<Level, number>;

/** The chance given to the mend before any press: as likely as not. Stated wherever the result is. */
export const prior = 0.5;

interface Common {
  what: string;
  ended: Run[]; // runs that a miss ended
  run: Run; // the one that goes on
  clean: number; // presses in a row
  quiet: Quiet | null; // hours watched; null: none
}
/** Hours watched for what comes by itself. */
export interface Quiet {
  hours: number;
  events: number;
  perHour: number | null; // one-sided 95 %: at most; null when it came
}
/** Nothing was counted before the mend yet, or what was counted can prove nothing. */
export type Unproved = Common & ({ state: 'empty' } | { state: 'refused'; message: string; mend: string });
export interface Counting extends Common {
  state: 'counting' | 'held' | 'proved';
  before: Counted & Interval; // two-sided 95 %
  since: (Counted & Interval) | null; // after the mend, when it missed again; two-sided 95 %
  needed: Needed; // clean presses in a row, by the predictive rule
  byRule: Record<Rule, Needed>;
  reached: Level | null; // by the presses alone
  next: Level | null; // the level not yet reached
  missing: Condition[]; // without a press in this run; the verdict is held back until there is none
  upper: number; // one-sided 95 %: share of misses that this run leaves possible
  byChance: number; // a run this clean in as many tries, if nothing was mended
  mended: number; // from `prior`
}
export type Proof = Unproved | Counting;

/**
 * Judges a record. A miss starts the run again: the presses before it never help, and they make the next run longer, since repeating until lucky
 * proves nothing. It is measured against the rarer fault of the two, as it was before the mend or as the whole record shows it, and each
 * try has only its part of the chance of error (Bonferroni).
 */
export function proofOf(record: ProofRecord): Proof {
  const { missed, presses } = record.before;
  const run = record.runs.at(-1) ?? { clean: noPresses(), misses: [] };
  const ended = record.runs.slice(0, -1);
  const common: Common = { what: record.what, ended, run, clean: cleanOf(run), quiet: quietOf(record.hours) };
  if (missed > presses)
    return {
      ...common,
      state: 'refused',
      message: `Before the mend: ${missed} missed of ${presses} cannot be.`,
      mend: 'Write how many presses there were in all, and how many of them missed.',
    };
  if (presses === 0) return { ...common, state: 'empty' };
  if (missed === 0)
    return {
      ...common,
      state: 'refused',
      message: `None of ${presses} missed before the mend, so there is nothing to prove.`,
      mend: 'Record misses first: press on, warm and with coils firing, until it misses. If it only comes by itself, count hours.',
    };
  return judge(common, { missed, presses });
}

function judge(common: Common, before: Counted): Counting {
  const { run, clean, ended } = common;
  const tries = ended.length + 1;
  const misses = ended.reduce((sum, { misses: seen }) => sum + seen.length, 0);
  const after: Counted = { missed: misses, presses: ended.reduce((sum, past) => sum + cleanOf(past), 0) + misses };
  const faults = [before, { missed: before.missed + after.missed, presses: before.presses + after.presses }];
  const need = (rule: Rule): Needed => {
    const at = (level: Level) => Math.max(...faults.map((fault) => pressesNeeded(fault, (1 - level / 100) / tries, rule)));
    return { 95: at(95), 99: at(99) };
  };
  const byRule = Object.fromEntries(rules.map((rule) => [rule, need(rule)])) as Record<Rule, Needed>;
  const needed = byRule.predictive;
  const reached = levels.findLast((level) => clean >= needed[level]) ?? null;
  const missing = conditions.filter(({ id }) => run.clean[id] === 0);
  const byChance = Math.min(1, tries * Math.max(...faults.map((fault) => cleanByChance(fault, clean))));
  return {
    ...common,
    state: reached === null ? 'counting' : missing.length > 0 ? 'held' : 'proved',
    before: { ...before, ...clopperPearson(before.missed, before.presses, 0.95) },
    since: misses === 0 ? null : sinceMend(after, clean),
    needed,
    byRule,
    reached,
    next: levels.find((level) => clean < needed[level]) ?? null,
    missing,
    upper: upperAfterClean(clean, 0.95),
    byChance,
    mended: mendedAfter(prior, byChance),
  };
}

function sinceMend({ missed, presses }: Counted, clean: number): Counted & Interval {
  const all = presses + clean;
  return { missed, presses: all, ...clopperPearson(missed, all, 0.95) };
}

const quietOf = ({ run, events }: ProofRecord['hours']): Quiet | null =>
  run > 0 ? { hours: run, events, perHour: events === 0 ? rateAfterQuiet(run, 0.95) : null } : null;
