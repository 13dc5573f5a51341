/** Seeded chance: one stream of numbers, and the draws that the cases need. */
export interface Random {
  /** 0 ≤ x < 1. */
  next(): number;
  /** True with this chance. */
  chance(p: number): boolean;
  /** lowest ≤ n ≤ highest. */
  whole(lowest: number, highest: number): number;
  pick<T>(from: readonly T[]): T;
  weighted<T>(from: readonly T[], weight: (item: T) => number): T;
  shuffled<T>(from: readonly T[]): T[];
  beta(a: number, b: number): number;
}

/** The same seed gives the same stream. A 32-bit state stepped by a constant and mixed by shifts and products. */
export function random(seed: number): Random {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const whole = (lowest: number, highest: number) => lowest + Math.floor(next() * (highest - lowest + 1));
  const pick = <T>(from: readonly T[]): T => {
    if (from.length === 0) throw new Error('Nothing to pick from.');
    return from[whole(0, from.length - 1)]!;
  };
  const weighted = <T>(from: readonly T[], weight: (item: T) => number): T => {
    let left = next() * from.reduce((sum, item) => sum + weight(item), 0);
    for (const item of from) {
      left -= weight(item);
      if (left < 0) return item;
    }
    return pick(from.slice(-1));
  };
  const shuffled = <T>(from: readonly T[]): T[] => {
    const all = [...from];
    for (let i = all.length - 1; i > 0; i--) {
      const j = whole(0, i);
      [all[i], all[j]] = [all[j]!, all[i]!];
    }
    return all;
  };
  /** A sum of a exponentials over a sum of a + b of them; a and b whole. */
  const beta = (a: number, b: number) => {
    const waits = Array.from({ length: a + b }, () => -Math.log(1 - next()));
    const sum = (some: readonly number[]) => some.reduce((total, one) => total + one, 0);
    return sum(waits.slice(0, a)) / sum(waits);
  };
  return { next, chance: (p) => next() < p, whole, pick, weighted, shuffled, beta };
}
