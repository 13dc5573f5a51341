/**
 * How much a past repair helps with a question, 0–3, from what both mean and never from their words. Decided before any tuning.
 *
 * 3: the same device, doing the same, to the same extent, under the circumstances asked for, on that machine or one with its boards.
 * Every aspect that is only near, or that misses, takes from it:
 *
 * | aspect | same | near | otherwise |
 * |---|---|---|---|
 * | device | same role (and side, and circuit kind, where asked); for a whole line or everything: same circuit kind | same role: −1 | 0 |
 * | behaviour | same | a kin (see `kin`): −1 | 0 |
 * | extent | same | bank and line, line and everything: −1 | −2 |
 * | circumstances, when asked | same | | −1 |
 * | machine, when asked | same machine or board design | | −1 |
 * | cause, when asked | same | | −1 |
 * | outcome | | | came back: −1, never below 1 |
 *
 * What a question excludes is 0. A clue (wire, pin, number) asks for repairs at that line: 3 where the fault was on it, 2 where the repair's circuits
 * run over it; where a machine is named too, one less on a sister with the same boards and nothing on others.
 */
import type { Asked, Behaviour, Extent, Repair, Situation } from './types';

const kin: readonly (readonly [Behaviour, Behaviour])[] = [
  ['dead', 'sometimes'],
  ['another', 'wrong'],
  ['always', 'twice'],
  ['weak', 'sometimes'],
  ['weak', 'hot'],
];
const close: readonly (readonly [Extent, Extent])[] = [
  ['bank', 'line'],
  ['line', 'everything'],
];
const paired = <T>(pairs: readonly (readonly [T, T])[], a: T, b: T) => pairs.some(([x, y]) => (x === a && y === b) || (x === b && y === a));
const wide = (extent: Extent | undefined) => extent === 'line' || extent === 'everything';

export type DesignOf = (machine: string) => string;

export function grade(asked: Asked, repair: Repair, designOf: DesignOf): number {
  const { situation } = repair;
  if (!situation) return 0;
  if (asked.not && excluded(asked.not, situation)) return 0;
  const full = asked.clue ? clueGrade(asked, repair, designOf) : symptomGrade(asked, situation, designOf);
  return repair.outcome === 'recurred' && full > 0 ? Math.max(1, full - 1) : full;
}

const excluded = (not: NonNullable<Asked['not']>, s: Situation): boolean =>
  (not.cause !== undefined && s.cause === not.cause) ||
  (not.role !== undefined && s.role === not.role) ||
  (not.when !== undefined && s.when === not.when);

function symptomGrade(asked: Asked, s: Situation, designOf: DesignOf): number {
  const device = deviceCost(asked, s);
  const behaviour = !asked.behaviour || asked.behaviour === s.behaviour ? 0 : paired(kin, asked.behaviour, s.behaviour) ? 1 : null;
  if (device === null || behaviour === null) return 0;
  const extent = !asked.extent || asked.extent === s.extent ? 0 : paired(close, asked.extent, s.extent) ? 1 : 2;
  const when = asked.when && asked.when !== s.when ? 1 : 0;
  const machine = asked.machine && designOf(asked.machine) !== s.design ? 1 : 0;
  const cause = asked.cause && asked.cause !== s.cause ? 1 : 0;
  return Math.max(0, 3 - device - behaviour - extent - when - machine - cause);
}

/** Null when it is another device altogether. */
function deviceCost(asked: Asked, s: Situation): 0 | 1 | null {
  const sameKind = !asked.kind || asked.kind === s.kind;
  if (!asked.role || (wide(asked.extent) && wide(s.extent))) return sameKind ? 0 : null;
  if (asked.role !== s.role) return null;
  const sameSide = !asked.side || s.side === null || asked.side === s.side;
  return sameKind && sameSide ? 0 : 1;
}

function clueGrade(asked: Asked, { atFault, devices, situation }: Repair, designOf: DesignOf): number {
  const { clue, machine } = asked;
  if (!clue || !situation) return 0;
  const elsewhere = machine === undefined || machine === situation.machine ? 0 : designOf(machine) === situation.design ? 1 : null;
  if (elsewhere === null) return 0;
  if ('number' in clue) return elsewhere === 0 && devices.some((d) => d.number === clue.number) ? 3 : 0;
  const on = (line: { colour: string; pin: string }) => ('wire' in clue ? line.colour === clue.wire : line.pin === clue.pin);
  const full = atFault && on(atFault) ? 3 : devices.some((d) => d.lines.some(on)) ? 2 : 0;
  return Math.max(0, full - (full > 0 ? elsewhere : 0));
}
