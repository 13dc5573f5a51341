/**
 * The textbook examples of model-based diagnosis through our conflicts, hitting sets and posterior. Figures, sources and how sure each
 * is ("text" read in a text, "computed" by a separate script, "memory"): diagnosis.json.
 */
import { describe, expect, it } from 'vitest';
import { minimalConflicts, minimalDiagnoses } from '@/lib/core/diagnosis/conflicts';
import { compareSets, minimalHittingSets } from '@/lib/core/diagnosis/hitting-sets';
import { withTriples } from '@/lib/core/diagnosis/triples';
import type { Mode } from '@/lib/core/diagnosis/types';
import { type Field, weigh } from '@/lib/core/diagnosis/weigh';
import { bit, type Circuit, consistentWith, type Gates, namesOf, predicted, small, type Values } from './circuit';
import figures from './diagnosis.json';
import { expectedAfter, type Posterior, posterior, type Suspect } from './subsets';

interface Row {
  id: string;
  gates?: Gates;
  inputs?: Values;
  observed?: Values;
  conf: string;
  F?: (string | number)[][];
  minimal_conflicts?: string[][];
  minimal_diagnoses?: string[][];
  minimal_hitting_sets?: (string | number)[][];
  consistent_candidates_of_32?: number;
  stated_conflict?: string[];
  stated_diagnosis?: string[];
  single_faults?: (string | string[])[];
  minimal_faults?: string[];
  explanations_of_243?: number;
  candidates?: Record<string, number>;
  component_marginals?: Record<string, number>;
  entropy_bits?: number;
  normaliser?: number;
  expected_entropy_bits?: Record<string, number>;
  information_gain_bits?: Record<string, number>;
  outcome_probability?: Record<string, Record<string, number>>;
  answer?: string;
  m?: number;
}
const rows = figures.rows as unknown as Row[];
const row = (id: string): Row => {
  const found = rows.find((r) => r.id === id);
  if (!found) throw new Error(`no row ${id}`);
  return found;
};
const sorted = (sets: readonly (readonly (string | number)[])[] = []) => sets.map((set) => set.map(String).sort()).sort(compareSets);
const circuitOf = ({ gates = [], inputs = {} }: Row, domain: readonly number[]): Circuit => ({ gates, inputs, domain });
/** Figures are printed with 7 or 8 significant digits. */
const near = (value: number | undefined, figure: number, what: string) =>
  expect(Math.abs((value ?? Number.NaN) - figure), `${what}: ${value}`).toBeLessThanOrEqual(1e-6 * Math.abs(figure));

function checkSets(expected: Row, circuit: Circuit, known: Values) {
  const conflicts = minimalConflicts(namesOf(circuit), consistentWith(circuit, known));
  expect(conflicts).toEqual(sorted(expected.minimal_conflicts));
  expect(minimalDiagnoses(namesOf(circuit), consistentWith(circuit, known))).toEqual(sorted(expected.minimal_diagnoses));
  expect(minimalHittingSets(sorted(expected.minimal_conflicts))).toEqual(sorted(expected.minimal_diagnoses));
}
const suspects = (names: readonly string[], probability: number): Suspect[] =>
  names.map((name) => ({ id: name, element: name, odds: probability / (1 - probability) }));
const idsOf = (modes: readonly Suspect[]) => modes.map((mode) => mode.id);
/** All that is consistent with what is known, each component broken or not: 1 or 0, nothing in between. */
const conditioned = (circuit: Circuit, known: Values, probability = 0.01): Posterior => {
  const consistent = consistentWith(circuit, known);
  const names = namesOf(circuit);
  const given = (modes: readonly Suspect[]) => (consistent(new Set(names.filter((name) => !idsOf(modes).includes(name)))) ? 1 : 0);
  const weighed = posterior({ modes: suspects(names, probability), atMost: names.length, given });
  if (!weighed) throw new Error('nothing is consistent');
  return weighed;
};
const shareOf = ({ candidates }: Posterior, name: string) =>
  candidates.find(({ modes }) => compareSets(idsOf(modes).sort(), name.split('+').sort()) === 0)?.probability;

const box = row('polybox');
const polybox = circuitOf(box, small);
const seen: Values = box.observed ?? {};

describe('every row is used', () => {
  it('knows each one by name', () => {
    expect(rows.map((r) => r.id)).toEqual([
      'polybox',
      'polybox after measuring X=4',
      'polybox after measuring X=6',
      'polybox after measuring X=5',
      'polybox after measuring Y=6',
      'polybox after measuring Z=6',
      'polybox best next measurement',
      'polybox posterior, plain conditioning',
      'polybox posterior, 1/m rule',
      'polybox expected entropy after one measurement',
      'Reiter full adder',
      'Reiter hitting-set example',
      'boolean box (lecture)',
      'CLP(B) adder, fault 1',
      'CLP(B) adder, fault 2',
      'CSPLib 042 full adder, stuck-at',
      'Greiner, Smith and Wilkerson example',
    ]);
    for (const { conf } of rows) expect(conf).toMatch(/text|memory|computed/);
  });
});

