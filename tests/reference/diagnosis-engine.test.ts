/**
 * The engine itself on the worked examples of our own fault model (figures from a separate script over all 211 hypotheses; no outside source), and
 * its solver on phantom closures (source: see tests/simulator/phantoms.json; rows marked text are published, rows marked computed follow its model).
 */
import { describe, expect, it } from 'vitest';
import { adviceFrom } from '@/lib/core/diagnosis/advice';
import { logFlicker, usualRates } from '@/lib/core/diagnosis/switch/press';
import { betaRate, type Rate } from '@/lib/core/diagnosis/switch/rates';
import type { Effect, Mode, Present, Probe } from '@/lib/core/diagnosis/types';
import { type Field, weigh } from '@/lib/core/diagnosis/weigh';
import { closedNumbers, gridWiring, row } from '../core/diagnosis-switch-charts';
import phantoms from '../simulator/phantoms.json';

const weights = { driver: 0.3, joint: 1, input: 0.3, contact: 2, lead: 1, diode: 0.5 };
const linesOf = ['1', '2'].flatMap((n) => [`driver C${n}`, `joint C${n}`, `joint R${n}`, `input R${n}`]);
const ownOf = ['11', '12', '21', '22'].flatMap((cell) => ['contact', 'lead', 'diode'].map((part) => `${part} ${cell}`));
const elements = [...linesOf, ...ownOf];
const weightOf = (id: string) => weights[id.split(' ')[0] as keyof typeof weights];
const pathOf = (cell: string) =>
  ['driver C', 'joint C', 'joint R', 'input R']
    .map((part) => `${part}${part.endsWith('C') ? cell[0] : cell[1]}`)
    .concat(['contact', 'lead', 'diode'].map((part) => `${part} ${cell}`));
const path = pathOf('11');
/** A miss rate that is known. */
function fixedRate(rate: number): Rate {
  return { a: rate, b: 1 - rate, log: (missed, presses) => missed * Math.log(rate) + (presses - missed) * Math.log(1 - rate) };
}
const [whole, broken] = [fixedRate(0.02), fixedRate(0.99)];

const test = (id: string, minutes: number, needs: readonly string[]): Probe => ({
  id,
  title: id,
  minutes,
  power: 'on',
  hazard: 1,
  outcomes: [
    { id: 'registers', label: 'Registers' },
    { id: 'not', label: 'Does not' },
  ],
  chance: (modes) => {
    const rate = modes.some((mode) => needs.includes(mode.element)) ? broken : whole;
    return [Math.exp(rate.log(0, 1)), Math.exp(rate.log(1, 1))];
  },
  heeds: (mode) => needs.includes(mode.element),
});
const tests = [
  test('T1', 0.3, pathOf('12')),
  test('T2', 0.3, pathOf('21')),
  test('T3', 3, ['driver C1', 'joint C1', 'joint R1', 'input R1']),
  test(
    'T4',
    1.5,
    path.filter((id) => id !== 'contact 11'),
  ),
  test('T5', 4, ['diode 11']),
];
const find = (id: string) => tests.find((one) => one.id === id) as Probe;

/** S11 missed 5 of 5, then these tests registered. With `merged`, modes that nothing tells apart share a key, as the engine makes them. */
function fieldAfter(registered: readonly string[], { pair = 0.01, nothing = 1, merged = false } = {}): Field {
  const given = (modes: readonly Present[]) => {
    const rate = modes.some((mode) => path.includes(mode.element)) ? broken : whole;
    return registered.reduce((log, id) => log + Math.log(find(id).chance(modes)[0] ?? 0), rate.log(5, 5));
  };
  const alike = (id: string) =>
    [path, ...tests.map((t) => elements.filter((e) => t.heeds?.({ id: e, element: e })))].map((of) => of.includes(id));
  const modes = elements.map((id): Mode => ({ id, element: id, weight: weightOf(id), key: merged ? alike(id).join() : id }));
  return { modes, nothing, pair, together: 1, given, focus: (element) => path.includes(element) };
}
const weighed = (registered: readonly string[], options = {}) => weigh(fieldAfter(registered, options), tests);
/** Printed with four decimals. */
const four = (value: number | undefined, figure: number, what: string) =>
  expect(Math.abs((value ?? Number.NaN) - figure), `${what}: ${value}, printed ${figure}`).toBeLessThanOrEqual(0.5001e-4);
