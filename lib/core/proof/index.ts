export { clopperPearson, type Interval, rateAfterQuiet, upperAfterClean } from './limits';
export { type Counted, cleanByChance, mendedAfter, pressesNeeded, type Rule, rules } from './presses';
export { type Counting, type Level, levels, type Needed, type Proof, prior, proofOf, type Quiet, type Unproved } from './proof';
export {
  type Condition,
  type ConditionId,
  cleanOf,
  conditionOf,
  conditions,
  type Miss,
  noPresses,
  type ProofRecord,
  type Run,
} from './record';
export { customerWords, levelWords, marginLines, nextWords, percent, pressCaution, provesLines, quietWords, range, verdict } from './words';
