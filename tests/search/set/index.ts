/** The labelled set: repairs, questions and the grade of each for each, made from a seed. */
import { type Fleet, makeFleet } from './charts';
import { grade } from './grade';
import { holdNames, tuneNames } from './names';
import { designs, makeQueries } from './queries';
import { makeRepairs } from './repairs';
import type { Query, Repair, Words } from './types';
import { words as holdWords } from './words-hold';
import { words as tuneWords } from './words-tune';

export interface LabelledSet {
  fleet: Fleet;
  repairs: Repair[];
  queries: Query[];
  gradeOf(query: Query, repair: Repair): number;
}
export type Part = 'tune' | 'hold';

export const repairCount = 1000;
export const queryCount = 160;
const seeds: Record<Part, number> = { tune: 20261126, hold: 61120262 };

/** Always the same for the same arguments. */
export function labelledSet(part: Part, repairs = repairCount, queries = queryCount): LabelledSet {
  const words: Words = part === 'tune' ? tuneWords : holdWords;
  const seed = seeds[part];
  const fleet = makeFleet(part === 'tune' ? tuneNames : holdNames, seed);
  const made = makeRepairs(repairs, fleet, words, seed + 1);
  const designOf = designs(fleet);
  return {
    fleet,
    repairs: made,
    queries: makeQueries(queries, made, fleet, words, seed + 2),
    gradeOf: (query, repair) => grade(query.asked, repair, designOf),
  };
}
