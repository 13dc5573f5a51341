/**
 * The worked example of our own fault model: two columns, two rows, hard open faults only, fixed rates; and its intermittent pair.
 * Figures from a separate script over all 211 hypotheses, partly by hand; no outside source. Here through plain enumeration, so that
 * the engine is checked against two others.
 */
import { describe, expect, it } from 'vitest';
import { bits, expectedAfter, type Posterior, posterior, type Suspect, sharesOf } from './subsets';

const whole = 0.98; // registers though nothing is broken in its path
const broken = 0.01;
const again = 0.01; // ρ
const weights = { driver: 0.3, joint: 1, input: 0.3, contact: 2, lead: 1, diode: 0.5 };

const shared = ['1', '2'].flatMap((n) => [`driver C${n}`, `joint C${n}`, `joint R${n}`, `input R${n}`]);
const cells = ['11', '12', '21', '22'];
const own = cells.flatMap((cell) => ['contact', 'lead', 'diode'].map((part) => `${part} ${cell}`));
const modes: Suspect[] = [...shared, ...own].map((id) => ({ id, element: id, odds: weights[id.split(' ')[0] as keyof typeof weights] }));
const pathOf = (cell: string) => [
  ...[`driver C${cell[0]}`, `joint C${cell[0]}`, `joint R${cell[1]}`, `input R${cell[1]}`],
  ...[`contact ${cell}`, `lead ${cell}`, `diode ${cell}`],
];
const registers = (needs: readonly string[]) => (present: readonly Suspect[]) =>
  present.some((m) => needs.includes(m.id)) ? broken : whole;
const path11 = pathOf('11');
const press = (cell: string) => registers(pathOf(cell));
const tests = {
  T1: { chance: press('12'), minutes: 0.3 },
  T2: { chance: press('21'), minutes: 0.3 },
  T3: { chance: registers(['driver C1', 'joint C1', 'joint R1', 'input R1']), minutes: 3 }, // column pin to row pin
  T4: { chance: registers(path11.filter((id) => id !== 'contact 11')), minutes: 1.5 }, // across the contact
  T5: { chance: registers(['diode 11']), minutes: 4 },
};
type TestId = keyof typeof tests;

const culprits = (present: readonly Suspect[]) =>
  present
    .map((m) => m.id)
    .filter((id) => path11.includes(id))
    .join(' + ');
/** S11 missed 5 of 5, then these tests registered. */
function knowing(registered: readonly TestId[], atMost = 2): Posterior {
  const known = posterior({
    modes,
    atMost,
    prior: (set) => set.reduce((product, mode) => product * mode.odds, 1) * (set.length === 2 ? again : 1),
    given: (set) => registered.reduce((product, id) => product * tests[id].chance(set), (1 - press('11')(set)) ** 5),
  });
  if (!known) throw new Error('impossible');
  return known;
}
const learn = (known: Posterior, id: TestId) => expectedAfter(known, (set) => [tests[id].chance(set), 1 - tests[id].chance(set)], culprits);
const pairShare = (shares: ReadonlyMap<string, number>) => [...shares].reduce((sum, [name, p]) => sum + (name.includes('+') ? p : 0), 0);
/** Printed with four decimals. */
const four = (value: number | undefined, figure: number, what: string) =>
  expect(Math.abs((value ?? Number.NaN) - figure), `${what}: ${value}`).toBeLessThanOrEqual(0.5001e-4);

