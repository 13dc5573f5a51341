/** Slows guessing: so many failed attempts a minute for one account, counted in this process. */
const windowMs = 60_000;

export function attemptCounter(limit: number, now: () => number = Date.now) {
  const failed = new Map<string, number[]>();
  const recent = (key: string) => (failed.get(key) ?? []).filter((at) => at > now() - windowMs);
  return {
    /** False when this account has used up its attempts for the minute. */
    allowed: (key: string) => recent(key).length < limit,
    fail(key: string) {
      failed.set(key, [...recent(key), now()]);
      if (failed.size > 10_000) for (const [k] of failed) if (recent(k).length === 0) failed.delete(k);
    },
    clear: (key: string) => failed.delete(key),
  };
}
