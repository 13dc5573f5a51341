/** Rarer circuits by the fault model and the circuit simulator: direct lines, push-pull drivers, switches closed at rest, several held, two faults at one place. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Case, caseOf } from '@/lib/core/diagnosis/switch/case';
import type { Weighable } from '@/lib/core/diagnosis/switch/chances';
import { findFault } from '@/lib/core/diagnosis/switch/find';
import type { Effect, Observation } from '@/lib/core/diagnosis/types';
import { randomChart } from '../simulator/charts';
import { random } from '../simulator/random';
import { arbitrarySeen } from './diagnosis-switch-cases';
import { closedNumbers, column, gridWiring, lantern, orchard, reads, row, wiringFor } from './diagnosis-switch-charts';

const wiring = wiringFor(lantern);
const press = (number: string, presses: number, missed: number): Observation => ({
  kind: 'presses',
  number,
  presses,
  missed,
  how: 'hand',
  others: [],
});
const hold = (held: readonly string[], shown = held): Observation => ({ kind: 'hold', held, shown });
const modeOf = (about: Case, id: string): Weighable => {
  const mode = about.space.modes.find((one) => one.id === id);
  if (!mode) throw new Error(`No mode ${id}.`);
  return { ...mode, key: mode.id };
};

describe('direct lines (fault model §3)', () => {
  const shown = (effects: Effect[], closed: string[]) => closedNumbers(wiring, effects, closed).filter((n) => n.startsWith('D'));
  it('a contact closed for good reads closed', () => expect(shown([{ does: 'contact-closed', switch: 'D2' }], [])).toEqual(['D2']));
  it('to supply, or an input that reads open always: nothing', () => {
    expect(shown([{ does: 'to-supply', line: 'direct.2' }], ['D2'])).toEqual([]);
    expect(shown([{ does: 'input-reads', line: 'direct.2', reads: 'open' }], ['D2'])).toEqual([]);
  });
  it('two that touch read the OR of both', () =>
    expect(shown([{ does: 'join', lines: ['direct.1', 'direct.3'] }], ['D1'])).toEqual(['D1', 'D3']));
  it('two exchanged read as each other', () =>
    expect(shown([{ does: 'exchanged', lines: ['direct.1', 'direct.3'], header: 'A3J5' }], ['D1'])).toEqual(['D3']));
});

describe('push-pull columns: a node that both levels reach may read either way (§2.2, 4)', () => {
  const w = gridWiring(3, 3, { idle: 'driven' });
  it('two columns joined: what is pressed in one is sure in neither', () =>
    expect(reads(w, [{ does: 'join', lines: [column(1), column(2)] }], ['11'])).toEqual({ 11: 0.5, 21: 0.5 }));
  it('a bypassed diode makes no sure ghost', () =>
    expect(reads(w, [{ does: 'diode-bypassed', switch: '12' }], ['11', '12', '22'])['21'] ?? 0).toBeLessThan(1));
});

describe('strobe order is a ring', () => {
  it('a row without its pull carries the last column over into the first', () => {
    const w = gridWiring(3, 3, { floatReads: 'carry-over' });
    expect(closedNumbers(w, [{ does: 'pull-open', line: row(2) }], ['32']).sort()).toEqual(['12', '32']);
  });
});

describe('two faults at one place', () => {
  const w = gridWiring(3, 3);
  const cut = (element: string): Effect => ({ does: 'cut', element });
  it('blades that touch bridge a contact that is open', () =>
    expect(closedNumbers(w, [cut('contact 12'), { does: 'contact-closed', switch: '12' }], [])).toEqual(['12']));
  it('wires exchanged, one driver dead: it is the number of the dead driver that is lost', () => {
    const swapped: Effect = { does: 'exchanged', lines: [column(1), column(3)], header: 'A1J1' };
    expect(closedNumbers(w, [swapped, cut(`driver ${column(1)}`)], ['11', '31'])).toEqual(['31']);
    expect(closedNumbers(w, [cut('joint A1J1-1'), swapped], ['11', '31'])).toEqual(['31']);
  });
  it('the order in which two faults are named changes nothing', () => {
    const swapped: Effect = { does: 'exchanged', lines: [column(1), column(2)], header: 'A1J1' };
    const shifted: Effect = { does: 'shifted', header: 'A1J1', by: 1 };
    for (const number of ['11', '21', '31'])
      expect(closedNumbers(w, [swapped, shifted], [number])).toEqual(closedNumbers(w, [shifted, swapped], [number]));
  });
});

describe('an optical pair that is open while it sees light (§2.6)', () => {
  it('reads as broken, that is active, when its emitters lose their supply', () => {
    const chart = Array.from({ length: 40 }, (_, seed) => randomChart(random(9000 + seed))).find((c) =>
      c.circuits.some((one) => one.device === 'opto' && one.normally === 'open'),
    );
    if (!chart) throw new Error('No such chart.');
    const pair = chart.circuits.find((c) => c.device === 'opto' && c.normally === 'open');
    expect(closedNumbers(wiringFor(chart), [{ does: 'cut', element: `emitters ${pair?.emitterSupply}` }], [])).toContain(pair?.number);
  });
});

describe('several held', () => {
  it('a clean hold does not speak for a break of switches that are closed at rest', () => {
    const about = caseOf(lantern, { observations: [hold(['44', '45', '54'])], results: [], done: [] }, {});
    const lost = modeOf(about, 'short switch-column.7 | line to supply to supply');
    expect(about.field.given([lost])).toBeLessThanOrEqual(about.field.given([]) + 1e-9);
  });
  it('what reads closed elsewhere would have been on the list', () => {
    const about = caseOf(lantern, { observations: [hold(['44', '45', '54'])], results: [], done: [] }, {});
    const elsewhere = modeOf(about, 'short switch-row.2 | line to ground to ground');
    expect(about.field.given([elsewhere])).toBeLessThan(about.field.given([]));
  });
  it('a ghost that goes with the suspect names its diode, and no line that nobody touched', () => {
    const seen = [
      hold(['44', '45', '54'], ['44', '45', '54', '55']),
      hold(['45', '54']),
      press('44', 3, 0),
      press('45', 3, 0),
      press('54', 3, 0),
    ];
    const found = findFault(lantern, { observations: seen, results: [], done: [] });
    expect(found.suspects[0]?.id).toBe('diode 44');
    expect(found.shares.get('short switch-column.7') ?? 0).toBeLessThan(0.01);
  });
});

/** Pairs for which the quick chance is neither exact nor a bound. */
function wrong(about: Case, count: number): string[] {
  const chance = random(12);
  const { given, both, modes } = about.field;
  const best = Math.max(given([]), ...modes.map((mode) => given([mode])));
  return Array.from({ length: count }).flatMap(() => {
    const [a, b] = [chance.pick(modes), chance.pick(modes)];
    if (!both || a.element === b.element) return [];
    const [quick, plain] = [both(a, b, best - 40), given([a, b])];
    const bound = typeof quick === 'number' ? quick : quick.most;
    const exact = typeof quick === 'number' && quick > best - 40;
    return plain <= bound + 1e-9 && (!exact || Math.abs(plain - quick) < 1e-9)
      ? []
      : [`${a.id} & ${b.id}: ${JSON.stringify(quick)} for ${plain}`];
  });
}

describe('the quick chance of a pair is exact or a bound', () => {
  it('with several held', () => {
    fc.assert(
      fc.property(arbitrarySeen(wiring, { rest: true, hold: true, results: true }), (seen) => {
        expect(wrong(caseOf(lantern, seen, {}), 100)).toEqual([]);
      }),
      { numRuns: 8, endOnFailure: true },
    );
  });
  it('with a look at one that is closed at rest', () => {
    const seen: Observation[] = [press('17', 3, 0), { kind: 'rest', number: '20', reads: 'active' }];
    expect(wrong(caseOf(orchard, { observations: seen, results: [], done: [] }, {}), 1500)).toEqual([]);
  });
});
