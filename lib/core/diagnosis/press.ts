/** Chances of what a person sees and counts, given what the circuit does. Rates from memory; the model is exact for them. */
import { logAdd, logMisses, quadrature, type Rate } from './rates';

export interface Rates {
  whole: Rate; // miss rate of a sound path: mis-press, bad aim
  broken: Rate; // of a broken one: 1 − misread neighbour, wrong row ticked
  intermittent: Rate; // of an intermittent one in its bad phase
}
export const usualRates: Rates = { whole: { a: 1, b: 49 }, broken: { a: 99, b: 1 }, intermittent: { a: 1, b: 2 } };

/** Presses that share a hidden rate: misses and all. */
export interface Count {
  missed: number;
  presses: number;
}
export const sum = (counts: readonly Count[]): Count =>
  counts.reduce((total, c) => ({ missed: total.missed + c.missed, presses: total.presses + c.presses }), { missed: 0, presses: 0 });

/** An intermittent element: presses that pass it, each list with a rate of its own (by hand, by ball), and its chance of a quiet session. */
export interface Flicker {
  quiet: number;
  counts: readonly Count[];
}

/** ln of the chance of the counts of one intermittent element: quiet all through, or a rate of its own. */
export function logFlicker({ quiet, counts }: Flicker, rates: Rates, apart: readonly Count[] = counts): number {
  const asWhole = apart.reduce((log, c) => log + logMisses(rates.whole, c.missed, c.presses), 0);
  const asBad = counts.reduce((log, c) => log + logMisses(rates.intermittent, c.missed, c.presses), 0);
  return logAdd(Math.log(quiet) + asWhole, Math.log(1 - quiet) + asBad);
}

/**
 * Two intermittent elements, some presses passing both: registers with (1 − m₁)(1 − m₂), integrated over both unknown rates. Only counts that
 * pass both need this; the rest of each is alone with its own.
 */
export function logTwoFlickers(one: Flicker, two: Flicker, shared: Count, rates: Rates): number {
  const alone = (f: Flicker) => sum(f.counts);
  const [a, b] = [alone(one), alone(two)];
  const whole = ({ missed, presses }: Count) => logMisses(rates.whole, missed, presses);
  const sharedAsWhole = whole(shared);
  const power = (rate: number, { missed, presses }: Count) => rate ** missed * (1 - rate) ** (presses - missed);
  let bothBad = 0;
  let firstBad = 0;
  let secondBad = 0;
  for (const first of quadrature) {
    firstBad += first.weight * power(first.rate, a) * power(first.rate, shared);
    secondBad += first.weight * power(first.rate, b) * power(first.rate, shared);
    let inner = 0;
    for (const second of quadrature)
      inner += second.weight * power(second.rate, b) * power(1 - (1 - first.rate) * (1 - second.rate), shared);
    bothBad += first.weight * power(first.rate, a) * inner;
  }
  const chance =
    one.quiet * two.quiet * Math.exp(whole(a) + whole(b) + sharedAsWhole) +
    (1 - one.quiet) * two.quiet * firstBad * Math.exp(whole(b)) +
    one.quiet * (1 - two.quiet) * secondBad * Math.exp(whole(a)) +
    (1 - one.quiet) * (1 - two.quiet) * bothBad;
  return Math.log(Math.max(chance, 1e-300));
}

/** Chances of what a screen shows. */
export const looks = {
  /** A switch that nobody pressed shows as closed although its circuit is open: something rests on it, bumped. */
  strayClosed: 0.002,
  misread: 0.01,
  /** A second number came up and nobody noticed. */
  unnoticed: 0.2,
  /** Of several numbers that came up too, one is left out. */
  leftOut: 0.5,
  /** Somebody pressed a switch, saw it register, and did not notice that it reads closed all the time. */
  alwaysUnnoticed: 0.05,
};
