/** What the fault finder says, on the charts of the demo club: standing, suspects, next test, and that it gets there. */
import { describe, expect, it } from 'vitest';
import { type Chart, indexChart } from '@/lib/core/chart';
import { machine } from '@/lib/core/chart/schema';
import { caseOf } from '@/lib/core/diagnosis/switch/case';
import { findFault } from '@/lib/core/diagnosis/switch/find';
import { faultSpace } from '@/lib/core/diagnosis/switch/modes';
import { networkOf } from '@/lib/core/diagnosis/switch/network';
import type { Observation, Result } from '@/lib/core/diagnosis/types';
import { grid } from '../simulator/charts';
import { kestrel, lantern, orchard } from './diagnosis-switch-charts';

type Press = Extract<Observation, { kind: 'presses' }>;
const press = (number: string, presses: number, missed: number, how: Press['how'] = 'hand', others: readonly string[] = []): Press => ({
  kind: 'presses',
  number,
  presses,
  missed,
  how,
  others,
});
const fine = (...numbers: string[]) => numbers.map((number) => press(number, 3, 0));
const active = (...numbers: string[]): Observation[] => numbers.map((number) => ({ kind: 'rest', number, reads: 'active' }));
const find = (chart: Chart, observations: readonly Observation[], results: readonly Result[] = []) =>
  findFault(chart, { observations, results, done: [] });
const topOf = (found: ReturnType<typeof findFault>) => found.suspects[0]?.id;

describe('standing', () => {
  it('nothing seen: asks', () => {
    expect(find(lantern, [])).toMatchObject({ standing: 'empty', suspects: [], next: null });
    expect(find(lantern, [press('46', 0, 0)]).standing).toBe('empty');
  });
  it('nothing wrong: says so', () => {
    const found = find(lantern, [press('46', 5, 0)]);
    expect(found.standing).toBe('well');
    expect(found.verdict).toContain('46');
  });
  it('one dead switch is not enough to tell, and a sibling is the next to press', () => {
    const found = find(lantern, [press('46', 5, 5)]);
    expect(found.standing).toBe('open');
    expect(found.verdict).toMatch(/^Not enough to tell yet: \d+ places could be at fault\. Do the next test\.$/);
    expect(found.next?.test.id).toMatch(/^press [46]\d 3$|^press \d6 3$/);
    expect(found.next?.reason).not.toBe('');
    expect(found.breaks).toContainEqual(['contact 46']);
    expect(found.breaks).toContainEqual(['driver switch-column.4']);
  });
  it('the reason of a test names an answer and what that answer clears, which it then does', () => {
    const seen = [press('46', 3, 3), ...fine('44', '26')];
    const { next } = find(lantern, seen);
    expect(next?.reason).toMatch(/If the answer is “Registers each time”, that all but clears run 44 to 45 and run 45 to 46\.$/);
    expect(next?.test.id).toBe('press 47 3');
    const after = find(lantern, [...seen, press('47', 3, 0)]);
    for (const run of ['44 to 45', '45 to 46']) expect(after.suspects.map((s) => s.name)).not.toContain(`Run ${run}`);
  });
  it('its mates clear the lines up to where they hang, and say so', () => {
    const found = find(lantern, [press('46', 5, 5), ...fine('41', '45', '47', '26', '36', '56', '76')]);
    expect(found.cleared.join(' ')).toContain('Column 4 is fine from the board to');
    expect(found.cleared.join(' ')).toContain('Row 6 is fine from the board to');
    const own = ['contact 46', 'diode 46', 'tail switch-column.4 46', 'tail switch-row.6 46'];
    expect(found.suspects.map((s) => s.id).sort()).toEqual(own.sort());
    expect(found.suspects.reduce((sum, s) => sum + s.share, 0)).toBeGreaterThan(0.95);
    expect(found.shares.get('driver switch-column.4') ?? 0).toBeLessThan(0.01);
    expect(found.onSwitch.get('46')).toBeGreaterThan(0.95);
    expect(found.breaks.flat().sort()).toEqual(own.sort());
  });
  it('switches and tests that the chart does not have are left out', () => {
    const seen = [press('46', 5, 5), ...fine('45')];
    const plain = find(lantern, seen);
    const more = find(
      lantern,
      [...seen, press('99', 5, 5), ...active('X1')],
      [
        { test: 'jumper 99', saw: 'shows' },
        { test: 'jumper 46', saw: 'sings' },
        { test: 'weigh 46', saw: 'shows' },
        { test: '', saw: '' },
      ],
    );
    const said = ({ standing, verdict, suspects, rest, cleared, shares, next, others }: typeof plain) => ({
      ...{ standing, verdict, suspects, rest, cleared, shares },
      tests: [next, ...others].map((advice) => advice?.test.id),
    });
    expect(said(more)).toEqual(said(plain));
  });
  it('an empty chart has nothing to say', () => {
    const { design, machine: found } = lantern;
    const bare = indexChart(machine.parse({ ...found, switches: [], direct: [], chains: [], loads: [], lamps: [] }), design);
    expect(find(bare, [press('46', 5, 5)])).toMatchObject({ standing: 'empty', suspects: [] });
    expect(caseOf(bare, { observations: [], results: [], done: [] }, {}).probes).toEqual([]);
  });
});

