/** Driven loads. Truth table: fault model table, from common practice; weights and shares from memory. */
import { describe, expect, test } from 'vitest';
import { partsOf } from '@/lib/core/diagnosis/driven/driven-lines';
import {
  circuitOf,
  coilOhmsOf,
  type LoadHarm,
  onAlone,
  passes,
  readingsOf,
  type Symptom,
  symptomsOf,
} from '@/lib/core/diagnosis/driven/load-table';
import { type LoadSeen, loadsField } from '@/lib/core/diagnosis/driven/loads';
import { drivenWeight } from '@/lib/core/diagnosis/driven/priors-driven';
import { harm } from '@/lib/core/diagnosis/driven/scenes';
import type { Result } from '@/lib/core/diagnosis/types';
import { weigh } from '@/lib/core/diagnosis/weigh';
import { type Cause, drivenChart, enumerated, likeliest } from './diagnosis-fixture';

const chart = drivenChart();
const at = (...does: LoadHarm[]) =>
  circuitOf(
    does.map((d) => harm(d, ['L1'])),
    'L1',
  );
const shows = (...does: LoadHarm[]) => Object.keys(symptomsOf(at(...does)));
const seen = (load: string, what: Symptom): LoadSeen => ({ load, shows: what });
const saw = (test: string, outcome: string): Result => ({ test, saw: outcome });
const volts = (load: string, a: string, b: string, d: string) => [
  saw(`volts-a ${load}`, a),
  saw(`volts-b ${load}`, b),
  saw(`volts-d ${load}`, d),
];

describe('the table, row by row', () => {
  test.each<[string, LoadHarm[], string, string, string, Symptom[]]>([
    ['healthy', [], 'supply', 'supply', 'supply', ['fires']],
    ['before the fuse', ['feed-cut'], 'none', 'none', 'none', ['dead']],
    ['fuse open', ['fuse-blown'], 'none', 'none', 'none', ['dead']],
    ['holder open', ['holder-cut'], 'none', 'none', 'none', ['dead']],
    ['chain open', ['supply-cut'], 'none', 'none', 'none', ['dead']],
    ['winding open', ['winding-open'], 'supply', 'none', 'none', ['dead']],
    ['return open', ['return-cut'], 'supply', 'supply', 'none', ['dead']],
    ['driver open', ['driver-cut'], 'supply', 'supply', 'supply', ['dead']],
    ['pre-driver dead', ['drive-cut'], 'supply', 'supply', 'supply', ['dead']],
    ['driver shorted', ['driver-on'], 'supply', 'low', 'low', ['always on']],
    ['pre-driver stuck', ['drive-on'], 'supply', 'low', 'low', ['always on']],
    ['return wire to ground', ['return-grounded'], 'supply', 'low', 'low', ['always on']],
    ['shorted turns', ['turns'], 'supply', 'supply', 'supply', ['weak', 'fuse blows', 'driver dies again', 'fires']],
    ['diode shorted', ['flyback-shorted'], 'supply', 'supply', 'supply', ['fuse blows', 'driver dies again', 'dead']],
    ['diode reversed', ['flyback-reversed'], 'supply', 'supply', 'supply', ['fuse blows', 'driver dies again', 'dead']],
    ['lamp of a flasher shorted', ['shorted'], 'supply', 'supply', 'supply', ['fuse blows', 'driver dies again', 'dead']],
    ['diode open', ['flyback-open'], 'supply', 'supply', 'supply', ['fires', 'driver dies again']],
    ['high resistance in the supply', ['supply-weak'], 'supply', 'supply', 'supply', ['weak']],
    ['strong winding or its contact open', ['power-open'], 'supply', 'supply', 'supply', ['weak']],
    ['end-of-stroke never opens', ['never-opens'], 'supply', 'supply', 'supply', ['fires', 'fuse blows', 'driver dies again']],
  ])('%s', (_, harms, a, b, d, symptoms) => {
    expect(readingsOf(at(...harms))).toEqual({ a, b, d });
    expect(shows(...harms)).toEqual(symptoms);
    expect(Object.values(symptomsOf(at(...harms))).reduce((x, y) => x + y, 0)).toBeCloseTo(1);
  });

  test('the tab fires it past a driver, not past winding, return or supply', () => {
    expect([passes(at('driver-cut')), passes(at('drive-cut')), passes(at())]).toEqual([true, true, true]);
    expect([passes(at('winding-open')), passes(at('return-cut')), passes(at('fuse-blown'))]).toEqual([false, false, false]);
  });

  test('pairs are composed by the circuit: what is upstream decides', () => {
    expect(readingsOf(at('supply-cut', 'driver-on'))).toEqual({ a: 'none', b: 'none', d: 'none' });
    expect(shows('supply-cut', 'driver-on')).toEqual(['dead']);
    expect(readingsOf(at('winding-open', 'return-cut'))).toEqual({ a: 'supply', b: 'none', d: 'none' });
    // A stuck driver behind an open return lets go of the coil; a grounded wire before the break does not.
    expect(onAlone(at('return-cut', 'driver-on'))).toBe(false);
    expect(readingsOf(at('return-cut', 'driver-on'))).toEqual({ a: 'supply', b: 'supply', d: 'low' });
    expect(onAlone(at('return-cut', 'return-grounded'))).toBe(true);
    // A shorted diode carries the supply past an open winding.
    expect(readingsOf(at('winding-open', 'flyback-shorted')).b).toBe('supply');
    expect(shows('flyback-shorted', 'driver-on')).toEqual(['fuse blows']);
    expect(coilOhmsOf(at('winding-open', 'turns'))).toBe('open');
  });
});