const fours = (values: ReadonlyMap<string, number>, figures: Record<string, number>) => {
  for (const [id, figure] of Object.entries(figures)) four(values.get(id), figure, id);
};
/**
 * Pairs that nothing tells apart are one answer once merged: a little less entropy, the same information from every test. Explanations rarer than
 * one in a million are left out of the advice, and of this entropy: well below a thousandth of a bit.
 */
function entropyIs(found: ReturnType<typeof weigh>, figure: number, merged: boolean): void {
  if (merged) expect(found.entropy).toBeLessThanOrEqual(figure + 0.5001e-4);
  else expect(Math.abs(found.entropy - figure), `H(Z): ${found.entropy}, printed ${figure}`).toBeLessThan(5e-4);
}
const gainOf = (found: ReturnType<typeof weigh>, id: string) => found.gains.find((gain) => gain.test === id);
const perMinute = (found: ReturnType<typeof weigh>, figures: Record<string, number>) => {
  for (const [id, figure] of Object.entries(figures)) four((gainOf(found, id)?.bits ?? 0) / find(id).minutes, figure, `${id} a minute`);
};
const adviceAfter = (registered: readonly string[]) => adviceFrom(tests, weighed(registered).gains, 'on', () => '').map((a) => a.test.id);

describe.each([false, true])('S11 dead, five presses: worked example (merged: %s)', (merged) => {
  it('has 20 elements of weight 19.2, seven of them on the path', () => {
    expect(elements).toHaveLength(20);
    expect(elements.reduce((sum, id) => sum + weightOf(id), 0)).toBeCloseTo(19.2, 12);
    expect(path.reduce((sum, id) => sum + weightOf(id), 0)).toBeCloseTo(6.1, 12);
  });
  it('step 1', () => {
    const found = weighed([], { merged });
    fours(found.only, {
      'contact 11': 0.3209,
      'joint C1': 0.1605,
      'joint R1': 0.1605,
      'lead 11': 0.1605,
      'diode 11': 0.0802,
      'driver C1': 0.0481,
      'input R1': 0.0481,
    });
    fours(found.elements, {
      'contact 11': 0.3326,
      'joint C1': 0.1677,
      'joint R1': 0.1677,
      'lead 11': 0.1677,
      'diode 11': 0.0842,
      'driver C1': 0.0506,
      'input R1': 0.0506,
    });
    four(found.pairs, 0.0211, 'any pair');
    entropyIs(found, 2.7112, merged);
    const chances = { T1: 0.7369, T2: 0.7369, T3: 0.5596, T4: 0.3213, T5: 0.8983 };
    for (const [id, chance] of Object.entries(chances)) four(gainOf(found, id)?.chance[0], chance, `P(${id} registers)`);
    for (const [id, bits] of Object.entries({ T1: 0.5563, T2: 0.5563, T3: 0.8746, T4: 0.8055, T5: 0.338 }))
      four(gainOf(found, id)?.bits, bits, id);
    perMinute(found, { T1: 1.8543, T2: 1.8543, T3: 0.2915, T4: 0.537, T5: 0.0845 });
  });
  it('step 2: S12 registers', () => {
    const found = weighed(['T1'], { merged });
    fours(found.only, {
      'contact 11': 0.4089,
      'joint R1': 0.2044,
      'lead 11': 0.2044,
      'diode 11': 0.1022,
      'input R1': 0.0613,
      'joint C1': 0.0022,
    });
    four(found.pairs, 0.0159, 'pairs');
    entropyIs(found, 2.216, merged);
    four(gainOf(found, 'T2')?.chance[0], 0.6824, 'P(T2 registers)');
    four(gainOf(found, 'T2')?.bits, 0.635, 'T2');
    perMinute(found, { T1: 0.053, T2: 2.1165, T3: 0.2478, T4: 0.5794, T5: 0.1008 });
  });
  it('step 3: S21 registers too', () => {
    const found = weighed(['T1', 'T2'], { merged });
    fours(found.only, { 'contact 11': 0.5614, 'lead 11': 0.2807, 'diode 11': 0.1404, 'joint C1': 0.003, 'joint R1': 0.003 });
    four(found.pairs, 0.0098, 'pairs');
    entropyIs(found, 1.529, merged);
    four(gainOf(found, 'T4')?.chance[0], 0.5546, 'P(T4 registers)');
    four(gainOf(found, 'T4')?.bits, 0.8766, 'T4');
    perMinute(found, { T1: 0.0718, T2: 0.0718, T3: 0.0141, T4: 0.5844, T5: 0.1255 });
    if (merged) return;
    const pair = found.best.find(({ modes }) => modes.map((m) => m.element).join(' + ') === 'contact 11 + lead 11');
    four(pair?.mass, 0.0054, 'contact and lead together');
  });
  it('step 4: bridging the contact made it register', () => {
    const found = weighed(['T1', 'T2', 'T4'], { merged });
    fours(found.only, { 'contact 11': 0.9921, 'lead 11': 0.0051, 'diode 11': 0.0025 });
    entropyIs(found, 0.0763, merged);
  });
  it('single faults only', () => {
    const first = weighed([], { pair: 0, nothing: 0, merged });
    fours(first.only, { 'contact 11': 0.3279, 'joint C1': 0.1639, 'lead 11': 0.1639, 'diode 11': 0.082, 'driver C1': 0.0492 });
    entropyIs(first, 2.5338, merged);
    four(gainOf(first, 'T1')?.bits, 0.6437, 'T1');
    fours(weighed(['T1', 'T2'], { pair: 0, nothing: 0, merged }).only, { 'contact 11': 0.5671, 'lead 11': 0.2836, 'diode 11': 0.1418 });
  });
});

