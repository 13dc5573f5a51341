/** Slows guessing: so many attempts a minute for one key, such as an account or an address. Counted in this process. */
const windowMs = 60_000;

export function attemptCounter(limit: number, now: () => number = () => performance.now()) {
  const taken = new Map<string, number[]>(); // when, oldest first; keys in the order of their newest attempt
  const recent = (key: string) => (taken.get(key) ?? []).filter((at) => at > now() - windowMs);
  const forgetOld = () => {
    for (const [key, times] of taken) {
      if ((times.at(-1) ?? 0) > now() - windowMs) break;
      taken.delete(key);
    }
  };
  return {
    /** Takes an attempt; false when none is left. To be taken before the password is checked: of many at once, only so many pass. */
    take(key: string): boolean {
      forgetOld();
      const times = recent(key);
      if (times.length >= limit) return false;
      taken.delete(key);
      taken.set(key, [...times, now()]);
      return true;
    },
    /** Gives the newest attempt back: it was a right one. */
    giveBack(key: string) {
      const times = recent(key).slice(0, -1);
      if (times.length) taken.set(key, times);
      else taken.delete(key);
    },
    /** How many keys are remembered. */
    keys: () => taken.size,
  };
}
