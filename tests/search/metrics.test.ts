import { describe, expect, test } from 'vitest';
import { dcg, mean, ndcg, recall, reciprocalRank } from './set/metrics';

describe('measures of a ranking', () => {
  // scikit-learn documentation, examples of dcg_score and ndcg_score: linear gain; printed to two places, exact values recomputed.
  const first = [5, 1, 0, 0, 10];
  const second = [0, 0, 1, 10, 5];
  test('DCG as in the examples of scikit-learn', () => {
    expect(dcg(first)).toBeCloseTo(9.499457826, 8);
    expect(dcg(first, 2)).toBeCloseTo(5.630929754, 8);
  });
  test('nDCG as in the examples of scikit-learn', () => {
    expect(ndcg(first, first, 5)).toBeCloseTo(0.6956940444, 9);
    expect(ndcg(second, second, 5)).toBeCloseTo(0.4936801914, 9);
    expect(ndcg(second, second, 4)).toBeCloseTo(0.3520241101, 9);
    expect(ndcg([10, 5, 1, 0, 0], second, 4)).toBe(1);
  });
  // Encyclopaedia article "Discounted cumulative gain": from memory, recomputed.
  test('DCG as in the encyclopaedia', () => {
    const shown = [3, 2, 3, 0, 1, 2];
    expect(dcg(shown)).toBeCloseTo(6.861, 3);
    expect(ndcg(shown, shown, 6)).toBeCloseTo(0.961, 3);
    expect(ndcg(shown, [...shown, 3, 2], 6)).toBeCloseTo(0.785, 3);
  });
  // E. M. Voorhees, TREC-8 QA report (1999), as in the encyclopaedia article "Mean reciprocal rank": ranks 3, 2, 1 give 11/18.
  test('mean reciprocal rank', () => {
    expect(
      mean(
        [
          [0, 0, 1],
          [0, 1, 0],
          [1, 1, 0],
        ].map((shown) => reciprocalRank(shown)),
      ),
    ).toBeCloseTo(11 / 18, 12);
    expect(reciprocalRank([0, 0])).toBe(0);
  });
  // Masaryk University PV211 examination, spring 2019: RNNRR of 10 relevant has recall 0.3, NRRNNN of 3 has 0.6667.
  test('recall', () => {
    expect(recall([1, 0, 0, 1, 1], Array(10).fill(1), 20)).toBeCloseTo(0.3, 12);
    expect(recall([0, 1, 1, 0, 0, 0], [1, 1, 1], 6)).toBeCloseTo(0.6667, 4);
  });
  test('more relevant ones than places cannot all be shown', () => {
    expect(recall([1, 1], [1, 1, 1, 1], 2)).toBe(1);
    expect(ndcg([], [0, 0], 10)).toBe(0);
  });
});