describe('what each part of the supply serves', () => {
  const serves = (ring: boolean) =>
    Object.fromEntries(
      partsOf(drivenChart(ring), 'supply.coil', 'load', ['L1', 'L2', 'L3', 'L4']).parts.map((p) => [p.id, p.serves.join(' ')]),
    );
  test('a chain: everything beyond the break', () => {
    expect(serves(false)).toEqual({
      'tap A2J1-1': 'L1 L2 L3',
      'run A2J1-1 L1': 'L1 L2 L3',
      'run A2J1-1 L1 L2': 'L2 L3',
      'run A2J1-1 L2 L3': 'L3',
      'tap A2J1-2': 'L4',
      'run A2J1-2 L4': 'L4',
    });
  });
  test('a closed ring: one break cuts nobody off', () => {
    expect(serves(true)).toEqual({});
  });
});

describe('posterior', () => {
  const others = [seen('L2', 'fires'), seen('L3', 'fires'), seen('L4', 'fires')];
  const topAfter = (...results: Result[]) => likeliest(loadsField(chart, [seen('L1', 'dead'), ...others], results, drivenWeight).field, 4);

  test('supply at both lugs, nothing at the driver: the return', () => {
    expect(topAfter(...volts('L1', 'supply', 'supply', 'none')).sort()).toEqual([
      'joint A2J3-1',
      'return lug L1',
      'run A2J3-1 L1',
      'terminal A2J3-1',
    ]);
  });
  test('supply at the first lug only: the winding and its leads', () => {
    expect(
      topAfter(...volts('L1', 'supply', 'none', 'none'))
        .slice(0, 2)
        .sort(),
    ).toEqual(['winding L1', 'winding lead L1']);
  });
  test('supply all the way and the tab fires it: driver or what drives it', () => {
    expect(topAfter(...volts('L1', 'supply', 'supply', 'supply'), saw('tab L1', 'fires')).slice(0, 2)).toEqual([
      'driver L1',
      'predriver of L1',
    ]);
  });
  test('nothing at the supply lug while those beyond fire: its own lug', () => {
    expect(topAfter(...volts('L1', 'none', 'none', 'none'))[0]).toBe('supply lug L1');
  });
  test('dead from one coil on: the run before it, not the fuse', () => {
    const { field } = loadsField(
      chart,
      [seen('L1', 'fires'), seen('L2', 'dead'), seen('L3', 'dead'), seen('L4', 'fires')],
      volts('L2', 'none', 'none', 'none'),
      drivenWeight,
    );
    const found = weigh(field, []).elements;
    expect(likeliest(field, 1)).toEqual(['run A2J1-1 L1 L2']);
    expect(found.get('fuse F3') ?? 0).toBeLessThan(0.01);
  });
  test('all of the fuse dead: fuse, and who blew it', () => {
    const { field } = loadsField(
      chart,
      ['L1', 'L2', 'L3', 'L4'].map((l) => seen(l, 'dead')),
      [saw('fuse F3', 'blown')],
      drivenWeight,
    );
    const found = weigh(field, []).elements;
    // By hand, singles only: a fuse that blows by itself weighs 0.7; four stuck drivers, 1.5 each, three in ten found blown, half of those
    // called dead and not "fuse blows", weigh 0.9: 1.29 to 1.
    const drivers = [1, 2, 3, 4].reduce((sum, n) => sum + (found.get(`driver L${n}`) ?? 0), 0);
    expect(drivers / (found.get('fuse F3') ?? 1)).toBeGreaterThan(1.2);
    expect(drivers / (found.get('fuse F3') ?? 1)).toBeLessThan(1.6);
    const named = weigh(
      loadsField(
        chart,
        ['L1', 'L2', 'L3', 'L4'].map((l) => seen(l, 'dead')),
        [saw('fuse F3', 'blown'), saw('draws F3', 'L3')],
        drivenWeight,
      ).field,
      [],
    ).elements;
    expect((named.get('driver L3') ?? 0) + (named.get('diode L3') ?? 0)).toBeGreaterThan(0.5);
  });
  test('a locked-on coil that stays on without its plug: the wire', () => {
    const on = (outcome: string) =>
      likeliest(loadsField(chart, [seen('L1', 'always on')], [saw('unplug-return L1', outcome)], drivenWeight).field, 1)[0];
    expect(on('on')).toBe('ground L1');
    expect(on('off')).toBe('driver L1');
  });
  test('a driver that dies again: winding or diode, not the driver', () => {
    const found = likeliest(loadsField(chart, [seen('L1', 'driver dies again')], [], drivenWeight).field, 2);
    expect(found.sort()).toEqual(['diode L1', 'winding L1']);
  });
  test('weak and double-wound: the end-of-stroke contact', () => {
    expect(likeliest(loadsField(chart, [seen('L4', 'weak'), seen('L1', 'fires')], [], drivenWeight).field, 1)).toEqual(['stroke L4']);
  });

  test('agrees with an enumeration by hand', () => {
    type Does = `${'open' | 'cut' | 'on'} ${number}` | 'blown';
    const weights: Record<string, number> = { 'coil-open': 1, 'driver-open': 0.6, 'driver-shorted': 1.5, fuse: 0.7 };
    const causes: Cause<Does>[] = [1, 2, 3, 4].flatMap((n): Cause<Does>[] => [
      { element: `winding L${n}`, weight: 1, ways: [{ does: [`open ${n}`], share: 1 }] },
      { element: `driver L${n}`, weight: 0.6, ways: [{ does: [`cut ${n}`], share: 1 }] },
      {
        element: `driver L${n}`,
        weight: 1.5,
        ways: [
          { does: [`on ${n}`], share: 0.7 },
          { does: [`on ${n}`, 'blown'], share: 0.3 },
        ],
      },
    ]);
    causes.push({ element: 'fuse F3', weight: 0.7, ways: [{ does: ['blown'], share: 1 }] });
    const spread = (share: number) => 0.98 * share + (0.02 * (1 - share)) / 5;
    const chance = (does: readonly Does[]) => {
      const has = (d: Does) => does.includes(d);
      const l1 = has('blown') ? (has('on 1') ? 0.5 : 1) : has('open 1') ? 1 : has('on 1') ? 0 : has('cut 1') ? 1 : 0; // dead
      const l2 = has('blown') || has('open 2') || has('on 2') || has('cut 2') ? 0 : 1; // fires
      const a = has('blown') ? 0.02 : 0.98; // supply read at L1
      return spread(l1) * spread(l2) * a;
    };
    const hand = enumerated(causes, chance);
    const { field } = loadsField(
      chart,
      [seen('L1', 'dead'), seen('L2', 'fires')],
      [saw('volts-a L1', 'supply')],
      (kind) => weights[kind] ?? 0,
    );
    const found = weigh(field, []);
    expect(found.none).toBeCloseTo(hand.none, 6);
    // Those of L3 and L4 touch nothing that was seen: they count in every sum, and are not listed.
    expect([...found.elements.keys()].filter((e) => /L[34]/.test(e)).sort()).toEqual(['driver L3', 'driver L4']);
    for (const element of ['winding L1', 'driver L1', 'winding L2', 'driver L2', 'fuse F3'])
      expect([element, (found.elements.get(element) ?? 0).toFixed(5)]).toEqual([element, hand.elements.get(element)?.toFixed(5)]);
  });
});