describe('S11 dead: worked example of the fault model (our own, computed)', () => {
  it('has 20 elements, weight 19.2, 211 hypotheses', () => {
    expect(modes).toHaveLength(20);
    expect(modes.reduce((sum, mode) => sum + mode.odds, 0)).toBeCloseTo(19.2, 12);
    const known = posterior({ modes, atMost: 2, given: () => 1 });
    expect(known?.candidates).toHaveLength(211);
  });

  it('step 1: posterior of the seven elements, entropy, what each test teaches', () => {
    const known = knowing([]);
    const shares = sharesOf(known, culprits);
    const exactly = {
      contact: 0.3209,
      'joint C1': 0.1605,
      'joint R1': 0.1605,
      lead: 0.1605,
      diode: 0.0802,
      'driver C1': 0.0481,
      'input R1': 0.0481,
    };
    const marginal = {
      contact: 0.3326,
      'joint C1': 0.1677,
      'joint R1': 0.1677,
      lead: 0.1677,
      diode: 0.0842,
      'driver C1': 0.0506,
      'input R1': 0.0506,
    };
    const id = (name: string) => (name.includes(' ') ? name : `${name} 11`);
    for (const [name, figure] of Object.entries(exactly)) four(shares.get(id(name)), figure, name);
    for (const [name, figure] of Object.entries(marginal)) four(known.elements.get(id(name)), figure, `${name} in Z`);
    four(pairShare(shares), 0.0211, 'any pair');
    four(bits(shares.values()), 2.7112, 'H(Z)');

    const table = {
      T1: [0.7369, 0.5563, 1.8543],
      T2: [0.7369, 0.5563, 1.8543],
      T3: [0.5596, 0.8746, 0.2915],
      T4: [0.3213, 0.8055, 0.537],
      T5: [0.8983, 0.338, 0.0845],
    };
    for (const [test, [chance, gain, rate]] of Object.entries(table) as [TestId, [number, number, number]][]) {
      const { outcomes, gain: bitsGained } = learn(known, test);
      four(outcomes[0]?.chance, chance, `P(${test} registers)`);
      four(bitsGained, gain, `gain of ${test}`);
      four(bitsGained / tests[test].minutes, rate, `${test} a minute`);
    }
  });

  it('step 1 by hand: terms with 0.02⁵ vanish', () => {
    const inside = path11.reduce((sum, id) => sum + (modes.find((m) => m.id === id)?.odds ?? 0), 0);
    expect(inside).toBeCloseTo(6.1, 12);
    const shares = sharesOf(knowing([]), culprits);
    const total = 6.1 * (1 + again * 13.1) + again * 14.89;
    expect(total).toBeCloseTo(7.048, 10);
    four(shares.get('contact 11'), (2 * 1.131) / total, 'contact');
    four(pairShare(shares), 0.1489 / total, 'pairs');
  });

  it('step 2: S12 registers', () => {
    const known = knowing(['T1']);
    const shares = sharesOf(known, culprits);
    const exactly = {
      'contact 11': 0.4089,
      'joint R1': 0.2044,
      'lead 11': 0.2044,
      'diode 11': 0.1022,
      'input R1': 0.0613,
      'joint C1': 0.0022,
    };
    for (const [name, figure] of Object.entries(exactly)) four(shares.get(name), figure, name);
    four(pairShare(shares), 0.0159, 'pairs');
    four(bits(shares.values()), 2.216, 'H(Z)');
    const { outcomes, gain } = learn(known, 'T2');
    four(outcomes[0]?.chance, 0.6824, 'P(T2 registers)');
    four(gain, 0.635, 'gain of T2');
    const rates = { T1: 0.053, T2: 2.1165, T3: 0.2478, T4: 0.5794, T5: 0.1008 };
    for (const [test, rate] of Object.entries(rates) as [TestId, number][])
      four(learn(known, test).gain / tests[test].minutes, rate, `${test} a minute`);
  });

  it('step 3: S21 registers too', () => {
    const known = knowing(['T1', 'T2']);
    const shares = sharesOf(known, culprits);
    const exactly = {
      'contact 11': 0.5614,
      'lead 11': 0.2807,
      'diode 11': 0.1404,
      'contact 11 + lead 11': 0.0054,
      'joint C1': 0.003,
      'joint R1': 0.003,
    };
    for (const [name, figure] of Object.entries(exactly)) four(shares.get(name), figure, name);
    four(pairShare(shares), 0.0098, 'pairs');
    four(bits(shares.values()), 1.529, 'H(Z)');
    const { outcomes, gain } = learn(known, 'T4');
    four(outcomes[0]?.chance, 0.5546, 'P(T4 registers)');
    four(gain, 0.8766, 'gain of T4');
    const rates = { T1: 0.0718, T2: 0.0718, T3: 0.0141, T4: 0.5844, T5: 0.1255 };
    for (const [test, rate] of Object.entries(rates) as [TestId, number][])
      four(learn(known, test).gain / tests[test].minutes, rate, `${test} a minute`);
  });

  it('step 4: with the contact bridged it registers', () => {
    const shares = sharesOf(knowing(['T1', 'T2', 'T4']), culprits);
    for (const [name, figure] of Object.entries({ 'contact 11': 0.9921, 'lead 11': 0.0051, 'diode 11': 0.0025 }))
      four(shares.get(name), figure, name);
    four(bits(shares.values()), 0.0763, 'H(Z)');
  });

  it('single faults only', () => {
    const first = knowing([], 1);
    for (const [name, figure] of Object.entries({
      'contact 11': 0.3279,
      'joint C1': 0.1639,
      'lead 11': 0.1639,
      'diode 11': 0.082,
      'driver C1': 0.0492,
    }))
      four(sharesOf(first, culprits).get(name), figure, name);
    four(bits(sharesOf(first, culprits).values()), 2.5338, 'H(Z)');
    four(learn(first, 'T1').gain, 0.6437, 'gain of T1');
    const third = sharesOf(knowing(['T1', 'T2'], 1), culprits);
    for (const [name, figure] of Object.entries({ 'contact 11': 0.5671, 'lead 11': 0.2836, 'diode 11': 0.1418 }))
      four(third.get(name), figure, name);
  });
});

