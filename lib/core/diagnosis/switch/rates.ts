/**
 * Chances of presses. A path that is whole misses now and then, a broken one registers now and then (misread, wrong switch), an
 * intermittent one has a rate of its own that nobody knows: all three are Beta-Binomial.
 */

/** A Beta(a, b) distribution of the miss rate. */
export interface Rate {
  a: number;
  b: number;
  /** ln of B(a+k, b+n−k)/B(a, b): the chance of k misses in n presses, in one given order, when the rate is drawn from it. */
  log(missed: number, presses: number): number;
}

/** Exact products, kept as running sums. */
export function betaRate(a: number, b: number): Rate {
  const sums = (from: number) => {
    const known = [0];
    return (n: number) => {
      for (let i = known.length - 1; i < n; i++) known.push((known[i] ?? 0) + Math.log(from + i));
      return known[n] ?? 0;
    };
  };
  const [miss, hit, all] = [sums(a), sums(b), sums(a + b)];
  return { a, b, log: (missed, presses) => miss(missed) + hit(presses - missed) - all(presses) };
}

/** ln(e^x + e^y) without overflow. */
export function logAdd(x: number, y: number): number {
  if (x === -Infinity) return y;
  if (y === -Infinity) return x;
  return x > y ? x + Math.log1p(Math.exp(y - x)) : y + Math.log1p(Math.exp(x - y));
}

const points = 16;
const rates = Array.from({ length: points }, (_, i) => (i + 0.5) / points);
const density = rates.map((rate) => 2 * (1 - rate));
const mass = density.reduce((sum, d) => sum + d, 0);

/** A quadrature of the Beta(1, 2) density 2(1 − m), the rate of an intermittent path: midpoints, weights that sum to 1, as logarithms. */
export const quadrature = {
  points,
  logWeight: Float64Array.from(density, (d) => Math.log(d / mass)),
  logMiss: Float64Array.from(rates, Math.log),
  logHit: Float64Array.from(rates, (rate) => Math.log(1 - rate)),
  /** ln of the miss rate of two in series, 1 − (1 − m₁)(1 − m₂), by i · points + j. */
  logEither: Float64Array.from({ length: points * points }, (_, k) => {
    const hit = (1 - (rates[Math.floor(k / points)] ?? 0)) * (1 - (rates[k % points] ?? 0));
    return Math.log(1 - hit);
  }),
};