describe('polybox of de Kleer and Williams (1987): inputs, observations and one conflict text, the rest memory and computed', () => {
  it('has two minimal conflicts, four minimal diagnoses, 27 consistent sets of 32', () => {
    checkSets(box, polybox, seen);
    expect(conditioned(polybox, seen).candidates).toHaveLength(box.consistent_candidates_of_32 ?? 0);
  });

  it('predicts 12 and 12 when nothing is broken', () => {
    const all = row('polybox') as Row & { predicted?: Values };
    for (const [output, value] of Object.entries(all.predicted ?? {})) expect(predicted(polybox, {}, [], output)).toBe(value);
  });

  it.each([
    ['X', 4, 'text (slides) + computed'],
    ['X', 6, 'text (slides) + computed'],
    ['X', 5, 'text (slides: neither 4 nor 6) + computed'],
    ['Y', 6, 'computed'],
    ['Z', 6, 'computed'],
  ])('measured %s = %d (%s)', (node, value, mark) => {
    const expected = row(`polybox after measuring ${node}=${value}`);
    expect(expected.conf).toBe(mark);
    checkSets(expected, polybox, { ...seen, [node]: value });
  });
});

describe('polybox, probabilities (computed; no published figure found)', () => {
  const plain = row('polybox posterior, plain conditioning');
  const known = conditioned(polybox, seen);

  it('plain conditioning: candidates, marginals, entropy, normaliser', () => {
    for (const [name, figure] of Object.entries(plain.candidates ?? {})) near(shareOf(known, name), figure, name);
    for (const [name, figure] of Object.entries(plain.component_marginals ?? {})) near(known.elements.get(name), figure, name);
    near(known.entropy, plain.entropy_bits ?? 0, 'entropy');
    near(known.evidence, plain.normaliser ?? 0, 'normaliser');
    expect([...known.modes]).toEqual([...known.elements]); // one mode each
  });

  it('1/m rule (from memory): what a candidate does not predict has chance 1/m', () => {
    const ruled = row('polybox posterior, 1/m rule');
    const m = ruled.m ?? 0;
    const given = (modes: readonly Suspect[]) => {
      let chance = 1;
      let before: Values = {};
      for (const [output, value] of Object.entries(seen)) {
        const says = predicted(polybox, before, idsOf(modes), output);
        chance *= says === null ? 1 / m : says === value ? 1 : 0;
        if (chance === 0) break;
        before = { ...before, [output]: value };
      }
      return chance;
    };
    const weighed = posterior({ modes: suspects(namesOf(polybox), 0.01), atMost: 5, given });
    for (const [name, figure] of Object.entries(ruled.candidates ?? {})) near(weighed ? shareOf(weighed, name) : 0, figure, name);
  });

  it('one measurement: outcomes, expected entropy, gain; X first, also for m = 8 and 100', () => {
    const after = row('polybox expected entropy after one measurement');
    const measure = (node: string, m: number) => {
      const says = new Map(known.candidates.map(({ modes }) => [modes, predicted(polybox, seen, idsOf(modes), node)]));
      const values = [...new Set(says.values())].filter((value) => typeof value === 'number').sort((a, b) => a - b);
      const chances = (modes: readonly Suspect[]) => {
        const value = says.get(modes);
        return Array.from({ length: m }, (_, k) => (typeof value === 'number' ? (values[k] === value ? 1 : 0) : 1 / m));
      };
      return { values, expected: expectedAfter(known, chances) };
    };
    for (const node of ['X', 'Y', 'Z']) {
      const { values, expected } = measure(node, after.m ?? 0);
      near(expected.entropy, after.expected_entropy_bits?.[node] ?? 0, `expected entropy, ${node}`);
      near(expected.gain, after.information_gain_bits?.[node] ?? 0, `gain, ${node}`);
      const figure = after.outcome_probability?.[node] ?? {};
      expect(values.map(String)).toEqual(Object.keys(figure).filter((key) => key !== 'unpredicted'));
      // The figures give the share of the candidates that say so; the undecided ones then spread over all m values alike.
      const m = after.m ?? 0;
      const other = expected.outcomes.slice(values.length).reduce((sum, outcome) => sum + outcome.chance, 0);
      const undecided = (other * m) / (m - values.length);
      near(undecided, figure.unpredicted ?? 0, `${node} undecided`);
      for (const [k, value] of values.entries())
        near((expected.outcomes[k]?.chance ?? 0) - undecided / m, figure[value] ?? 0, `${node} = ${value}`);
    }
    expect(row('polybox best next measurement').answer).toBe('X');
    for (const m of [8, 16, 100]) {
      const gains = ['X', 'Y', 'Z'].map((node) => measure(node, m).expected.gain) as [number, number, number];
      expect(gains[0]).toBeGreaterThan(10 * gains[1]);
      expect(gains[1]).toBeGreaterThan(gains[2]);
    }
  });
});

