/** Seeded cases: a random machine with one true fault, drawn by its odds, and the complaint that it was brought in with. */
import type { Chart } from '@/lib/core/chart';
import { randomChart } from './charts';
import { type Complaint, complaintOf } from './complaint';
import { noErrors } from './errors';
import { type Possible, possibleFaults } from './possible';
import { missRate } from './prior';
import { type Random, random } from './random';
import type { SimFault } from './types';
import { type Wiring, wire } from './wiring';
import { type World, world } from './world';

export interface SimCase {
  seed: number;
  chart: Chart;
  wiring: Wiring;
  /** Every fault that could have been drawn. */
  possible: readonly Possible[];
  /** What is really wrong. */
  truth: Possible;
  fault: SimFault;
  /** Where it is: compare with the place of a diagnosis. */
  place: string;
  complaint: Complaint;
  /** The machine in the session of the complaint; ask it with `answer`. */
  world: World;
}
export interface CaseOptions {
  /** Draw the fault in another machine than a random one. */
  chart?: Chart;
  /** The bench session is a later one: an intermittent gets a new miss rate, or keeps quiet. Absent: the session of the complaint. */
  later?: boolean;
  /**
   * The complaint is the fault's own doing, seen at the first look: no slip of whoever complains, no tries that are kept quiet. Otherwise a
   * fault that keeps quiet all through can come with a complaint that is nothing but a press gone wrong.
   */
  shown?: boolean;
  /** Draw the fault among these alone, where the machine can have any of them. */
  among?: (fault: Possible) => boolean;
}
const mostDraws = 200;

/** The case of a seed. The same seed and options give the same case, and the same answers to the same questions in the same order. */
export function simCase(seed: number, options: CaseOptions = {}): SimCase {
  const chance = random(seed);
  const chart = options.chart ?? randomChart(chance);
  const wiring = wire(chart);
  const possible = possibleFaults(wiring);
  const drawn = options.among ? possible.filter(options.among) : possible;
  for (let i = 0; drawn.length > 0 && i < mostDraws; i++) {
    const truth = chance.weighted(drawn, (p) => p.weight);
    const before = world(wiring, [session(truth, chance)], chance);
    const complaint = complaintOf(before, options.shown ? { errors: noErrors, tries: 1 } : {});
    if (!complaint) continue;
    const now = options.later ? world(wiring, [session(truth, chance)], chance) : before;
    return { seed, chart, wiring, possible, truth, fault: now.faults[0]!, place: truth.place, complaint, world: now };
  }
  throw new Error(`Seed ${seed}: no fault that shows in ${mostDraws} draws.`);
}

/** A fault in the manner it has during one session. */
export function session(truth: Possible, chance: Random): SimFault {
  if (!truth.intermittent) return { what: truth.what };
  if (chance.chance(truth.quiet)) return { what: truth.what, comesAndGoes: { hand: 0, ball: 0 } };
  const hand = chance.beta(missRate.a, missRate.b);
  const ball = truth.mechanical ? Math.max(hand, chance.beta(missRate.a, missRate.b)) : hand;
  return { what: truth.what, comesAndGoes: { hand, ball } };
}
