/** Laws of conflicts and hitting sets against plain enumeration, and conflicts of switch paths under hard open faults. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { minimalConflicts, minimalDiagnoses, pathConflicts } from '@/lib/core/diagnosis/conflicts';
import { compareSets, minimalHittingSets, minimalSets } from '@/lib/core/diagnosis/hitting-sets';

fc.configureGlobal({ seed: 1987 }); // the same cases at every run

const letters = [...'abcdefghij'];
const conflictsOf = (minLength: number) =>
  fc.array(fc.uniqueArray(fc.constantFrom(...letters), { minLength, maxLength: 6 }), { maxLength: 8 });
const subsetsOf = (elements: readonly string[]): string[][] =>
  Array.from({ length: 2 ** elements.length }, (_, bits) => elements.filter((_, i) => (bits >> i) & 1));
const within = (small: readonly string[], large: readonly string[]) => small.every((element) => large.includes(element));
const hitsAll = (set: readonly string[], conflicts: readonly (readonly string[])[]) =>
  conflicts.every((conflict) => conflict.some((element) => set.includes(element)));
/** Slow and obvious. */
const minimalOnes = (sets: readonly string[][]) =>
  sets.filter((set) => !sets.some((other) => other.length < set.length && within(other, set))).sort(compareSets);

describe('minimal hitting sets', () => {
  it('are those of plain enumeration, in order, whatever conflicts contain one another', () => {
    fc.assert(
      fc.property(conflictsOf(0), (conflicts) => {
        const expected = minimalOnes(subsetsOf(letters).filter((set) => hitsAll(set, conflicts)));
        expect(minimalHittingSets(conflicts)).toEqual(expected);
      }),
      { numRuns: 300 },
    );
  });

  it('hit every conflict, and lose one when any element is left out', () => {
    fc.assert(
      fc.property(conflictsOf(1), (conflicts) => {
        for (const set of minimalHittingSets(conflicts)) {
          expect(hitsAll(set, conflicts)).toBe(true);
          for (const element of set)
            expect(
              hitsAll(
                set.filter((other) => other !== element),
                conflicts,
              ),
            ).toBe(false);
        }
      }),
    );
  });

  it('of the minimal hitting sets are the minimal conflicts', () => {
    fc.assert(
      fc.property(conflictsOf(1), (conflicts) => {
        expect(minimalHittingSets(minimalHittingSets(conflicts))).toEqual(minimalSets(conflicts));
      }),
    );
  });

  it('within limits are the first ones of all', () => {
    fc.assert(
      fc.property(conflictsOf(1), fc.nat(5), fc.nat(12), (conflicts, atMost, limit) => {
        const all = minimalHittingSets(conflicts);
        expect(minimalHittingSets(conflicts, { atMost, limit })).toEqual(all.filter((set) => set.length <= atMost).slice(0, limit));
      }),
    );
  });

  it('do not depend on the order of conflicts and elements', () => {
    fc.assert(
      fc.property(
        conflictsOf(0).chain((conflicts) =>
          fc.tuple(fc.constant(conflicts), fc.shuffledSubarray(conflicts, { minLength: conflicts.length })),
        ),
        ([conflicts, shuffled]) => {
          expect(minimalHittingSets(shuffled.map((set) => [...set].reverse()))).toEqual(minimalHittingSets(conflicts));
        },
      ),
    );
  });

  it('of nothing is the empty set, of an empty conflict there is none', () => {
    expect(minimalHittingSets([])).toEqual([[]]);
    expect(minimalHittingSets([['a'], []])).toEqual([]);
    expect(minimalSets([['b', 'a', 'b'], ['a', 'b'], ['a', 'b', 'c'], ['d']])).toEqual([['d'], ['a', 'b']]);
  });

  it('of two hundred elements in thirty conflicts come within the time of a test when the size is capped', () => {
    const conflicts = Array.from({ length: 30 }, (_, i) => [
      `hub ${i % 4}`,
      ...Array.from({ length: 20 }, (_, j) => `e${(i * 37 + j * j * 7 + j) % 200}`),
    ]);
    expect(new Set(conflicts.flat()).size).toBe(204);
    const found = minimalHittingSets(conflicts, { atMost: 4 });
    expect(found).toContainEqual(['hub 0', 'hub 1', 'hub 2', 'hub 3']);
    for (const set of found) expect(hitsAll(set, conflicts)).toBe(true);
    const apart = Array.from({ length: 30 }, (_, i) => Array.from({ length: 6 }, (_, j) => `c${i}.${j}`)); // 6^30 answers
    expect(minimalHittingSets(apart, { limit: 3 })).toHaveLength(3);
  });
});

