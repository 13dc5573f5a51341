/** Odds before anything was seen. The table is the fault model's §7 (from memory, no published source); the Dirichlet figures are by hand. */
import { describe, expect, it } from 'vitest';
import type { FaultClass } from '@/lib/core/diagnosis/classes';
import { faultSpace } from '@/lib/core/diagnosis/switch/modes';
import { networkOf } from '@/lib/core/diagnosis/switch/network';
import { histories, type PriorKind, priorOf, priors, timesLikelier, updated } from '@/lib/core/diagnosis/switch/priors';
import { lantern } from './diagnosis-switch-charts';

/** Weights as the fault model prints them; sums where one of ours stands for several of its rows. */
const table: Partial<Record<PriorKind, number>> = {
  'leaf contact': 10,
  microswitch: 4,
  'optical pair': 3 + 1.5 + 3 + 1.5, // emitter, detector, dirt, interface
  'lug tail': 4,
  'diode open': 2,
  'diode shorted': 0.5,
  'diode bypassed': 0.1,
  'diode reversed': 0.15,
  'stack insulation': 1,
  'insulation displacement': 2,
  crimp: 0.3,
  'terminal spring': 1,
  'header joint': 0.5,
  'wire segment': 0.3,
  splice: 0.8,
  'wires exchanged': 0.02,
  'housing unplugged': 0.5,
  'housing shifted': 0.03,
  'line to ground': 0.15,
  'line to neighbour': 0.05,
  'driver dead': 0.6 + 0.3 + 0.2 + 0.3, // driver, latch, trace, socket
  'driver stuck': 0.25,
  'select bit': 0.1,
  package: 0.1,
  'row input dead': 0.6 + 0.2 + 0.3, // input, trace, socket
  'row input stuck': 0.3,
  'row pull': 0.15,
};
/** Shares: open for good, now and then, closed for good. Of a blade, and of a microswitch, a part of "now and then" is only missed by a fast ball. */
const shares: Partial<Record<PriorKind, readonly [number, number, number]>> = {
  'leaf contact': [0.25, 0.6, 0.15],
  microswitch: [0.35, 0.45, 0.2],
  'lug tail': [0.6, 0.4, 0],
  'diode open': [0.7, 0.3, 0],
  'insulation displacement': [0.4, 0.6, 0],
  crimp: [0.5, 0.5, 0],
  'terminal spring': [0.2, 0.8, 0],
  'header joint': [0.3, 0.7, 0],
  'wire segment': [0.7, 0.3, 0],
  splice: [0.4, 0.6, 0],
};
/** Chance that a whole session is quiet, §8: contact, joint or terminal, wire. */
const quiet: Partial<Record<PriorKind, number>> = {
  'leaf contact': 0.1,
  microswitch: 0.1,
  'header joint': 0.3,
  'terminal spring': 0.3,
  'insulation displacement': 0.3,
  crimp: 0.3,
  'wire segment': 0.4,
};

describe('the table', () => {
  it.each(Object.entries(table) as [PriorKind, number][])('%s: %s', (kind, weight) => expect(priorOf(kind).weight).toBeCloseTo(weight, 12));
  it.each(Object.entries(shares) as [PriorKind, readonly [number, number, number]][])('shares of %s', (kind, [hard, loose, stuck]) => {
    const prior = priorOf(kind);
    expect(prior.hard).toBeCloseTo(hard, 12);
    expect((prior.intermittent ?? 0) + (prior.timing ?? 0)).toBeCloseTo(loose, 12);
    expect(prior.stuck ?? 0).toBeCloseTo(stuck, 12);
  });
  it.each(Object.entries(quiet) as [PriorKind, number][])('%s keeps quiet: %s', (kind, chance) => expect(priorOf(kind).quiet).toBe(chance));
  it('shares of every kind that has any sum to one', () => {
    for (const kind of Object.keys(priors) as PriorKind[]) {
      const { hard, intermittent, stuck, timing } = priorOf(kind);
      if (hard !== undefined) expect(hard + (intermittent ?? 0) + (stuck ?? 0) + (timing ?? 0), kind).toBeCloseTo(1, 12);
    }
  });
});