describe('what does not go together', () => {
  it('names the switch, and what to do', () => {
    const found = find(lantern, [press('46', 5, 5), press('46', 20, 0)]);
    expect(found.standing).toBe('odd');
    expect(found.verdict).toContain('46 Spinner missed 5 of 5');
    expect(found.odd[0]?.mend).toMatch(/^Press it again/);
  });
  it('names the number that no fault brings up', () => {
    const found = find(lantern, [press('46', 5, 0, 'hand', ['11'])]);
    expect(found.standing).toBe('odd');
    expect(found.verdict).toContain('11 came up when 46 Spinner was pressed');
  });
  it('what one fault explains is not odd: two numbers in one row, column and its mates', () => {
    expect(find(lantern, [press('46', 3, 0, 'hand', ['56'])]).odd).toEqual([]);
    expect(find(lantern, [press('46', 3, 3), press('45', 3, 3), press('26', 3, 0)]).odd).toEqual([]);
  });
});

describe('patterns of the signature table', () => {
  it('one closed at rest: the contact, or the blades that touch', () => {
    const found = find(lantern, active('46'));
    expect(topOf(found)).toBe('contact 46');
    expect(found.suspects[0]?.how).toBe('closed for good');
  });
  const row6 = active('16', '26', '36', '46', '56', '66', '76');
  it('a whole row closed at rest: to ground, or the input; all unplugged tells them apart', () => {
    const found = find(lantern, row6);
    expect(found.suspects.map((s) => s.id).sort()).toEqual(['input switch-row.6', 'short switch-row.6']);
    expect(found.next?.test.id).toBe('all unplugged');
    const clear = find(lantern, row6, [{ test: 'all unplugged', saw: 'clear' }]);
    expect([clear.standing, topOf(clear)]).toEqual(['found', 'short switch-row.6']);
    expect(clear.suspects[0]?.how).toBe('to ground');
    const stays = find(lantern, row6, [{ test: 'all unplugged', saw: 'stays' }]);
    expect([stays.standing, topOf(stays)]).toEqual(['found', 'input switch-row.6']);
  });
  it('good by hand, missed by the ball: too slow for it', () => {
    const found = find(lantern, [press('46', 10, 0), press('46', 10, 7, 'ball')]);
    expect(found.standing).toBe('found');
    expect(found.suspects[0]).toMatchObject({ id: 'contact 46', how: 'too slow for the ball' });
  });
  it('three held, a false fourth: the diode of the diagonal, and no innocent one', () => {
    // 55 is false: opposite it stands 44.
    const found = find(lantern, [{ kind: 'hold', held: ['44', '45', '54'], shown: ['44', '45', '54', '55'] }]);
    expect(found.suspects[0]).toMatchObject({ id: 'diode 44', fault: 'diode-bypassed' });
    for (const innocent of ['diode 45', 'diode 54']) expect(found.shares.get(innocent) ?? 0).toBeLessThan(0.01);
  });
  it('the fourth may be the number of a cell without a switch: it accuses the same diode', () => {
    // 57 is false, and no switch; opposite it stands 45.
    const found = find(lantern, [{ kind: 'hold', held: ['45', '47', '55'], shown: ['45', '47', '55', '57'] }]);
    expect(found.suspects[0]).toMatchObject({ id: 'diode 45', fault: 'diode-bypassed' });
    for (const innocent of ['diode 47', 'diode 55']) expect(found.shares.get(innocent) ?? 0).toBeLessThan(0.01);
  });
  it('of several held, the one that does not show is pressed by itself', () => {
    const found = find(grid(3, 3, { idle: 'driven' }), [{ kind: 'hold', held: ['11', '12', '22'], shown: ['11', '12'] }]);
    expect([found.next, ...found.others].map((advice) => advice?.test.id)).toContain('press 22 3');
  });
  it('one press that brings a number without a switch: two columns touch, as with any other number', () => {
    const found = find(lantern, [press('47', 3, 0, 'hand', ['57']), press('45', 3, 0, 'hand', ['55'])]);
    expect(topOf(found)).toBe('join switch-column.4 switch-column.5');
    expect(found.odd).toEqual([]);
  });
  it('one press, two numbers in a row: two columns touch', () => {
    const found = find(lantern, [press('46', 3, 0, 'hand', ['56']), press('45', 3, 0, 'hand', ['55'])]);
    expect(topOf(found)).toBe('join switch-column.4 switch-column.5');
  });
  it('the wrong number only: wires exchanged', () => {
    const found = find(lantern, [press('45', 3, 3, 'hand', ['55']), press('54', 3, 3, 'hand', ['44'])]);
    expect(found.suspects[0]?.fault).toMatch(/^(exchanged-wires|misplaced-plug)$/);
  });
  it('misses of several on one tap: something they share, now and then', () => {
    const found = find(lantern, [press('46', 10, 3), press('26', 10, 2), press('36', 10, 4), ...fine('45', '16')]);
    expect(found.suspects[0]?.how).toBe('now and then');
    for (const number of ['46', '26', '36'])
      expect(
        networkOf(lantern)
          .elements.get(topOf(found) ?? '')
          ?.serves.has(number),
      ).toBe(true);
  });
});

