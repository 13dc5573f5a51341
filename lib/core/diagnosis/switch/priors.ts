/**
 * How often each thing fails, before anything was seen: odds per instance in a twenty-year-old machine in mixed care. From memory,
 * invented order of magnitude; the club's own proven fixes update them (`updated`).
 */
import type { FaultClass } from '../classes';

interface Prior {
  weight: number;
  /** Shares of the ways it fails: open for good, now and then, closed for good, only missed by a fast ball. */
  hard?: number;
  intermittent?: number;
  stuck?: number;
  timing?: number;
  /** Chance that an intermittent one keeps quiet for a whole session. */
  quiet?: number;
  fault: FaultClass;
}

export const priors = {
  'leaf contact': { weight: 10, hard: 0.25, intermittent: 0.5, stuck: 0.15, timing: 0.1, quiet: 0.1, fault: 'switch-adjustment' },
  microswitch: { weight: 4, hard: 0.35, intermittent: 0.4, stuck: 0.2, timing: 0.05, quiet: 0.1, fault: 'switch-broken' },
  reed: { weight: 4, hard: 0.35, intermittent: 0.45, stuck: 0.2, quiet: 0.1, fault: 'switch-broken' },
  'optical pair': { weight: 9, hard: 0.55, intermittent: 0.4, stuck: 0.05, quiet: 0.3, fault: 'optic' },
  'emitter supply': { weight: 0.5, hard: 0.6, intermittent: 0.4, quiet: 0.3, fault: 'supply' },
  'lug tail': { weight: 4, hard: 0.6, intermittent: 0.4, quiet: 0.3, fault: 'lug-joint' },
  'through-joint': { weight: 1, hard: 0.6, intermittent: 0.4, quiet: 0.3, fault: 'lug-joint' },
  'diode open': { weight: 2, hard: 0.7, intermittent: 0.3, quiet: 0.3, fault: 'diode-absent' },
  'diode shorted': { weight: 0.5, fault: 'diode-bypassed' },
  'diode bypassed': { weight: 0.1, fault: 'diode-bypassed' },
  'diode reversed': { weight: 0.15, fault: 'diode-reversed' },
  'stack insulation': { weight: 1, fault: 'short' },
  'insulation displacement': { weight: 2, hard: 0.4, intermittent: 0.6, quiet: 0.3, fault: 'worn-contact' },
  'in-line displacement': { weight: 4, hard: 0.4, intermittent: 0.6, quiet: 0.3, fault: 'worn-contact' }, // one on either side
  'in-line crimps': { weight: 0.6, hard: 0.5, intermittent: 0.5, quiet: 0.3, fault: 'worn-contact' },
  crimp: { weight: 0.3, hard: 0.5, intermittent: 0.5, quiet: 0.3, fault: 'worn-contact' },
  'terminal spring': { weight: 1, hard: 0.2, intermittent: 0.8, quiet: 0.3, fault: 'worn-contact' },
  'header joint': { weight: 0.5, hard: 0.3, intermittent: 0.7, quiet: 0.3, fault: 'cracked-joint' },
  'wire segment': { weight: 0.3, hard: 0.7, intermittent: 0.3, quiet: 0.4, fault: 'broken-wire' },
  splice: { weight: 0.8, hard: 0.4, intermittent: 0.6, quiet: 0.4, fault: 'splice' },
  'wires exchanged': { weight: 0.02, fault: 'exchanged-wires' },
  'housing unplugged': { weight: 0.5, fault: 'misplaced-plug' },
  'housing shifted': { weight: 0.03, fault: 'misplaced-plug' },
  'housing turned': { weight: 0.03, fault: 'misplaced-plug' },
  'housing elsewhere': { weight: 0.03, fault: 'misplaced-plug' },
  'housings exchanged': { weight: 0.03, fault: 'misplaced-plug' },
  'line to ground': { weight: 0.15, fault: 'short' },
  'line to supply': { weight: 0.02, fault: 'short' },
  'line to neighbour': { weight: 0.05, fault: 'short' },
  'driver dead': { weight: 1.4, hard: 0.75, intermittent: 0.25, quiet: 0.4, fault: 'driver' }, // driver 0.6, latch 0.3, trace and socket 0.5
  'driver stuck': { weight: 0.25, fault: 'driver' },
  'select bit': { weight: 0.1, fault: 'driver' },
  package: { weight: 0.1, hard: 1, fault: 'driver' },
  'row input dead': { weight: 1.1, hard: 0.75, intermittent: 0.25, quiet: 0.4, fault: 'row-input' }, // input 0.6, trace and socket 0.5
  'row input stuck': { weight: 0.3, fault: 'row-input' },
  'row pull': { weight: 0.15, fault: 'row-input' },
  'matrix supply': { weight: 0.3, hard: 0.8, intermittent: 0.2, quiet: 0.4, fault: 'supply' },
  'ground return': { weight: 0.5, hard: 0.6, intermittent: 0.4, quiet: 0.4, fault: 'broken-wire' },
} as const satisfies Record<string, Prior>;
export type PriorKind = keyof typeof priors;
export const priorOf = (kind: PriorKind): Prior => priors[kind];