describe('what was done lately', () => {
  it('multiplies as the table says', () => {
    expect(timesLikelier('wires exchanged', ['remade'])).toBe(100);
    expect(timesLikelier('crimp', ['remade'])).toBe(5);
    expect(timesLikelier('housing shifted', ['remade'])).toBe(20);
    expect(timesLikelier('diode reversed', ['switch-replaced'])).toBe(20);
    expect(timesLikelier('line to neighbour', ['soldered'])).toBe(10);
    expect(timesLikelier('line to ground', ['lowered'])).toBe(5);
    expect(timesLikelier('terminal spring', ['leak'])).toBe(10);
    expect(timesLikelier('driver stuck', ['supply-touched'])).toBe(20);
    expect(
      timesLikelier(
        'leaf contact',
        histories.map((h) => h.id),
      ),
    ).toBe(1);
  });
  it('several histories multiply, one told twice does not, unknown ones are nothing', () => {
    expect(timesLikelier('driver dead', ['leak', 'supply-touched'])).toBe(100);
    expect(timesLikelier('driver dead', ['leak', 'leak'])).toBe(5);
    expect(timesLikelier('driver dead', ['painted'])).toBe(1);
  });
  it('reaches the weights of the modes and nothing else', () => {
    const network = networkOf(lantern);
    const before = faultSpace(network, { done: [], counts: {} }).modes;
    const after = faultSpace(network, { done: ['switch-replaced'], counts: {} }).modes;
    for (const [i, mode] of before.entries())
      expect((after[i]?.weight ?? 0) / mode.weight, mode.id).toBeCloseTo(timesLikelier(mode.kind, ['switch-replaced']), 9);
    expect(after.find((m) => m.id === 'diode 46 | diode reversed reversed')?.weight).toBeCloseTo(0.15 * 20, 12);
  });
});

describe('the club’s record', () => {
  const byClass = new Map<FaultClass, number>([
    ['switch-adjustment', 60],
    ['worn-contact', 30],
    ['driver', 10],
  ]);
  it('Dirichlet by hand: s = 20, so α = 12, 6, 2; four fixes of contacts in housings make 12, 10, 2 of 24', () => {
    const factor = updated(byClass, { 'worn-contact': 4 });
    expect(factor.get('switch-adjustment')).toBeCloseTo(12 / 24 / 0.6, 12); // 0.8333
    expect(factor.get('worn-contact')).toBeCloseTo(10 / 24 / 0.3, 12); // 1.3889
    expect(factor.get('driver')).toBeCloseTo(2 / 24 / 0.1, 12); // 0.8333
  });
  it('no record changes nothing; fixes of other classes of fault do not count', () => {
    for (const counts of [{}, { coil: 12, lamp: 3 }])
      for (const factor of updated(byClass, counts).values()) expect(factor).toBeCloseTo(1, 12);
  });
  it('keeps the sum of the weights, and a long record wins', () => {
    const factor = updated(byClass, { driver: 980 });
    expect([...byClass].reduce((sum, [fault, weight]) => sum + weight * (factor.get(fault) ?? 0), 0)).toBeCloseTo(100, 9);
    expect(((factor.get('driver') ?? 0) * 10) / 100).toBeCloseTo(982 / 1000, 12);
  });
  it('one fix of something rare doubles it and no more: α = 1, not 0.02', () => {
    const rare = new Map<FaultClass, number>([
      ['switch-adjustment', 99.9],
      ['splice', 0.1],
    ]);
    const factor = updated(rare, { splice: 1 });
    expect((factor.get('splice') ?? 0) / (factor.get('switch-adjustment') ?? 1)).toBeCloseTo(2, 9);
  });
  it('moves the modes of its class, in proportion', () => {
    const network = networkOf(lantern);
    const before = faultSpace(network, { done: [], counts: {} }).modes;
    const after = faultSpace(network, { done: [], counts: { 'worn-contact': 10 } }).modes;
    const ratio = (kind: PriorKind) => {
      const i = before.findIndex((mode) => mode.kind === kind);
      return (after[i]?.weight ?? 0) / (before[i]?.weight ?? 1);
    };
    expect(ratio('insulation displacement')).toBeGreaterThan(1);
    expect(ratio('terminal spring')).toBeCloseTo(ratio('insulation displacement'), 9);
    expect(ratio('leaf contact')).toBeLessThan(1);
    expect(ratio('leaf contact')).toBeCloseTo(ratio('driver dead'), 9);
    const sum = (modes: typeof before) => modes.reduce((total, mode) => total + mode.weight, 0);
    expect(sum(after)).toBeCloseTo(sum(before), 6);
  });
});