/** A bench where exactly this is wrong: every test gives its likeliest outcome, presses as told. */
function follow(chart: Chart, id: string, complaint: string) {
  const mode = faultSpace(networkOf(chart), { done: [], counts: {} }).modes.find((m) => m.id === id);
  if (!mode) throw new Error(`No mode ${id}.`);
  const observations: Observation[] = [press(complaint, 5, 5)];
  const results: Result[] = [];
  const asked: string[] = [];
  for (let step = 0; step < 14; step++) {
    const found = find(chart, observations, results);
    const next = found.next?.test.id;
    if (!next) return { found, asked };
    asked.push(next);
    const probe = caseOf(chart, { observations, results, done: [] }, {}).probes.find((p) => p.id === next);
    const chances = probe?.chance([mode]) ?? [];
    const outcome = chances.indexOf(Math.max(...chances));
    const [how = '', number = '', count = '0'] = next.split(' ');
    if (how === 'press' || how === 'ball')
      observations.push(press(number, Number(count), outcome === 0 ? 0 : Number(count), how === 'ball' ? 'ball' : 'hand'));
    else results.push({ test: next, saw: probe?.outcomes[outcome]?.id ?? '' });
  }
  return { found: find(chart, observations, results), asked };
}

describe('following its own advice', () => {
  const benches = [
    [lantern, 'contact 46 | leaf contact hard', '46'],
    [lantern, 'diode 46 | diode open hard', '46'],
    [lantern, 'driver switch-column.4 | driver dead hard', '46'],
    [lantern, 'terminal A3J4-7 | insulation displacement hard', '46'],
    [kestrel, 'contact 46 | microswitch hard', '46'],
    [kestrel, 'tail switch-column.6 46 | lug tail hard', '46'],
    [orchard, 'contact 30 | leaf contact hard', '30'],
    [orchard, 'driver switch-column.4 | driver dead hard', '30'],
  ] as const;
  it.each(benches.map(([chart, id, number]) => [`${chart.title}: ${id}`, chart, id, number] as const))('%s', (_, chart, id, number) => {
    const { found, asked } = follow(chart, id, number);
    expect(
      found.suspects.slice(0, 2).map((s) => s.id),
      `${found.verdict} after ${asked.join(', ')}`,
    ).toContain(id.split(' | ')[0]);
    expect(found.suspects[0]?.share).toBeGreaterThan(0.5);
    const bench = asked.filter((test) => !/^(press|ball) /.test(test));
    expect(new Set(bench).size).toBe(bench.length);
    expect(asked.length).toBeLessThan(14);
  });
  it('a bench test that was done is not asked again', () => {
    const seen = [press('46', 5, 5), ...fine('45', '26')];
    const before = find(lantern, seen);
    const test = [before.next, ...before.others].map((a) => a?.test.id).find((t) => t && !/^(press|ball) /.test(t)) ?? 'jumper 46';
    const after = find(lantern, seen, [{ test, saw: 'nothing' }]);
    expect([after.next, ...after.others].map((a) => a?.test.id)).not.toContain(test);
  });
});

