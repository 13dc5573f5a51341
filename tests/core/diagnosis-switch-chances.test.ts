/** Laws of the chance of everything seen: quick sums against the plain one, modes that are merged, order, clean presses. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Case, caseOf, type Seen } from '@/lib/core/diagnosis/switch/case';
import type { Weighable } from '@/lib/core/diagnosis/switch/chances';
import { weigh } from '@/lib/core/diagnosis/weigh';
import { random } from '../simulator/random';
import { arbitrarySeen, type Kinds, usual } from './diagnosis-switch-cases';
import { kestrel, lantern, orchard, wiringFor } from './diagnosis-switch-charts';

const modesOf = (about: Case) => about.field.modes as readonly Weighable[];
/** Lists of modes that share a key. */
function alike(about: Case): Weighable[][] {
  const lists = new Map<string, Weighable[]>();
  for (const mode of modesOf(about)) lists.set(mode.key, [...(lists.get(mode.key) ?? []), mode]);
  return [...lists.values()].filter((list) => list.length > 1);
}
const permutes = ({ effect }: Weighable) => effect.does === 'exchanged' || effect.does === 'shifted';
/** Of pairs: as many with forcing and with intermittent members as chance gives, and as many again of each. */
function pairsOf(about: Case, count: number): [Weighable, Weighable][] {
  const chance = random(31);
  const all = modesOf(about);
  const pools = [all, all.filter((m) => m.effect.does !== 'cut'), all.filter((m) => m.behaviour !== 'hard')].filter(
    (pool) => pool.length > 0,
  );
  const pairs: [Weighable, Weighable][] = [];
  for (let tries = 0; tries < 4 * count && pairs.length < count; tries++) {
    const [a, b] = [chance.pick(chance.pick(pools)), chance.pick(chance.pick(pools))];
    // Two permutations at once: see diagnosis-switch-doubts.test.ts.
    if (a.element !== b.element && !(permutes(a) && permutes(b))) pairs.push([a, b]);
  }
  return pairs;
}
/** Below the best single fault by this much a pair is given any value that is no less than its own. */
const hopeless = 40;

/** Where the quick chance of a pair is not that of the plain sum. */
function wrongPairs(about: Case, count: number): string[] {
  const { given, both } = about.field;
  if (!both) throw new Error('No quick chances.');
  const modes = modesOf(about);
  const best = Math.max(given([]), ...modes.map((mode) => given([mode])));
  return pairsOf(about, count).flatMap(([a, b]) => {
    const quick = both(a, b, best - hopeless);
    const plain = given([a, b]);
    const bound = typeof quick === 'number' ? quick : quick.most;
    const exact = typeof quick === 'number' && quick > best - hopeless;
    const fine = plain <= bound + 1e-9 && (!exact || Math.abs(plain - quick) < 1e-9) && Math.abs(plain - given([b, a])) < 1e-9;
    return fine ? [] : [`${a.id} & ${b.id}: ${JSON.stringify(quick)} for ${plain}, turned round ${given([b, a])}`];
  });
}
const charts = { lantern, kestrel, orchard };
const quick = (chart: keyof typeof charts, kinds: Kinds, numRuns: number) =>
  fc.assert(
    fc.property(arbitrarySeen(wiringFor(charts[chart]), kinds), (seen) => {
      expect(wrongPairs(caseOf(charts[chart], seen, {}), 300)).toEqual([]);
    }),
    { numRuns },
  );

describe('the quick chance of a pair', () => {
  it.each(['lantern', 'kestrel', 'orchard'] as const)('%s: is exact or a bound, and the same turned round', (chart) =>
    quick(chart, usual, 8),
  );
});

