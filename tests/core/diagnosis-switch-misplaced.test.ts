/** Plugs in the wrong place: which are thought of, what they do, the look that tells them apart, and the mend. Wiring and figures are invented. */
import { describe, expect, it } from 'vitest';
import type { Chart } from '@/lib/core/chart';
import { indexChart } from '@/lib/core/chart';
import type { Header } from '@/lib/core/chart/schema';
import { findFault } from '@/lib/core/diagnosis/switch/find';
import { faultSpace } from '@/lib/core/diagnosis/switch/modes';
import { networkOf } from '@/lib/core/diagnosis/switch/network';
import { probeOf } from '@/lib/core/diagnosis/switch/probes';
import type { Observation } from '@/lib/core/diagnosis/types';
import { grid } from '../simulator/charts';
import { closedNumbers, kestrel, lantern, wiringFor } from './diagnosis-switch-charts';

/** Columns on A1J1, rows on A1J2, four of each, with these halves. */
function chartWith(columns: Partial<Header>, rows: Partial<Header> = {}, more: Partial<Header>[] = []): Chart {
  const plain = grid(4, 4);
  const [first, second] = plain.design.headers;
  if (!first || !second) throw new Error('A grid has two headers.');
  const extra = more.map((header) => ({ ...first, ...header }));
  return indexChart(plain.machine, { ...plain.design, headers: [{ ...first, ...columns }, { ...second, ...rows }, ...extra] });
}
const modesOf = (chart: Chart, done: readonly string[] = []) =>
  faultSpace(networkOf(chart), { done, counts: {} }).modes.filter(({ kind }) =>
    /^housings? (shifted|turned|elsewhere|exchanged)/.test(kind),
  );
const told = (chart: Chart) => modesOf(chart).map(({ element, words }) => `${element}: ${words}`);
const bare: Partial<Header> = { lock: 'none', keys: [] };
const press = (number: string, presses: number, missed: number, others: string[] = []): Observation => ({
  kind: 'presses',
  number,
  presses,
  missed,
  how: 'hand',
  others,
});