describe('advice', () => {
  it('says minutes, bits and the chance of each answer; nothing of mains, a hazard class with each', () => {
    const { next, others } = find(lantern, [press('46', 5, 5), ...fine('45', '26')]);
    for (const advice of [next, ...others]) {
      if (!advice) continue;
      expect(advice.minutes).toBeGreaterThan(0);
      expect(advice.bits).toBeGreaterThan(0);
      expect(advice.chance).toHaveLength(advice.test.outcomes.length);
      expect(advice.test.hazard).toBeLessThanOrEqual(1); // 12 V and 5 V: fingers off at most
      expect(['on', 'off', 'unplugged']).toContain(advice.test.power);
      if (advice.test.power === 'unplugged' && /^(continuity|diode|ohms)/.test(advice.test.id)) expect(advice.test.hazard).toBe(0);
    }
  });
  it('counts the change of state: with the harness unplugged an unplugged test is nearer', () => {
    const seen = { observations: [press('46', 5, 5), ...fine('41', '45', '47', '26', '36', '56')], results: [], done: [] };
    const minutesOf = (power: 'on' | 'unplugged') => {
      const found = findFault(lantern, seen, {}, power);
      return [found.next, ...found.others].find((a) => a?.test.id === 'diode 46')?.minutes;
    };
    expect(minutesOf('on')).toBe(3);
    expect(minutesOf('unplugged')).toBe(2);
  });
  it('what was done lately moves the suspects', () => {
    const observations = [press('46', 5, 5), ...fine('41', '45', '47', '26', '36', '56')];
    const share = (done: string[]) => findFault(lantern, { observations, results: [], done }).shares.get('diode 46') ?? 0;
    expect(share(['switch-replaced'])).toBeGreaterThan(share([]));
  });
});

describe('the other polarity (Tin Orchard, SB-1) and another harness (Kestrel Post)', () => {
  it('a dead column on SB-1', () => {
    const found = find(orchard, [...['25', '26', '27', '28', '29'].map((n) => press(n, 3, 3)), ...fine('33', '34', '35', '36')]);
    expect(found.suspects.every((s) => s.id.includes('switch-column.4') || s.id.includes('A1J7-6') || s.id.startsWith('insulation'))).toBe(
      true,
    );
  });
  it('a row closed at rest on SB-1 is at the supply, not at ground', () => {
    const row5 = active('05', '29', '37', '45', '61');
    const found = find(orchard, row5, [{ test: 'all unplugged', saw: 'clear' }]);
    expect(found.suspects.find((s) => s.id === 'short switch-row.5')?.how).toBe('to supply');
  });
  it('a dead row on Kestrel Post', () => {
    const found = find(kestrel, [...['51', '52', '53'].map((n) => press(n, 3, 3)), ...fine('41', '42', '43')]);
    expect(found.suspects.length).toBeGreaterThan(0);
    for (const { id } of found.suspects)
      for (const number of ['51', '52', '53']) expect(networkOf(kestrel).elements.get(id)?.serves.has(number) ?? true, id).toBe(true);
  });
});