describe('minimal conflicts of a system', () => {
  /** A system given by its hidden conflicts: impossible as soon as one of them is assumed healthy. */
  const hidden = (conflicts: readonly (readonly string[])[]) => (healthy: ReadonlySet<string>) =>
    !conflicts.some((conflict) => conflict.every((component) => healthy.has(component)));

  it('are found whatever they are, and the diagnoses with them', () => {
    fc.assert(
      fc.property(conflictsOf(0), (conflicts) => {
        const consistent = hidden(conflicts);
        expect(minimalConflicts(letters, consistent)).toEqual(minimalSets(conflicts));
        const diagnoses = minimalOnes(
          subsetsOf(letters).filter((broken) => consistent(new Set(letters.filter((c) => !broken.includes(c))))),
        );
        expect(minimalDiagnoses(letters, consistent)).toEqual(diagnoses);
      }),
    );
  });

  it('are none when nothing is wrong, and the empty one when nothing can explain it', () => {
    expect(minimalConflicts(letters, () => true)).toEqual([]);
    expect(minimalDiagnoses(letters, () => true)).toEqual([[]]);
    expect(minimalConflicts(letters, () => false)).toEqual([[]]);
    expect(minimalDiagnoses(letters, () => false)).toEqual([]);
  });
});

describe('conflicts of switch paths', () => {
  // Three columns, three rows; column 4's terminal A3P4-7 is on the way of 41, 42, 43, and so on.
  const numbers = [4, 5, 6].flatMap((c) => [1, 2, 3].map((r) => `${c}${r}`));
  const paths = new Map(numbers.map((n) => [n, [`driver ${n[0]}`, `terminal ${n[0]}`, `contact ${n}`, `diode ${n}`, `input ${n[1]}`]]));

  it('one dead switch with good mates: only its own parts are left', () => {
    const { conflicts, unexplained } = pathConflicts(paths, ['42'], ['41', '52']);
    expect(conflicts).toEqual([{ elements: ['contact 42', 'diode 42'], numbers: ['42'] }]);
    expect(unexplained).toEqual([]);
  });

  it('two dead in one column: one shared part, or one part of each', () => {
    const { conflicts } = pathConflicts(paths, ['41', '42'], ['51', '52']);
    expect(conflicts.map((c) => c.numbers)).toEqual([['41'], ['42']]);
    const sets = minimalHittingSets(conflicts.map((c) => c.elements));
    expect(sets.filter((set) => set.length === 1)).toEqual([['driver 4'], ['terminal 4']]);
    expect(sets).toHaveLength(2 + 2 * 2);
  });

  it('a dead switch whose every part serves a good one is named', () => {
    const split = new Map([...paths, ['90', ['driver 4', 'input 1']]]);
    const { conflicts, unexplained } = pathConflicts(split, ['90', '53'], ['41']);
    expect(conflicts.map((c) => c.numbers)).toEqual([['53']]);
    expect(unexplained.map((u) => u.number)).toEqual(['90']);
    expect(unexplained[0]?.message).toMatch(/switch 90 .*no hard break explains it/);
  });

  it('says so when a switch is both dead and good, or not in the chart', () => {
    const { unexplained } = pathConflicts(paths, ['41', '99'], ['41']);
    expect(unexplained.map((u) => u.message)).toEqual([
      expect.stringMatching(/41.*both as dead and as good/),
      expect.stringMatching(/no path for switch 99/),
    ]);
  });

  it('leaves out what another conflict already says, and names everyone who says the same', () => {
    const chain = new Map([
      ['1', ['plug', 'hop 1']],
      ['2', ['hop 1', 'plug']],
      ['3', ['plug', 'hop 1', 'hop 2']],
    ]);
    expect(pathConflicts(chain, ['1', '2', '3', '1'], []).conflicts).toEqual([{ elements: ['hop 1', 'plug'], numbers: ['1', '2'] }]);
  });

  it('agrees with the general definition: hard open faults and nothing else', () => {
    const elements = [...new Set([...paths.values()].flat())];
    fc.assert(
      fc.property(fc.uniqueArray(fc.constantFrom(...elements), { maxLength: 3 }), fc.subarray(numbers), (broken, tested) => {
        const isDead = (n: string) => (paths.get(n) ?? []).some((element) => broken.includes(element));
        const dead = tested.filter(isDead);
        const good = tested.filter((n) => !isDead(n));
        const whole = new Set(good.flatMap((n) => paths.get(n) ?? []));
        const suspects = elements.filter((element) => !whole.has(element));
        const consistent = (healthy: ReadonlySet<string>) =>
          dead.every((n) => (paths.get(n) ?? []).some((element) => !whole.has(element) && !healthy.has(element)));
        const { conflicts, unexplained } = pathConflicts(paths, dead, good);
        expect(unexplained).toEqual([]); // what was broken explains what was seen
        expect(conflicts.map((c) => c.elements)).toEqual(minimalConflicts(suspects, consistent));
        // the truth contains one of the explanations
        const explanations = minimalHittingSets(
          conflicts.map((c) => c.elements),
          { atMost: 3 },
        );
        expect(explanations.some((set) => within(set, broken))).toBe(true);
      }),
      { numRuns: 60 },
    );
  });
});
