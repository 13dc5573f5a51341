/**
 * The fault finder on a few dozen simulated machines, its own advice followed. The bounds are far below what the bench shows for thousands
 * (`npm run bench -- diagnosis`): of 24 cases with a chance of 0.95 each, fewer than 20 come right once in two hundred.
 */
import { describe, expect, it } from 'vitest';
import { networkOf } from '@/lib/core/diagnosis';
import { faultSpace } from '@/lib/core/diagnosis/switch/modes';
import { simCase } from './cases';
import { noErrors } from './errors';
import { solveCase } from './follow';
import { elementsWith } from './places';
import type { Possible } from './possible';

const first = 0;
const cases = 24;
const least = 20;
const solved = Array.from({ length: cases }, (_, i) => {
  const one = simCase(first + i, { shown: true });
  const result = solveCase(one);
  return { one, ...result, listed: result.truthRank <= result.listed };
});
const told = (some: typeof solved) => some.map(({ one, truthRank }) => `seed ${one.seed}: ${one.place}, place ${truthRank}`);

describe('followed to its end', () => {
  it('has the truth among its first three suspects', () => {
    const lost = solved.filter(({ listed, truthRank }) => !listed || truthRank > 3);
    expect(lost.length, told(lost).join('; ')).toBeLessThanOrEqual(cases - least);
  });
  it('is right when it says that it has found it', () => {
    const found = solved.filter(({ stopped }) => stopped === 'found');
    const wrong = found.filter(({ truthRank }) => truthRank > 1);
    expect(found.length).toBeGreaterThan(4);
    // A share of 95 % may be wrong once in twenty: of fifteen, more than two once in thirty.
    expect(wrong.length, told(wrong).join('; ')).toBeLessThanOrEqual(2);
  });
  it('asks no test twice but presses', () => {
    for (const { asked } of solved) {
      const bench = asked.map(({ test }) => test).filter((test) => !/^(press|ball) /.test(test));
      expect(new Set(bench).size).toBe(bench.length);
    }
  });
  it('stops', () => {
    for (const { one, tests, stopped } of solved) expect(tests, `seed ${one.seed}, ${stopped}`).toBeLessThanOrEqual(26);
  });
});

describe('without errors of people and meters', () => {
  it('finds every contact that never closes', () => {
    const hard = solved.flatMap(({ one }) =>
      one.truth.sort === 'blade' && one.truth.what.does === 'open' && !one.truth.intermittent ? [one.seed] : [],
    );
    expect(hard.length).toBeGreaterThan(0);
    for (const seed of hard) {
      const { truthRank, stopped } = solveCase(simCase(seed, { shown: true }), { errors: noErrors, thorough: true });
      expect([truthRank, stopped], `seed ${seed}`).toEqual([1, 'found']);
    }
  });
});

describe('places', () => {
  it('all but half a per cent of the odds lie in an element that the fault finder knows', () => {
    let all = 0;
    const missing: Possible[] = [];
    for (const { one } of solved) {
      const { elements } = faultSpace(networkOf(one.chart), { done: [], counts: {} });
      for (const fault of one.possible) {
        all += fault.weight;
        if (!elementsWith(one.chart, fault).some((id) => elements.has(id))) missing.push(fault);
      }
    }
    const share = missing.reduce((sum, { weight }) => sum + weight, 0) / all;
    // What is left: housings, and grounds of direct switches, with a single line.
    expect(share, missing.map(({ place }) => place).join('; ')).toBeLessThan(0.005);
  });
});