/** B(a+k, b+n−k)/B(a, b) as the mean of x^k (1−x)^(n−k) under Beta(a, b), by Simpson's rule: nothing in common with our own product. */
function meanChance(a: number, b: number, missed: number, presses: number): number {
  const steps = 20_000;
  const simpson = (k: number, rest: number) => {
    let sum = 0;
    for (let i = 0; i <= steps; i++) {
      const x = i / steps;
      sum += (i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2) * x ** (a - 1 + k) * (1 - x) ** (b - 1 + rest);
    }
    return sum;
  };
  return simpson(missed, presses - missed) / simpson(0, 0);
}
const h = (missed: number, presses: number) => meanChance(1, 49, missed, presses);
const i = (missed: number, presses: number) => meanChance(1, 2, missed, presses);
const figure = (value: number | undefined, printed: number, what: string) =>
  expect(Math.abs((value ?? Number.NaN) / printed - 1), `${what}: ${value}`).toBeLessThan(3e-5);

describe('intermittent example of the fault model (our own, computed)', () => {
  it('building blocks: Beta ratios', () => {
    for (const [missed, presses, printed] of [
      [3, 10, 2.6916e-5],
      [2, 10, 5.0242e-4],
      [0, 10, 0.83051],
    ] as const)
      figure(h(missed, presses), printed, `healthy ${missed}/${presses}`);
    for (const [missed, presses, printed] of [
      [3, 10, 1.0101e-3],
      [2, 10, 3.0303e-3],
      [3, 20, 6.8353e-5],
      [5, 20, 4.4675e-6],
      [0, 10, 0.16667],
    ] as const)
      figure(i(missed, presses), printed, `intermittent ${missed}/${presses}`);
  });

  /** Chance of misses in ten presses each; the elements behind the miss share one rate over the switches they serve. */
  const odds = { 'contact 11': 6, 'contact 12': 6, 'joint C1': 1.05, 'joint R1': 1.05 };
  const serves: Record<string, string[]> = {
    'contact 11': ['11'],
    'contact 12': ['12'],
    'joint C1': ['11', '12'],
    'joint R1': ['11', '21'],
  };
  const quiet = (id: string) => (id.startsWith('contact') ? 0.1 : 0.3);
  const listed = (among: readonly string[], missed: Record<string, number>) => {
    const given = (present: readonly Suspect[]) => {
      let chance = 1;
      const left = new Set(Object.keys(missed));
      for (const { id } of present) {
        const mine = (serves[id] ?? []).filter((cell) => left.delete(cell));
        const count = mine.reduce((sum, cell) => sum + (missed[cell] ?? 0), 0);
        const healthy = mine.reduce((product, cell) => product * h(missed[cell] ?? 0, 10), 1);
        chance *= (1 - quiet(id)) * i(count, 10 * mine.length) + quiet(id) * healthy;
      }
      for (const cell of left) chance *= h(missed[cell] ?? 0, 10);
      return chance;
    };
    const suspects = Object.entries(odds).map(([id, weight]) => ({ id, element: id, odds: weight }));
    const prior = (set: readonly Suspect[]) =>
      among.includes(set.map((m) => m.id).join(' + ')) ? set.reduce((product, m) => product * m.odds, set.length === 2 ? again : 1) : 0;
    return { given, known: posterior({ modes: suspects, atMost: 2, prior, given }) };
  };

  it('three misses of ten at S11 alone: the contact', () => {
    const { given, known } = listed(['', 'contact 11', 'joint C1', 'joint R1'], { 11: 3, 12: 0, 21: 0 });
    const mode = (id: string): Suspect[] => [{ id, element: id, odds: 1 }];
    figure(given([]), 1.8565e-5, 'none');
    figure(given(mode('contact 11')), 6.289e-4, 'contact');
    figure(given(mode('joint C1')), 4.5307e-5, 'column joint');
    figure(given(mode('joint R1')), 4.5307e-5, 'row joint');
    const shares = known ? sharesOf(known, (set) => set.map((m) => m.id).join(' + ')) : new Map();
    for (const [name, value] of Object.entries({ 'contact 11': 0.9707, 'joint C1': 0.0122, 'joint R1': 0.0122, '': 0.0048 }))
      four(shares.get(name), value, name);
  });

  it('two misses at S12 as well: the joint of the column, and nearly as likely the contact', () => {
    const { known } = listed(['', 'contact 11', 'joint C1', 'joint R1', 'contact 11 + contact 12'], { 11: 3, 12: 2, 21: 0 });
    const shares = known ? sharesOf(known, (set) => set.map((m) => m.id).join(' + ')) : new Map();
    const figures = { 'joint C1': 0.4699, 'contact 11': 0.3929, 'contact 11 + contact 12': 0.1303, 'joint R1': 0.005, '': 0.0019 };
    for (const [name, value] of Object.entries(figures)) four(shares.get(name), value, name);
  });
});