describe('advice on the worked example', () => {
  it('takes the best by the minute; T1 and T2 tie, the smaller id goes first', () => {
    expect(adviceAfter([]).slice(0, 3)).toEqual(['T1', 'T2', 'T4']);
    expect(adviceAfter(['T1'])[0]).toBe('T2');
    expect(adviceAfter(['T1', 'T2'])[0]).toBe('T4');
  });
});

describe('intermittent example', () => {
  const { whole: healthy, intermittent } = usualRates;
  const ten = (missed: number) => ({ missed, presses: 10 });
  const sum = (...missed: number[]) => ({ missed: missed.reduce((a, b) => a + b, 0), presses: 10 * missed.length });
  const close = (value: number, figure: number, what: string) =>
    expect(Math.abs(value / figure - 1), `${what}: ${value}`).toBeLessThan(3e-5);

  it('rates are those of the model, and their ratios its building blocks', () => {
    expect([healthy.a, healthy.b, intermittent.a, intermittent.b]).toEqual([1, 49, 1, 2]);
    const table = [
      [betaRate(1, 49), 3, 10, 2.6916e-5],
      [betaRate(1, 49), 2, 10, 5.0242e-4],
      [betaRate(1, 49), 0, 10, 0.83051],
      [betaRate(1, 2), 3, 10, 1.0101e-3],
      [betaRate(1, 2), 2, 10, 3.0303e-3],
      [betaRate(1, 2), 3, 20, 6.8353e-5],
      [betaRate(1, 2), 5, 20, 4.4675e-6],
      [betaRate(1, 2), 0, 10, 0.16667],
    ] as const;
    for (const [rate, missed, presses, figure] of table) close(Math.exp(rate.log(missed, presses)), figure, `${missed} of ${presses}`);
  });

  /** ln of the chance of the misses at 11, 12 and 21, ten presses each. */
  function logOf(id: string, [a, b, c]: readonly [number, number, number]): number {
    const sound = (missed: number) => healthy.log(missed, 10);
    switch (id) {
      case 'contact 11':
        return logFlicker(0.1, [ten(a)], [ten(a)], usualRates) + sound(b) + sound(c);
      case 'contact 11 + contact 12':
        return logFlicker(0.1, [ten(a)], [ten(a)], usualRates) + logFlicker(0.1, [ten(b)], [ten(b)], usualRates) + sound(c);
      case 'joint C1':
        return logFlicker(0.3, [ten(a), ten(b)], [sum(a, b)], usualRates) + sound(c);
      case 'joint R1':
        return logFlicker(0.3, [ten(a), ten(c)], [sum(a, c)], usualRates) + sound(b);
      default:
        return sound(a) + sound(b) + sound(c);
    }
  }
  function posterior(priors: Record<string, number>, misses: readonly [number, number, number]): Record<string, number> {
    const masses = Object.entries(priors).map(([id, prior]) => [id, prior * Math.exp(logOf(id, misses))] as const);
    const total = masses.reduce((all, [, mass]) => all + mass, 0);
    return Object.fromEntries(masses.map(([id, mass]) => [id, mass / total]));
  }
  const priors = { none: 1, 'contact 11': 6, 'joint C1': 1.05, 'joint R1': 1.05 };

  it('S11 misses 3 of 10, its siblings none: the contact', () => {
    const misses = [3, 0, 0] as const;
    const chances = { none: 1.8565e-5, 'contact 11': 6.289e-4, 'joint C1': 4.5307e-5, 'joint R1': 4.5307e-5 };
    for (const [id, chance] of Object.entries(chances)) close(Math.exp(logOf(id, misses)), chance, id);
    const found = posterior(priors, misses);
    fours(new Map(Object.entries(found)), { 'contact 11': 0.9707, 'joint C1': 0.0122, 'joint R1': 0.0122, none: 0.0048 });
  });
  it('S12 misses 2 of 10 too: the joint of the column and the contact, nearly even', () => {
    const found = posterior({ ...priors, 'contact 11 + contact 12': 0.36 }, [3, 2, 0]);
    fours(new Map(Object.entries(found)), {
      'joint C1': 0.4699,
      'contact 11': 0.3929,
      'contact 11 + contact 12': 0.1303,
      'joint R1': 0.005,
      none: 0.0019,
    });
  });
  it('clean presses clear a joint that comes and goes only slowly: 7 to 0.48, 21 to 0.39, never below its quiet sessions', () => {
    const left = (n: number) =>
      Math.exp(logFlicker(0.3, [{ missed: 0, presses: n }], [{ missed: 0, presses: n }], usualRates) - healthy.log(0, n));
    expect(left(7)).toBeCloseTo(0.48, 2);
    expect(left(21)).toBeCloseTo(0.39, 2);
    expect(left(1000)).toBeGreaterThan(0.3);
  });
});