describe('modes with one key', () => {
  it('have the same chance alone and beside any cut, and nearly always beside what forces', () => {
    let compared = 0;
    const unlike: string[] = [];
    fc.assert(
      fc.property(arbitrarySeen(wiringFor(lantern)), (seen) => {
        const about = caseOf(lantern, seen, {});
        const { given } = about.field;
        const chance = random(8);
        const all = modesOf(about);
        for (const [first, second] of alike(about).slice(0, 30)) {
          if (!first || !second) continue;
          expect(given([first]), `${first.id} ~ ${second.id}`).toBeCloseTo(given([second]), 9);
          for (let i = 0; i < 8; i++) {
            const third = chance.pick(all);
            if (third.element === first.element || third.element === second.element) continue;
            const [one, two] = [given([first, third]), given([second, third])];
            const what = `${first.id} ~ ${second.id} beside ${third.id}`;
            if (third.effect.does === 'cut') expect(one, what).toBeCloseTo(two, 9);
            else {
              compared++;
              if (Math.abs(one - two) > 1e-9) unlike.push(`${what}: ${one} and ${two}`);
            }
          }
        }
      }),
      { numRuns: 12 },
    );
    // A break decides which other numbers a short brings up: the one mode that stands for its key may not be the right one.
    expect(compared).toBeGreaterThan(100);
    expect(unlike.length / compared, unlike.slice(0, 5).join('; ')).toBeLessThan(0.02);
  });
  it('have the same chances in every test that is offered', () => {
    fc.assert(
      fc.property(arbitrarySeen(wiringFor(lantern)), (seen) => {
        const about = caseOf(lantern, seen, {});
        for (const [first, second] of alike(about)) {
          if (!first || !second) continue;
          for (const probe of about.probes)
            for (const [k, chance] of probe.chance([first]).entries())
              expect(Math.abs(chance - (probe.chance([second])[k] ?? 0)), `${probe.id}: ${first.id} ~ ${second.id}`).toBeLessThan(1.1e-3);
        }
      }),
      { numRuns: 8 },
    );
  });
});

describe('the posterior', () => {
  const shares = (seen: Seen) => {
    const about = caseOf(lantern, seen, {});
    return { about, weighed: weigh(about.field, about.probes) };
  };
  it('shares out one whole: none, one alone, two; and every test’s outcomes', () => {
    fc.assert(
      fc.property(arbitrarySeen(wiringFor(lantern), { ...usual, hold: true }), (seen) => {
        const { about, weighed } = shares(seen);
        const alone = [...weighed.only.values()].reduce((sum, share) => sum + share, 0);
        expect(weighed.none + alone + weighed.pairs).toBeLessThanOrEqual(1 + 1e-9);
        expect(weighed.entropy).toBeGreaterThanOrEqual(0);
        for (const [element, share] of weighed.elements) {
          expect(share).toBeGreaterThanOrEqual(-1e-12);
          expect(share).toBeLessThanOrEqual(1 + 1e-9);
          const own = modesOf(about).filter((mode) => mode.element === element);
          expect(own.reduce((sum, mode) => sum + (weighed.modes.get(mode.id) ?? 0), 0)).toBeCloseTo(share, 9);
        }
        for (const { chance, bits } of weighed.gains) {
          expect(chance.reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 6);
          expect(bits).toBeLessThanOrEqual(weighed.entropy + 1e-6);
        }
      }),
      { numRuns: 4 },
    );
  });
  it('does not depend on the order in which things were seen', () => {
    fc.assert(
      fc.property(arbitrarySeen(wiringFor(lantern), { ...usual, hold: true }), fc.integer(), (seen, seed) => {
        const chance = random(seed);
        const turned = { ...seen, observations: chance.shuffled(seen.observations), results: chance.shuffled(seen.results) };
        const [one, two] = [shares(seen).weighed, shares(turned).weighed];
        for (const [element, share] of one.elements) expect(two.elements.get(element) ?? 0).toBeCloseTo(share, 3);
      }),
      { numRuns: 4 },
    );
  });
  it('one more clean press never raises a break that would have missed it', () => {
    fc.assert(
      fc.property(arbitrarySeen(wiringFor(lantern)), fc.constantFrom(...lantern.circuits.map((c) => c.number)), (seen, number) => {
        const before = shares(seen).weighed;
        const press = { kind: 'presses' as const, number, presses: 1, missed: 0, how: 'hand' as const, others: [] };
        const { about, weighed: after } = shares({ ...seen, observations: [...seen.observations, press] });
        for (const mode of modesOf(about)) {
          const serves = about.network.elements.get(mode.element)?.serves.has(number) ?? false;
          if (mode.behaviour !== 'hard' || mode.effect.does !== 'cut' || !serves || about.wiring.normallyClosed.has(number)) continue;
          const was = before.modes.get(mode.id);
          if (was !== undefined) expect(after.modes.get(mode.id) ?? 0, mode.id).toBeLessThanOrEqual(was + 1e-3);
        }
      }),
      { numRuns: 6 },
    );
  });
});
