/**
 * Chances of presses. A path that is whole misses now and then, a broken one registers now and then (misread, wrong switch), an
 * intermittent one has a rate of its own that nobody knows: all three are Beta-Binomial.
 */

/** Parameters of a Beta distribution of the miss rate. */
export interface Rate {
  a: number;
  b: number;
}

/** ln of B(a+k, b+n−k)/B(a, b): the chance of k misses in n presses in one given order, the rate unknown. Small counts, exact product. */
export function logMisses({ a, b }: Rate, missed: number, presses: number): number {
  let log = 0;
  for (let i = 0; i < missed; i++) log += Math.log(a + i);
  for (let i = 0; i < presses - missed; i++) log += Math.log(b + i);
  for (let i = 0; i < presses; i++) log -= Math.log(a + b + i);
  return log;
}

/** ln(e^x + e^y) without overflow. */
export function logAdd(x: number, y: number): number {
  if (x === -Infinity) return y;
  if (y === -Infinity) return x;
  return x > y ? x + Math.log1p(Math.exp(y - x)) : y + Math.log1p(Math.exp(x - y));
}

/** A quadrature of the Beta(1, 2) density 2(1 − m): the rate of an intermittent path. Midpoints, weights sum to 1. */
export const quadrature: readonly { rate: number; weight: number }[] = (() => {
  const points = 16;
  const raw = Array.from({ length: points }, (_, i) => (i + 0.5) / points).map((rate) => ({ rate, weight: 2 * (1 - rate) }));
  const sum = raw.reduce((total, p) => total + p.weight, 0);
  return raw.map((p) => ({ ...p, weight: p.weight / sum }));
})();