interface Past {
  id: string;
  label: string;
  times: Partial<Record<PriorKind, number>>;
  /** What has happened as well when this has; it counts once, however often it is told. */
  with?: string;
}
/** What was done to the machine lately, and what that makes likelier. */
export const histories = [
  {
    id: 'plug-off',
    label: 'A plug was off and went on again',
    times: { 'housing unplugged': 20, 'housing shifted': 20, 'housing turned': 20, 'housing elsewhere': 20, 'housings exchanged': 20 },
  },
  {
    id: 'remade',
    label: 'A plug was made new or moved',
    times: { 'wires exchanged': 100, crimp: 5, 'in-line crimps': 5 },
    with: 'plug-off',
  },
  { id: 'switch-replaced', label: 'A switch was replaced', times: { 'diode bypassed': 20, 'diode reversed': 20, 'lug tail': 3 } },
  { id: 'soldered', label: 'A board was soldered', times: { 'line to neighbour': 10, 'header joint': 3 }, with: 'plug-off' },
  { id: 'lowered', label: 'The playfield was just lowered', times: { 'line to ground': 5 } },
  { id: 'leak', label: 'A battery has leaked, or it stood damp', times: { 'terminal spring': 10, 'driver dead': 5, 'row input dead': 5 } },
  {
    id: 'supply-touched',
    label: 'A coil wire touched a switch',
    times: { 'driver dead': 20, 'driver stuck': 20, 'row input dead': 20, 'row input stuck': 20, 'line to supply': 20 },
  },
] as const satisfies readonly Past[];
export type History = (typeof histories)[number]['id'];

/** How much likelier a kind of fault is after all that was done. */
export function timesLikelier(kind: PriorKind, done: readonly string[]): number {
  const all: readonly Past[] = histories;
  const told = all.filter(({ id }) => done.includes(id));
  const happened = all.filter((past) => told.includes(past) || told.some((other) => other.with === past.id));
  return happened.reduce((times, { times: by }) => times * (by[kind] ?? 1), 1);
}

/** Proven fixes of the club on one board design, by fault class. Those without a proof, test runs and "no fault found" are not counted. */
export type FixCounts = Partial<Record<FaultClass, number>>;

/** How many fixes the table itself counts for; below 10 the record, biased to what was solvable, would outshout it. */
const tableStrength = 20;

/** The table never counts for less than this in a class: one lucky fix of something rare must not multiply it by a hundred. */
const leastStrength = 1;

/**
 * Factors on the weights of each fault class, from the club's record (Dirichlet): with α_k = s · share of class k, at least 1, the expected
 * share after n fixes is (α_k + n_k)/(Σα + n), held against α_k/Σα before. `shares` are the classes' prior weights summed over all their
 * instances in this machine.
 */
export function updated(shares: ReadonlyMap<FaultClass, number>, counts: FixCounts): Map<FaultClass, number> {
  const total = [...shares.values()].reduce((sum, weight) => sum + weight, 0);
  const alphas = [...shares].map(([fault, weight]) => [fault, Math.max(leastStrength, (tableStrength * weight) / total)] as const);
  const strength = alphas.reduce((sum, [, alpha]) => sum + alpha, 0);
  const counted = alphas.reduce((sum, [fault]) => sum + (counts[fault] ?? 0), 0);
  const factors = alphas.map(
    ([fault, alpha]) => [fault, ((alpha + (counts[fault] ?? 0)) * strength) / ((strength + counted) * alpha)] as const,
  );
  // In all, some fault stays as likely as it was.
  const now = factors.reduce((sum, [fault, factor]) => sum + factor * (shares.get(fault) ?? 0), 0);
  return new Map(factors.map(([fault, factor]) => [fault, (factor * total) / now]));
}
