/** The beta distribution, as far as exact binomial limits need it. */

/** Coefficients of Stirling's series of log Γ, for 1/x, 1/x³, 1/x⁵ …: B₂ₙ / (2n(2n−1)). */
const stirling = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360_360, 1 / 156];
const seriesFrom = 12; // from here on the next term is below 1e-15

/** Natural logarithm of Γ(x) for x > 0. Stirling's series, reached from below by Γ(x+1) = x·Γ(x). */
export function logGamma(x: number): number {
  let shifted = x;
  let product = 1;
  while (shifted < seriesFrom) {
    product *= shifted;
    shifted += 1;
  }
  const tail = stirling.reduce((sum, c, i) => sum + c / shifted ** (2 * i + 1), 0);
  return (shifted - 0.5) * Math.log(shifted) - shifted + 0.5 * Math.log(2 * Math.PI) + tail - Math.log(product);
}

/** Natural logarithm of B(a, b) for a, b > 0. */
export const logBeta = (a: number, b: number): number => logGamma(a) + logGamma(b) - logGamma(a + b);

/** The continued fraction of the incomplete beta function (DLMF 8.17.22), by the modified Lentz method. Converges fast for x < (a+1)/(a+b+2). */
function fraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  const kept = (value: number) => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / kept(1 - ((a + b) * x) / (a + 1));
  let result = d;
  for (let m = 1; m < 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / kept(1 + even * d);
    c = kept(1 + even / c);
    result *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / kept(1 + odd * d);
    c = kept(1 + odd / c);
    const step = d * c;
    result *= step;
    if (Math.abs(step - 1) < 1e-15) break;
  }
  return result;
}

/** Regularised incomplete beta function I_x(a, b): the chance that a beta variable stays at or below x. */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = (first: number, second: number) => Math.exp(a * Math.log(x) + b * Math.log1p(-x) - logBeta(a, b)) * (first / second);
  return x < (a + 1) / (a + b + 2) ? front(fraction(x, a, b), a) : 1 - front(fraction(1 - x, b, a), b);
}

/** The x with I_x(a, b) = chance, by bisection to the last bit. */
export function betaQuantile(chance: number, a: number, b: number): number {
  let low = 0;
  let high = 1;
  for (;;) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) return middle;
    if (incompleteBeta(middle, a, b) < chance) low = middle;
    else high = middle;
  }
}
