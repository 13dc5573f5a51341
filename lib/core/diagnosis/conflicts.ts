/**
 * Conflicts: sets of components that cannot all be healthy. The consistency-based view of diagnosis, a cross-check for hard open faults
 * only: a switch that comes and goes, a short or a stuck line contradicts nothing here.
 */
import { compareSets, minimalHittingSets, minimalSets } from './hitting-sets';

export type Consistent = (assumedHealthy: ReadonlySet<string>) => boolean;

/**
 * All minimal conflicts, sorted. `consistent` says whether what was seen is possible when at least these components are healthy; with
 * more of them healthy it must not become possible again. `[[]]` when it is impossible whatever is broken. For small systems: the
 * answer, and the work, can grow exponentially.
 *
 * Every minimal hitting set of the conflicts known so far is tried as a diagnosis; one that fails hides a new conflict in the rest.
 * When none fails they are all diagnoses, and the conflicts are complete, for each family is the minimal hitting sets of the other.
 */
export function minimalConflicts(components: readonly string[], consistent: Consistent): string[][] {
  const conflicts: string[][] = [];
  const sound = new Set<string>(); // hitting sets that passed
  for (;;) {
    let complete = true;
    for (const broken of minimalHittingSets(conflicts)) {
      const key = JSON.stringify(broken);
      if (sound.has(key)) continue;
      const healthy = components.filter((component) => !broken.includes(component));
      if (consistent(new Set(healthy))) {
        sound.add(key);
        continue;
      }
      conflicts.push(shrink(healthy, consistent));
      complete = false;
      break;
    }
    if (complete) return minimalSets(conflicts);
  }
}

/** The minimal sets of components whose being broken makes what was seen possible. */
export const minimalDiagnoses = (components: readonly string[], consistent: Consistent): string[][] =>
  minimalHittingSets(minimalConflicts(components, consistent));

/** One minimal conflict within a set that is one: leaves out whatever can be left out. */
function shrink(conflict: readonly string[], consistent: Consistent): string[] {
  const kept = new Set(conflict);
  for (const component of conflict) {
    kept.delete(component);
    if (consistent(kept)) kept.add(component);
  }
  return [...kept].sort();
}

export interface PathConflict {
  elements: string[]; // at least one is broken
  numbers: string[]; // dead switches that say so
}
export interface PathConflicts {
  /** Minimal ones only: a conflict that contains another adds nothing. */
  conflicts: PathConflict[];
  /** Dead switches that no hard open fault explains, with the reason. */
  unexplained: { number: string; message: string }[];
}

/**
 * Conflicts under hard open faults: of the elements on the path of a dead switch at least one is broken, and none on the path of a good
 * switch is. `paths` leads from a switch number to the ids of its elements.
 */
export function pathConflicts(
  paths: ReadonlyMap<string, readonly string[]>,
  dead: readonly string[],
  good: readonly string[],
): PathConflicts {
  const whole = new Set(good.flatMap((number) => paths.get(number) ?? []));
  const suspects = new Map(
    dead.map((number) => [number, [...new Set(paths.get(number) ?? [])].filter((element) => !whole.has(element)).sort()]),
  );
  const unexplained = [...suspects]
    .filter(([, elements]) => elements.length === 0)
    .map(([number]) => ({ number, message: reason(paths.get(number) ?? [], number, good.includes(number)) }));
  const conflicts = minimalSets([...suspects.values()].filter((elements) => elements.length > 0)).map((elements) => ({
    elements,
    numbers: [...suspects].filter(([, others]) => compareSets(others, elements) === 0).map(([number]) => number),
  }));
  return { conflicts, unexplained };
}

function reason(path: readonly string[], number: string, good: boolean): string {
  if (path.length === 0) return `The chart shows no path for switch ${number}: enter its column and row.`;
  if (good) return `Switch ${number} is noted both as dead and as good: no hard break comes and goes. Note how many presses it missed.`;
  return `Every part on the path of switch ${number} also serves a switch that registers: no hard break explains it. Press it again, and think of a short, a stuck line or a wrong number.`;
}
