/** Limits and runs of the proof test against an independent library, published rules and figures checked by script. */
import quantile from '@stdlib/stats-base-dists-beta-quantile';
import { describe, expect, it } from 'vitest';
import { cleanByChance, clopperPearson, mendedAfter, pressesNeeded, rateAfterQuiet, upperAfterClean } from '@/lib/core/proof';
import { betaQuantile, incompleteBeta, logBeta, logGamma } from '@/lib/core/proof/beta';

/** Clopper & Pearson, “The use of confidence or fiducial limits illustrated in the case of the binomial”, Biometrika 26 (1934); beta quantiles by @stdlib. */
describe('two-sided limits', () => {
  const counts: [number, number][] = [
    [0, 1],
    [1, 1],
    [0, 20],
    [1, 20],
    [2, 20],
    [5, 20],
    [10, 20],
    [19, 20],
    [20, 20],
    [3, 10],
    [1, 500],
    [250, 500],
    [7, 9999],
    [4999, 9999],
  ]; // prettier-ignore
  it.each(counts)('%d of %d as the library has them', (k, n) => {
    for (const level of [0.9, 0.95, 0.99]) {
      const tail = (1 - level) / 2;
      const { low, high } = clopperPearson(k, n, level);
      expect(low).toBeCloseTo(k === 0 ? 0 : quantile(tail, k, n - k + 1), 9);
      expect(high).toBeCloseTo(k === n ? 1 : quantile(1 - tail, k + 1, n - k), 9);
    }
  });

  it('are where the exact binomial tails are half of what the level leaves (their definition)', () => {
    const atLeast = (k: number, n: number, p: number) => {
      let term = (1 - p) ** n;
      let below = 0;
      for (let i = 0; i < k; i++) {
        below += term;
        term *= ((n - i) / (i + 1)) * (p / (1 - p));
      }
      return 1 - below;
    };
    for (const [k, n] of [
      [5, 20],
      [3, 10],
      [1, 60],
    ] as const) {
      const { low, high } = clopperPearson(k, n, 0.95);
      expect(atLeast(k, n, low)).toBeCloseTo(0.025, 10);
      expect(1 - atLeast(k + 1, n, high)).toBeCloseTo(0.025, 10);
    } // prettier-ignore
  });

  it('5 of 20 is 8.7 to 49.1 % (checked by script)', () => {
    const { low, high } = clopperPearson(5, 20, 0.95);
    expect(low).toBeCloseTo(0.0866, 4);
    expect(high).toBeCloseTo(0.491, 4);
  });

  it('quantiles agree over shapes from flat to steep', () => {
    for (const a of [0.5, 1, 2.5, 40, 700])
      for (const b of [0.5, 1, 3, 55, 900]) {
        for (const p of [0.005, 0.3, 0.975]) {
          const x = betaQuantile(p, a, b);
          expect(Math.abs(x - quantile(p, a, b))).toBeLessThan(1e-9);
          expect(incompleteBeta(x, a, b)).toBeCloseTo(p, 9);
        }
      } // prettier-ignore
  });
});

it('log Γ and log B have their exact values (factorials; Γ(1/2) = √π; DLMF 5.4)', () => {
  expect(logGamma(1)).toBeCloseTo(0, 14);
  expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 13);
  expect(logGamma(11)).toBeCloseTo(Math.log(3_628_800), 12);
  expect(logGamma(171)).toBeCloseTo(
    Array.from({ length: 170 }, (_, i) => Math.log(i + 1)).reduce((a, b) => a + b, 0),
    10,
  );
  expect(logBeta(0.5, 0.5)).toBeCloseTo(Math.log(Math.PI), 13);
  expect(logBeta(3, 4)).toBeCloseTo(Math.log(1 / 60), 13);
});

/** Presses for 95 % / 99 %: ⌈ln α / ln(1−p̂)⌉, B(k+½, n−k+m+½)/B(k+½, n−k+½), and the lower 95 % limit; checked by script. */
describe('presses needed', () => {
  it.each([
    [1, 20, [59, 90], [126, 406], [2367, 3638]],
    [2, 20, [29, 44], [45, 103], [242, 371]],
    [5, 20, [11, 17], [13, 24], [34, 51]],
    [3, 10, [9, 13], [12, 24], [44, 67]],
  ] as const)('after %d of %d', (missed, presses, plugIn, predictive, cautious) => {
    const both = (rule: 'plugIn' | 'predictive' | 'cautious') =>
      [0.05, 0.01].map((chance) => pressesNeeded({ missed, presses }, chance, rule));
    expect(both('plugIn')).toEqual(plugIn);
    expect(both('predictive')).toEqual(predictive);
    expect(both('cautious')).toEqual(cautious);
  });

  // The ratio of beta functions written out: ∏ (n−k+½+i)/(n+1+i).
  it.each([
    [1, 20, 126],
    [5, 20, 18],
    [20, 20, 3],
    [7, 900, 2000],
  ])('the predictive chance after %d of %d is the product it stands for', (k, n, m) => {
    let product = 1;
    for (let i = 0; i < m; i++) product *= (n - k + 0.5 + i) / (n + 1 + i);
    expect(Math.log(cleanByChance({ missed: k, presses: n }, m))).toBeCloseTo(Math.log(product), 9);
  });
});

/** Hanley & Lippman-Hand, “If nothing goes wrong, is everything all right?”, JAMA 249 (1983): after n without an event at most 3/n, one-sided 95 %. */
describe('rule of three', () => {
  it('60 clean presses leave at most 0.0487 (checked by script)', () => {
    expect(upperAfterClean(60, 0.95)).toBeCloseTo(0.0487, 4);
  });
  it.each([30, 60, 100, 1000])('is never below the exact limit after %d, and near it', (n) => {
    expect(upperAfterClean(n, 0.95)).toBeLessThan(3 / n);
    expect(upperAfterClean(n, 0.95)).toBeGreaterThan(2.85 / n);
    expect(rateAfterQuiet(n, 0.95)).toBeLessThan(3 / n);
    expect(rateAfterQuiet(n, 0.95)).toBeGreaterThan(2.99 / n);
  });
  it('is one end only: the two-sided interval after none of 60 reaches further', () => {
    expect(clopperPearson(0, 60, 0.95).high).toBeGreaterThan(upperAfterClean(60, 0.95));
    expect(clopperPearson(0, 60, 0.9).high).toBeCloseTo(upperAfterClean(60, 0.95), 12);
  });
});

it('Bayes: even odds and a run that comes by chance once in twenty make 20 to 1', () => {
  expect(mendedAfter(0.5, 0.05)).toBeCloseTo(20 / 21, 12);
  expect(mendedAfter(0.5, 1)).toBe(0.5);
});
