/** A small seeded generator (the mulberry32 recurrence, public domain): the same numbers on every machine. */
export interface Random {
  next(): number; // 0 ≤ x < 1
  below(n: number): number;
  pick<T>(list: readonly T[]): T;
  chance(p: number): boolean;
  shuffle<T>(list: readonly T[]): T[];
}

export function random(seed: number): Random {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (n: number) => Math.floor(next() * n);
  return {
    next,
    below,
    pick<T>(list: readonly T[]): T {
      if (list.length === 0) throw new Error('nothing to pick from');
      return list[below(list.length)] as T;
    },
    chance: (p) => next() < p,
    shuffle<T>(list: readonly T[]): T[] {
      const out = [...list];
      for (let i = out.length - 1; i > 0; i -= 1) {
        const j = below(i + 1);
        [out[i], out[j]] = [out[j] as T, out[i] as T];
      }
      return out;
    },
  };
}
