/** A test whose outcome follows from which faults are present: each fault may give a sign of its own. */

import type { Probe, Test } from '../types';
import type { SwitchMode } from './modes';

/** The outcome that a fault shows in this test, by index, and how surely; null: it shows nothing. */
export type Sign = { outcome: number; sure: number } | null;

/**
 * Outcome 0 is the one that a sound circuit gives. Faults are asked in turn, the surest first, of equally sure ones that of the later outcome;
 * what none of them shows is left to outcome 0, less the chance `slip` that a sound circuit seems to show something.
 */
export function signProbe(test: Test, slip: number, sign: (mode: SwitchMode) => Sign): Probe {
  const known = new Map<string, Sign>();
  const of = (mode: { id: string }): Sign => {
    let found = known.get(mode.id);
    if (found === undefined) {
      found = sign(mode as SwitchMode);
      known.set(mode.id, found);
    }
    return found;
  };
  const bad = test.outcomes.length - 1;
  const chanceOf = (signs: readonly NonNullable<Sign>[]): readonly number[] => {
    const chances = test.outcomes.map(() => 0);
    let left = 1;
    for (const { outcome, sure } of [...signs].sort((a, b) => b.sure - a.sure || b.outcome - a.outcome)) {
      chances[outcome] = (chances[outcome] ?? 0) + left * sure;
      left *= 1 - sure;
    }
    return chances.map((chance, k) => chance + left * (k === 0 ? 1 - slip : slip / bad));
  };
  const sound = chanceOf([]);
  const alone = new Map<string, readonly number[]>(); // by sign: there are few
  return {
    ...test,
    heeds: (mode) => of(mode) !== null,
    chance(modes) {
      const signs = modes.flatMap((mode) => of(mode) ?? []);
      const [one] = signs;
      if (!one) return sound;
      if (signs.length > 1) return chanceOf(signs);
      const key = `${one.outcome} ${one.sure}`;
      const found = alone.get(key) ?? chanceOf(signs);
      alone.set(key, found);
      return found;
    },
  };
}