describe('phantom closures', () => {
  const numberOf = (name: string) => name.replace(/^C(\d+)R(\d+)$/, '$1$2');
  it.each(phantoms.rows)('$name', (one) => {
    const wiring = gridWiring(one.cols, one.rows);
    const without = one.diodes === 'none' ? wiring.cells.map((cell) => cell.number) : Object.keys(one.faults ?? {}).map(numberOf);
    const effects: Effect[] = without.map((number) => ({ does: 'diode-bypassed', switch: number }));
    for (const [a, b] of one.links ?? []) effects.push({ does: 'join', lines: [row(Number(a?.slice(1))), row(Number(b?.slice(1)))] });
    expect(closedNumbers(wiring, effects, one.closed.map(numberOf)).sort()).toEqual(one.reads.map(numberOf).sort());
  });
  /** Published rule: without diodes k columns and m rows joined by closed switches read k·m closed; any two closed switches never make a phantom. */
  it('without diodes every connected group reads as a full rectangle', () => {
    const wiring = gridWiring(4, 4);
    const bare = wiring.cells.map(({ number }): Effect => ({ does: 'diode-bypassed', switch: number }));
    const numbers = wiring.cells.map((cell) => cell.number);
    for (const [i, a] of numbers.entries())
      for (const b of numbers.slice(i + 1)) expect(closedNumbers(wiring, bare, [a, b])).toEqual([a, b]);
    const tree = ['11', '12', '22', '33'];
    expect(closedNumbers(wiring, bare, tree).sort()).toEqual(['11', '12', '21', '22', '33']);
  });
});
