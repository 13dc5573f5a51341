/** The posterior by enumeration: its laws, and the fast posterior over pairs against it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Mode, Probe } from '@/lib/core/diagnosis/types';
import { type Field, weigh } from '@/lib/core/diagnosis/weigh';
import { bits, expectedAfter, posterior, type Suspect, sharesOf } from '../reference/subsets';

fc.configureGlobal({ seed: 1987 }); // the same cases at every run

const ids = (modes: readonly { id: string }[]) => modes.map((mode) => mode.id);
const close = (value: number | undefined, expected: number | undefined, what: string) =>
  expect(Math.abs((value ?? 0) - (expected ?? 0)), `${what}: ${value} for ${expected}`).toBeLessThan(1e-9);

describe('by enumeration', () => {
  const three: Suspect[] = ['a', 'b', 'c'].map((id) => ({ id, element: id, odds: 1 }));
  const always = () => 1;

  it('counts every set once; modes of one element exclude each other', () => {
    expect(posterior({ modes: three, atMost: 3, given: always })?.candidates).toHaveLength(8);
    const twoOfA = [...three, { id: 'a2', element: 'a', odds: 1 }];
    const known = posterior({ modes: twoOfA, atMost: 4, given: always });
    expect(known?.candidates).toHaveLength(3 * 2 * 2);
    close(known?.elements.get('a'), 2 / 3, 'a');
    close(known?.modes.get('a2'), 1 / 3, 'a2');
    close(known?.entropy, Math.log2(12), 'entropy');
  });

  it('tries larger sets among the shortlist only', () => {
    const known = posterior({ modes: three, atMost: 1, shortlist: { ids: new Set(['a', 'c']), atMost: 2 }, given: always });
    expect(known?.candidates.map((c) => ids(c.modes).join(''))).toEqual(['', 'a', 'b', 'c', 'ac']);
  });

  it('is null when nothing considered can have done it', () => {
    expect(posterior({ modes: three, atMost: 1, given: (modes) => (modes.length === 2 ? 1 : 0) })).toBeNull();
  });

  it('a measurement that tells everything apart leaves nothing, one that tells nothing teaches nothing', () => {
    const known = posterior({ modes: three, atMost: 1, given: always });
    if (!known) throw new Error('impossible');
    const order = known.candidates.map((c) => ids(c.modes).join(''));
    const all = expectedAfter(known, (modes) => order.map((name) => (name === ids(modes).join('') ? 1 : 0)));
    close(all.entropy, 0, 'entropy');
    close(all.gain, 2, 'gain');
    close(expectedAfter(known, () => [0.3, 0.7]).gain, 0, 'gain of noise');
  });

  it('gain is the mutual information: the other way round it is the same', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0.01, max: 0.99, noNaN: true }), { minLength: 8, maxLength: 8 }), (chances) => {
        const known = posterior({ modes: three, atMost: 3, given: always });
        if (!known) throw new Error('impossible');
        const chanceOf = (modes: readonly Suspect[]) => {
          const yes = chances[ids(modes).reduce((n, id) => n + 2 ** 'abc'.indexOf(id), 0)] ?? 0;
          return [yes, 1 - yes];
        };
        const { outcomes, gain } = expectedAfter(known, chanceOf);
        const noise = known.candidates.reduce((sum, c) => sum + c.probability * bits(chanceOf(c.modes)), 0);
        close(gain, bits(outcomes.map((o) => o.chance)) - noise, 'gain');
      }),
    );
  });
});

describe('the fast posterior over pairs agrees with enumeration', () => {
  interface Case {
    field: Field;
    probes: Probe[];
    chance(modes: readonly Mode[]): number;
  }
  /** A chance for each set of keys, drawn from a list: any table of chances is a possible machine. */
  const tableOf = (draws: readonly number[], salt: number) => (modes: readonly Mode[]) => {
    const name = modes
      .map((mode) => mode.key)
      .sort()
      .join('|');
    let hash = salt;
    for (const letter of name) hash = (Math.imul(hash, 31) + letter.charCodeAt(0)) >>> 0;
    return draws[hash % draws.length] ?? 0;
  };
  const cases = (keys: 'distinct' | 'shared', impossible: boolean) =>
    fc
      .record({
        modes: fc.array(
          fc.record({
            element: fc.nat(5),
            group: fc.option(fc.constantFrom('A3P4', 'A3P5'), { nil: undefined }),
            weight: fc.integer({ min: 1, max: 40 }),
          }),
          { minLength: 1, maxLength: 9 },
        ),
        draws: fc.array(fc.integer({ min: impossible ? 0 : 1, max: 20 }), { minLength: 7, maxLength: 23 }),
        nothing: fc.integer({ min: 1, max: 20 }),
        pair: fc.constantFrom(0.01, 0.05, 0.3),
        together: fc.constantFrom(1, 3, 10),
        focus: fc.nat(63),
      })
      .map(({ modes, draws, nothing, pair, together, focus }): Case => {
        // The group belongs to the element, as in a machine.
        const groups = new Map(modes.map((mode) => [mode.element, mode.group]));
        const made = modes.map(({ element, weight }, i): Mode => {
          const group = groups.get(element);
          const key = keys === 'distinct' ? `k${i}` : `k${i % 3}`;
          return { id: `m${i}`, element: `e${element}`, weight: weight / 10, key, ...(group ? { group } : {}) };
        });
        const chance = tableOf(
          draws.map((draw) => draw / 20),
          7,
        );
        const probes = [11, 13].map((salt, k): Probe => {
          const of = tableOf(
            draws.map((draw) => draw / 21),
            salt,
          );
          const chances = (present: readonly Mode[]) =>
            k === 0 ? [of(present), 1 - of(present)] : [of(present) / 2, of(present) / 2, 1 - of(present)];
          const outcomes = Array.from({ length: k + 2 }, (_, o) => ({ id: `o${o}`, label: `${o}` }));
          return { id: `test ${k}`, title: '', minutes: 1, power: 'off', hazard: 0, outcomes, chance: chances };
        });
        const focused = (element: string) => ((focus >> Number(element.slice(1))) & 1) === 1;
        return {
          field: { modes: made, nothing: nothing / 10, pair, together, given: (set) => Math.log(chance(set)), focus: focused },
          probes,
          chance,
        };
      });

  const enumerate = ({ field, chance }: Case) => {
    const byId = new Map(field.modes.map((mode) => [mode.id, mode]));
    const real = (set: readonly Suspect[]) => set.map((mode) => byId.get(mode.id) as Mode);
    const prior = (set: readonly Suspect[]) => {
      const [a, b] = real(set);
      if (!a) return field.nothing;
      if (!b) return a.weight;
      return field.pair * (a.group !== undefined && a.group === b.group ? field.together : 1) * a.weight * b.weight;
    };
    const modes = field.modes.map(({ id, element, weight }) => ({ id, element, odds: weight }));
    const known = posterior({ modes, atMost: 2, prior, given: (set) => chance(real(set)) });
    const focus = (set: readonly Suspect[]) => set.filter((mode) => field.focus(mode.element));
    // Single culprits are told apart by element, pairs by their modes.
    const cell = (set: readonly Suspect[]) => (focus(set).length === 1 ? (focus(set)[0]?.element ?? '') : ids(focus(set)).sort().join('+'));
    return { known, real, focus, cell };
  };

  it.each(['distinct', 'shared'] as const)('chances of elements, modes, nothing, one alone, pairs (%s keys)', (keys) => {
    fc.assert(
      fc.property(cases(keys, true), (one) => {
        const { known, focus } = enumerate(one);
        fc.pre(known !== null);
        if (!known) return;
        const fast = weigh(one.field, []);
        for (const [id, share] of known.modes) close(fast.modes.get(id), share, id);
        for (const [id, share] of known.elements) close(fast.elements.get(id), share, id);
        close(fast.none, known.candidates.find((c) => c.modes.length === 0)?.probability, 'none');
        const only = sharesOf(known, (set) => (focus(set).length === 1 ? (focus(set)[0]?.element ?? '') : ''));
        for (const mode of one.field.modes)
          if (one.field.focus(mode.element)) close(fast.only.get(mode.element), only.get(mode.element), `only ${mode.element}`);
        close(fast.pairs, sharesOf(known, (set) => String(focus(set).length)).get('2'), 'pairs');
      }),
      { numRuns: 200 },
    );
  });

  it('entropy of the culprits, and what each test teaches (distinct keys)', () => {
    fc.assert(
      fc.property(cases('distinct', false), (one) => {
        const { known, real, cell } = enumerate(one);
        if (!known) throw new Error('impossible');
        const fast = weigh(one.field, one.probes);
        close(fast.entropy, bits(sharesOf(known, cell).values()), 'entropy');
        for (const [k, probe] of one.probes.entries()) {
          const { outcomes, gain } = expectedAfter(known, (set) => probe.chance(real(set)), cell);
          close(fast.gains[k]?.bits, gain, probe.id);
          for (const [o, outcome] of outcomes.entries()) close(fast.gains[k]?.chance[o], outcome.chance, `${probe.id} ${o}`);
        }
      }),
      { numRuns: 200 },
    );
  });
});