describe('safety', () => {
  test('a load that is on by itself: power off at once, and no test that leaves it powered', () => {
    const { notes, probes } = loadsField(chart, [seen('L1', 'always on'), seen('L2', 'fires')], [], drivenWeight);
    expect(notes[0]).toMatch(/^Power off at once: L1/);
    expect(probes.filter((p) => p.power === 'on').map((p) => p.id)).toEqual(['unplug-return L1']);
  });
  test('a blown fuse points to a cause; a driver that died twice waits', () => {
    expect(loadsField(chart, [seen('L1', 'fuse blows')], [], drivenWeight).notes.join(' ')).toMatch(
      /find it before another goes in.*never a larger one/,
    );
    expect(loadsField(chart, [seen('L1', 'driver dies again')], [], drivenWeight).notes.join(' ')).toMatch(/no new driver for L1 before/);
  });
  test('hazards: live rail 2, metal on a rail with a reservoir 3, eyes only 0', () => {
    for (const what of ['dead', 'weak', 'fuse blows', 'driver dies again'] as const) {
      const { probes, notes } = loadsField(chart, [seen('L1', what)], [], drivenWeight);
      expect(notes.join(' ')).toMatch(/4700 µF at 52 V stay charged.*discharge through a resistor/);
      for (const p of probes) {
        if (/live/i.test(p.title)) expect([p.id, p.hazard]).toEqual([p.id, 2]);
        if (/ohms|diode range/.test(p.title)) expect([p.id, p.hazard, p.power === 'on']).toEqual([p.id, 3, false]);
        expect(p.title).not.toMatch(/primary|inlet/);
      }
    }
  });
});

