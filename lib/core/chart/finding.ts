/** How the lint states what it found. */
import type { Steps } from './entry/steps';
import type { Finding } from './types';

/** What a lint gives: findings, and a rest between two rows, at which its caller may do something else. */
export type Lint = Generator<Finding | typeof rest>;
export const rest = null;

const findingsAStep = 64; // of a lint that says much about one row

/** The findings of several lints, one after the other, in steps. */
export function* collected(lints: Iterable<Lint | Generator<Finding>>): Steps<Finding[]> {
  const findings: Finding[] = [];
  for (const lint of lints) {
    for (const said of lint) {
      if (said !== rest) findings.push(said);
      if (said === rest || findings.length % findingsAStep === 0) yield;
    }
    yield;
  }
  return findings;
}

const finding =
  (level: Finding['level']) =>
  (rule: string, path: string, message: string, mend: string): Finding => ({ level, rule, path, message, mend });

/** The chart contradicts itself or leaves a question open that work depends on. */
export const error = finding('error');
/** Possible, but more often a slip; also what is easily mixed up at the bench. */
export const warning = finding('warning');
/** Nothing to mend; worth knowing at the bench. */
export const information = finding('information');
