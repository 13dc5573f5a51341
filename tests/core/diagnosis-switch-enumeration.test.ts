/** The fast posterior of the engine against plain enumeration of every pair, on a matrix of two by two with all its faults. */
import { describe, expect, it } from 'vitest';
import { caseOf, type Seen } from '@/lib/core/diagnosis/switch/case';
import type { Weighable } from '@/lib/core/diagnosis/switch/chances';
import { faultSpace, type SwitchMode } from '@/lib/core/diagnosis/switch/modes';
import type { Observation, Result } from '@/lib/core/diagnosis/types';
import { weigh } from '@/lib/core/diagnosis/weigh';
import { grid } from '../simulator/charts';

const chart = grid(2, 2);
const press = (number: string, presses: number, missed: number, others: readonly string[] = []): Observation => ({
  kind: 'presses',
  number,
  presses,
  missed,
  how: 'hand',
  others,
});

/** P(element at fault) over none, all single faults and all pairs, straight from the definition. */
function enumerated(seen: Seen): Map<string, number> {
  const { field, network } = caseOf(chart, seen, {});
  const modes = faultSpace(network, { done: [], counts: {} }).modes.map((mode: SwitchMode): Weighable => ({ ...mode, key: mode.id }));
  const sums = new Map<string, number>();
  // What holds no fault that can be behind the complaint is as unlikely as the field says.
  const lean = (of: readonly Weighable[]) => (of.some(({ element }) => field.focus(element)) ? 1 : (field.elsewhere ?? 1));
  let total = field.nothing * lean([]) * Math.exp(field.given([]));
  const add = (of: readonly Weighable[], mass: number) => {
    total += mass;
    for (const { element } of of) sums.set(element, (sums.get(element) ?? 0) + mass);
  };
  for (const [i, a] of modes.entries()) {
    add([a], a.weight * lean([a]) * Math.exp(field.given([a])));
    for (const b of modes.slice(i + 1)) {
      if (a.element === b.element) continue;
      const near = a.group !== undefined && a.group === b.group ? field.together : 1;
      add([a, b], field.pair * near * a.weight * b.weight * lean([a, b]) * Math.exp(field.given([a, b])));
    }
  }
  return new Map([...sums].map(([element, mass]) => [element, mass / total]));
}

const cases: { name: string; observations: Observation[]; results?: Result[] }[] = [
  { name: 'one dead', observations: [press('11', 5, 5)] },
  { name: 'one dead, its mates fine', observations: [press('11', 5, 5), press('12', 3, 0), press('21', 3, 0)] },
  { name: 'two that come and go', observations: [press('11', 10, 3), press('12', 10, 2), press('21', 10, 0)] },
  { name: 'two numbers for one press', observations: [press('11', 3, 0, ['21'])] },
  { name: 'closed at rest', observations: [{ kind: 'rest', number: '22', reads: 'active' }, press('11', 3, 0)] },
  {
    name: 'one dead, two tests done',
    observations: [press('11', 5, 5)],
    results: [
      { test: 'jumper 11', saw: 'nothing' },
      { test: 'diode 11', saw: 'good' },
    ],
  },
];

describe('posterior against plain enumeration', () => {
  it.each(cases)('$name', ({ observations, results = [] }) => {
    const seen: Seen = { observations, results, done: [] };
    const { field, probes } = caseOf(chart, seen, {});
    const { elements, none } = weigh(field, probes);
    const plain = enumerated(seen);
    // What is left out of the fast one holds at most a thousandth.
    for (const [element, share] of elements) expect(Math.abs(share - (plain.get(element) ?? 0)), `${element}: ${share}`).toBeLessThan(2e-3);
    for (const [element, share] of plain) if (share > 0.1) expect(elements.has(element), element).toBe(true);
    expect(none).toBeGreaterThanOrEqual(0);
  });
});