test('every test: at least two outcomes, chances sum to 1 for singles and pairs', () => {
  const { field, probes } = loadsField(chart, [seen('L1', 'dead'), seen('L2', 'fires')], [], drivenWeight);
  expect(probes.length).toBeGreaterThan(10);
  for (const p of probes) {
    expect(p.outcomes.length).toBeGreaterThan(1);
    for (const [i, mode] of field.modes.entries()) {
      const other = field.modes[(i * 7 + 3) % field.modes.length];
      for (const modes of [[mode], other && other.element !== mode.element ? [mode, other] : [mode]])
        expect(p.chance(modes).reduce((a, b) => a + b, 0)).toBeCloseTo(1, 6);
    }
  }
});

test('modes with one key have the same chances', () => {
  const { field, probes } = loadsField(chart, [seen('L1', 'dead'), seen('L2', 'fires')], [], drivenWeight);
  const first = new Map<string, (typeof field.modes)[number]>();
  for (const mode of field.modes) {
    const like = first.get(mode.key);
    if (!like) first.set(mode.key, mode);
    else {
      expect(field.given([mode])).toBeCloseTo(field.given([like]), 9);
      for (const p of probes) expect(p.chance([mode])).toEqual(p.chance([like]));
    }
  }
  expect(first.size).toBeLessThan(50); // pairs of these are weighed: the time of a look-up grows with the square
});

test('strangers are named, not guessed', () => {
  const { notes, field } = loadsField(chart, [seen('L9', 'dead')], [saw('coil L9', 'open')], drivenWeight);
  expect(notes.join(' ')).toMatch(/no load L9.*Add it/);
  expect(notes.join(' ')).toMatch(/“open” of “coil L9” fits no test/);
  expect(field.modes).toEqual([]);
});