describe('boolean circuits', () => {
  it.each([
    ['Reiter full adder', 'memory, computed'],
    ['boolean box (lecture)', 'one conflict and one diagnosis text'],
    ['CLP(B) adder, fault 1', 'single faults text'],
    ['CLP(B) adder, fault 2', 'single faults text'],
  ])('%s (%s)', (id) => {
    const expected = row(id);
    const circuit = circuitOf(expected, bit);
    const known = expected.observed ?? {};
    checkSets(expected, circuit, known);
    expect(conditioned(circuit, known).candidates).toHaveLength(expected.consistent_candidates_of_32 ?? 0);
    const diagnoses = minimalDiagnoses(namesOf(circuit), consistentWith(circuit, known));
    if (expected.stated_conflict) expect(sorted(expected.minimal_conflicts)).toContainEqual(expected.stated_conflict);
    if (expected.stated_diagnosis) expect(diagnoses).toContainEqual(expected.stated_diagnosis);
    if (expected.single_faults) expect(diagnoses.filter((d) => d.length === 1)).toEqual(expected.single_faults);
  });

  it('CSPLib 042: stuck-at faults of the full adder (single faults text, the rest computed)', () => {
    const expected = row('CSPLib 042 full adder, stuck-at');
    const { gates = [], inputs = {}, observed = {} } = expected;
    const names = gates.map((gate) => gate[0] as string);
    const modes = names.flatMap((name) => [0, 1].map((value) => ({ id: `${name}/${value}`, element: name, odds: 0.01 })));
    // A stuck gate is known: its output has the value it is stuck at, whatever its function says.
    const given = (present: readonly Suspect[]) => {
      const stuck = new Map(present.map((mode) => [mode.element, Number(mode.id.at(-1))]));
      const outputs = Object.fromEntries(gates.flatMap((g) => (stuck.has(g[0] as string) ? [[g[4], stuck.get(g[0] as string)]] : [])));
      if (Object.entries(outputs).some(([output, value]) => output in observed && observed[output] !== value)) return 0;
      const healthy = new Set(names.filter((name) => !stuck.has(name)));
      return consistentWith({ gates, inputs, domain: bit }, { ...observed, ...outputs })(healthy) ? 1 : 0;
    };
    const single = posterior({ modes, atMost: 1, given });
    expect(single?.candidates.map((c) => idsOf(c.modes).join('+'))).toEqual(expected.single_faults);
    const all = posterior({ modes, atMost: 5, given });
    expect(all?.candidates).toHaveLength(expected.explanations_of_243 ?? 0);
    const minimal = (all?.candidates ?? []).filter(
      ({ modes: mine }) => !all?.candidates.some((c) => c.modes.length < mine.length && c.modes.every((mode) => mine.includes(mode))),
    );
    expect(minimal.map((c) => idsOf(c.modes).join('+')).sort()).toEqual(expected.minimal_faults);
  });
});

describe('hitting sets', () => {
  it.each([
    ['Reiter hitting-set example', 'conflicts from memory, sets computed'],
    ['Greiner, Smith and Wilkerson example', 'conflicts from memory, sets computed; one conflict within two others'],
  ])('%s (%s)', (id) => {
    const { F = [], minimal_hitting_sets = [] } = row(id);
    const conflicts = F.map((set) => set.map(String));
    expect(minimalHittingSets(conflicts)).toEqual(sorted(minimal_hitting_sets));
    expect(minimalHittingSets([...conflicts].reverse())).toEqual(sorted(minimal_hitting_sets)); // the order tripped the tree of 1987
  });
});

describe('polybox through the engine of the fault finder (computed; no published figure found)', () => {
  const consistent = consistentWith(polybox, seen);
  const names = namesOf(polybox);
  const odds = 0.01 / 0.99; // P(S) is a product of odds: ρ and κ are 1, "nothing" weighs 1
  const field: Field = {
    modes: names.map((name): Mode => ({ id: name, element: name, weight: odds, key: name })),
    nothing: 1,
    pair: 1,
    together: 1,
    given: (modes) => (consistent(new Set(names.filter((name) => !modes.some((mode) => mode.element === name)))) ? 0 : -Infinity),
    focus: () => true,
  };
  const marginals = row('polybox posterior, plain conditioning').component_marginals ?? {};
  it('three faults at once among all five components: the marginals of the full posterior, but for sets of four and five', () => {
    const { elements } = withTriples(field, weigh(field, []), () => true);
    for (const [name, figure] of Object.entries(marginals)) expect(Math.abs((elements.get(name) ?? 0) - figure), name).toBeLessThan(5e-6);
  });
  it('pairs alone come as near as the sets of three are rare', () => {
    const { elements } = weigh(field, []);
    for (const [name, figure] of Object.entries(marginals)) expect(Math.abs((elements.get(name) ?? 0) - figure), name).toBeLessThan(5e-4);
  });
});
