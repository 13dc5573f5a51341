/**
 * Plugs in the wrong place on simulated machines, each sort by itself, after somebody had a plug off. Bounds as in engine.test.ts: of 16 cases
 * with a chance of 0.95 each, fewer than 13 come right once in a hundred and fifty.
 */
import { describe, expect, it } from 'vitest';
import { simCase } from './cases';
import { randomChart } from './charts';
import { solveCase } from './follow';
import { possibleFaults } from './possible';
import { random } from './random';
import { wire } from './wiring';

const sorts = ['shifted', 'turned', 'elsewhere', 'plugsExchanged'] as const;
const cases = 16;
const least = 13;

/** Seeds of machines that can have this fault. */
function* seedsOf(sort: string): Generator<number> {
  for (let seed = 700; ; seed++) if (possibleFaults(wire(randomChart(random(seed)))).some((fault) => fault.sort === sort)) yield seed;
}

const solved = sorts.map((sort) => {
  const seeds = seedsOf(sort);
  const all = Array.from({ length: cases }, () => {
    const one = simCase(seeds.next().value, { shown: true, among: (fault) => fault.sort === sort });
    return { one, ...solveCase(one, { done: ['plug-off'] }) };
  });
  return [sort, all] as const;
});

describe.each(solved)('%s', (_, all) => {
  it('is among the first three suspects', () => {
    const lost = all.filter(({ truthRank, listed }) => truthRank > Math.min(3, listed));
    const told = lost.map(({ one, truthRank }) => `seed ${one.seed}: ${one.place}, place ${truthRank}`);
    expect(lost.length, told.join('; ')).toBeLessThanOrEqual(cases - least);
  });
  it('is told apart from its rivals, mostly', () => {
    expect(all.filter(({ stopped, truthRank }) => stopped === 'found' && truthRank === 1).length).toBeGreaterThan(cases / 2);
  });
});

// Shifted or turned, the wrong number that comes up tells it already.
describe.each(solved.filter(([sort]) => sort === 'elsewhere' || sort === 'plugsExchanged'))('%s', (_, all) => {
  it('has the plug looked at', () => {
    expect(all.filter(({ asked }) => asked.some(({ test }) => test.startsWith('plug '))).length).toBeGreaterThan(cases / 2);
  });
});
