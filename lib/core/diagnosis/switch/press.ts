/** Chances of what a person sees and counts, given what the circuit does. Rates from memory; the sums are exact for them. */
import { betaRate, logAdd, quadrature, type Rate } from './rates';

export interface Rates {
  whole: Rate; // miss rate of a sound path: mis-press, bad aim
  broken: Rate; // of a broken one: 1 − misread neighbour, wrong row ticked
  intermittent: Rate; // of an intermittent one in its bad phase
  either: Rate; // of a level on the edge
}
export const usualRates: Rates = { whole: betaRate(1, 49), broken: betaRate(99, 1), intermittent: betaRate(1, 2), either: betaRate(1, 1) };

/** Presses that share a hidden rate. */
export interface Count {
  missed: number;
  presses: number;
}
export const sum = (counts: readonly Count[]): Count => {
  let missed = 0;
  let presses = 0;
  for (const count of counts) {
    missed += count.missed;
    presses += count.presses;
  }
  return { missed, presses };
};

/**
 * ln of the chance of the presses that pass one intermittent element: quiet all through, or a rate of its own. `apart` are the presses as they were
 * made, switch by switch; `pooled` those that share the rate (by hand and by ball apart, for a mechanical fault).
 */
export function logFlicker(quiet: number, apart: readonly Count[], pooled: readonly Count[], rates: Rates): number {
  let asWhole = Math.log(quiet);
  for (const { missed, presses } of apart) asWhole += rates.whole.log(missed, presses);
  let asBad = Math.log(1 - quiet);
  for (const { missed, presses } of pooled) asBad += rates.intermittent.log(missed, presses);
  return logAdd(asWhole, asBad);
}

export interface Flicker {
  quiet: number;
  own: readonly Count[]; // presses that pass this one alone
}

/** Two intermittent elements, some presses passing both: those register with (1 − m₁)(1 − m₂), integrated over both unknown rates. */
export function logTwoFlickers(one: Flicker, two: Flicker, shared: readonly Count[], rates: Rates): number {
  const whole = (counts: readonly Count[]) => Math.exp(counts.reduce((log, c) => log + rates.whole.log(c.missed, c.presses), 0));
  const [a, b, s] = [sum(one.own), sum(two.own), sum(shared)];
  const { points, logWeight, logMiss, logHit, logEither } = quadrature;
  const at = (list: Float64Array, i: number) => list[i] ?? 0;
  /** ln of weight and of the counts at each rate, for presses that pass one alone, and of the hits that both share. */
  const own = (count: Count) =>
    Float64Array.from(
      { length: points },
      (_, i) => at(logWeight, i) + count.missed * at(logMiss, i) + (count.presses - count.missed) * at(logHit, i),
    );
  const [forA, forB] = [own(a), own(b)];
  const hits = s.presses - s.missed;
  let bothBad = 0;
  let firstBad = 0;
  let secondBad = 0;
  for (let i = 0; i < points; i++) {
    const shared = s.missed * at(logMiss, i) + hits * at(logHit, i);
    firstBad += Math.exp(at(forA, i) + shared);
    secondBad += Math.exp(at(forB, i) + shared);
    const left = at(forA, i) + hits * at(logHit, i);
    for (let j = 0; j < points; j++)
      bothBad += Math.exp(left + at(forB, j) + hits * at(logHit, j) + s.missed * at(logEither, i * points + j));
  }
  const [wholeA, wholeB] = [whole(one.own), whole(two.own)];
  const chance =
    one.quiet * two.quiet * wholeA * wholeB * whole(shared) +
    (1 - one.quiet) * two.quiet * firstBad * wholeB +
    one.quiet * (1 - two.quiet) * secondBad * wholeA +
    (1 - one.quiet) * (1 - two.quiet) * bothBad;
  return Math.log(Math.max(chance, 1e-300));
}

/** Chances of what a screen shows and what people notice. */
export const looks = {
  /** A switch that nobody pressed shows as closed although its circuit is open: something rests on it, bumped. */
  strayClosed: 0.002,
  misread: 0.01,
  /** The same with the switches held, so that one can look twice. */
  steadyMisread: 0.0002,
  /** A second number came up and nobody noticed. */
  unnoticed: 0.2,
  /** Of several numbers that came up too, one is left out; or one that stands for no switch. */
  leftOut: 0.5,
  /** Somebody pressed a switch, saw it register, and did not notice that it reads closed all the time. */
  alwaysUnnoticed: 0.05,
};