describe('which are thought of', () => {
  it('none where a shroud holds both plugs, and they differ in size', () => {
    expect(told(chartWith({ positions: 5, lock: 'shroud' }, { lock: 'shroud' }))).toEqual([]);
  });
  it('all of them for two bare plugs of one size', () => {
    expect(told(chartWith(bare, bare)).sort()).toEqual(
      [
        'plug A1J1: one position up',
        'plug A1J1: one position down',
        'plug A1J1: turned round',
        'plug A1J1: on A1J2, whose own plug is off',
        'plug A1J2: one position up',
        'plug A1J2: one position down',
        'plug A1J2: turned round',
        'plug A1J2: on A1J1, whose own plug is off',
        'plugs A1J1 A1J2: exchanged',
      ].sort(),
    );
  });
  it('a spare header has no plug to exchange with', () => {
    const chart = chartWith({ lock: 'shroud' }, { positions: 6, lock: 'shroud' }, [{ id: 'A1J9', pins: [] }]);
    expect(told(chart)).toEqual(['plug A1J1: on A1J9']);
  });
  it('not on another board', () => {
    const chart = chartWith({ lock: 'shroud' }, { positions: 6, lock: 'shroud' }, [{ id: 'A2J9', pins: [] }]);
    expect(told(chart)).toEqual([]);
  });
  it('keys that stand in the way rule it out; a key found missing lets it in', () => {
    const apart = { positions: 5, lock: 'friction' } as const;
    const chart = chartWith({ ...apart, keys: [5] }, { ...apart, keys: [1] });
    expect(told(chart)).toEqual(['plug A1J1: one position up', 'plug A1J2: one position down']);
    const found = { ...chart.machine, keysAsFound: [{ header: 'A1J1', plug: [], on: '2026-02-01', by: 'Ines Okafor' }] };
    expect(told(indexChart(found, chart.design))).toEqual([
      'plug A1J1: one position up',
      'plug A1J1: one position down',
      'plug A1J1: on A1J2, whose own plug is off',
      'plug A1J2: one position down',
    ]);
  });
  it('on the club’s machines only where a key was found missing', () => {
    expect(told(kestrel)).toEqual([]);
    expect(told(lantern)).toEqual([
      'plug A3J7: one position up',
      'plug A3J7: one position down',
      'plug A3J7: on A3J6, whose own plug is off',
    ]);
  });
  it('rare, and twenty times likelier once a plug was off, however often that is told', () => {
    const chart = chartWith(bare, bare);
    const before = modesOf(chart);
    expect(before.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(7 * 0.03, 12);
    for (const done of [['plug-off'], ['remade'], ['soldered'], ['plug-off', 'remade', 'soldered']])
      for (const [i, { weight }] of modesOf(chart, done).entries()) expect(weight / (before[i]?.weight ?? 0)).toBeCloseTo(20, 9);
  });
});

describe('what they do', () => {
  const wiring = wiringFor(chartWith(bare, bare));
  it('shifted: the next number, and the one pushed off the end is dead', () => {
    const effect = { does: 'shifted', header: 'A1J1', by: 1 } as const;
    expect(closedNumbers(wiring, [effect], ['11'])).toEqual(['21']);
    expect(closedNumbers(wiring, [effect], ['41'])).toEqual([]);
  });
  it('turned round: columns count from the other end', () => {
    const effect = { does: 'turned', header: 'A1J1' } as const;
    expect(closedNumbers(wiring, [effect], ['11'])).toEqual(['41']);
    expect(closedNumbers(wiring, [effect], ['33'])).toEqual(['23']);
  });
  it('columns on the header of the rows, or the two exchanged: nothing answers, the diodes stand the wrong way', () => {
    for (const effect of [
      { does: 'elsewhere', header: 'A1J1', on: 'A1J2' },
      { does: 'plugs-exchanged', headers: ['A1J1', 'A1J2'] },
    ] as const)
      for (const number of ['11', '23', '44']) expect(closedNumbers(wiring, [effect], [number])).toEqual([]);
  });
});

describe('found', () => {
  const chart = chartWith(bare, bare);
  const looks = (header: string) => probeOf(wiringFor(chart), `plug ${header}`);
  it('one press with another number leads to the look at the plug, and that to the mend', () => {
    const seen = [press('11', 3, 3, ['41']), press('22', 3, 3, ['32'])];
    const first = findFault(chart, { observations: seen, results: [], done: ['plug-off'] });
    expect(first.suspects[0]).toMatchObject({ id: 'plug A1J1', how: 'turned round', fault: 'misplaced-plug' });
    const after = findFault(chart, { observations: seen, results: [{ test: 'plug A1J1', saw: 'turned' }], done: ['plug-off'] });
    expect(after.standing).toBe('found');
    expect(after.suspects[0]?.mend).toBe(
      'Mains plug out. Take A1P1 off, turn it round and put it on again, position 1 to the mark. Mark plugs and headers before they come off again.',
    );
  });
  it('all dead after a plug was off: the look at the plug tells which', () => {
    const seen = [press('11', 3, 3), press('22', 3, 3), press('33', 3, 3)];
    const said = (saw: string) => {
      const found = findFault(chart, { observations: seen, results: [{ test: 'plug A1J1', saw }], done: ['plug-off'] });
      return `${found.suspects[0]?.id}: ${found.suspects[0]?.how}`;
    };
    expect(said('loose')).toBe('plug A1J1: open');
    expect(said('elsewhere')).toBe('plug A1J1: on A1J2, whose own plug is off');
    expect(said('exchanged')).toBe('plugs A1J1 A1J2: exchanged');
  });
  it('each way shows in the look by an answer of its own', () => {
    const probe = looks('A1J1');
    const shows = modesOf(chart).map((mode) => {
      const chances = probe?.chance([mode]) ?? [];
      return `${mode.element} ${mode.words}: ${probe?.outcomes[chances.indexOf(Math.max(...chances))]?.id}`;
    });
    expect(shows).toEqual([
      'plug A1J1 one position up: over',
      'plug A1J1 one position down: over',
      'plug A1J1 turned round: turned',
      'plug A1J1 on A1J2, whose own plug is off: elsewhere',
      'plug A1J2 one position up: right',
      'plug A1J2 one position down: right',
      'plug A1J2 turned round: right',
      'plug A1J2 on A1J1, whose own plug is off: loose',
      'plugs A1J1 A1J2 exchanged: exchanged',
    ]);
  });
  it('the look names the header, the key and the free pins', () => {
    expect(looks('A1J1')?.title).toContain('on the header printed A1J1');
    expect(looks('A1J1')?.title).toContain('its position 1 at the mark (it has no key)');
    expect(probeOf(wiringFor(lantern), 'plug A3J4')?.title).toBe(
      'Look at A3P4: on the header printed A3J4, pushed home, its key at 4, no pin free at either end, its wires in order.',
    );
  });
  it('the mend asks for a lost key, and for what a supply may have harmed', () => {
    const mends = modesOf(lantern).map(({ mend }) => mend);
    expect(mends[2]).toBe('Mains plug out. Move A3P7 from A3J6 to A3J7, position 1 to the mark. Key position 5 of the housing again.');
    const powered = chartWith({ ...bare, positions: 5 });
    const [header] = powered.design.headers;
    if (!header) throw new Error('No header.');
    const supplied = { ...header, pins: [...header.pins, { position: 5, net: 'supply.emitters' }] };
    const chart = indexChart(powered.machine, { ...powered.design, headers: [supplied, ...powered.design.headers.slice(1)] });
    const [up] = modesOf(chart);
    expect(up?.mend).toContain('Its wires have met supply emitters: before power is on, measure each to ground');
  });
});
