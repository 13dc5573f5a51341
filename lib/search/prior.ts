/** What is known of a fix whatever is asked: whether it held, and how long ago it was. */

export type Outcome = 'open' | 'mended' | 'watching' | 'not-found';
export interface Standing {
  outcome: Outcome;
  proved: boolean;
  /** The same fault came back on the same circuit within 90 days. */
  recurred: boolean;
  on: string; // day, ISO; may be empty
}

const byOutcome: Record<Outcome, number> = { mended: 0.95, watching: 0.88, 'not-found': 0.8, open: 0.8 };
const ofProof = 0.05;
const ofRecurrence = 0.15;
const mostRecent = 0.03; // fades over about three years: a newer fix is likelier to fit the machine as it is
const fadeDays = 1000;

/** A factor about 0.65 to 1.03; `today` in days since 1970. */
export function standingOf({ outcome, proved, recurred, on }: Standing, today: number): number {
  const age = on ? Math.max(0, today - dayNumber(on)) : fadeDays;
  const recent = mostRecent * Math.max(0, 1 - age / fadeDays);
  return byOutcome[outcome] + (proved && !recurred ? ofProof : 0) - (recurred ? ofRecurrence : 0) + recent;
}

/** Days since 1970. */
export const dayNumber = (iso: string): number => Math.floor(Date.parse(iso) / 86_400_000);
