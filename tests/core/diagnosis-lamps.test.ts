/** Matrix lamps. Truth table: fault model table, from common practice; weights and shares from memory. */
import { describe, expect, test } from 'vitest';
import { type LampHarm, type LampSpot, type LampSymptom, lampShares, lightShare, litWith } from '@/lib/core/diagnosis/driven/lamp-table';
import { type LampSeen, lampsField } from '@/lib/core/diagnosis/driven/lamps';
import { drivenWeight } from '@/lib/core/diagnosis/driven/priors-driven';
import { harm } from '@/lib/core/diagnosis/driven/scenes';
import { weigh } from '@/lib/core/diagnosis/weigh';
import { type Cause, drivenChart, enumerated, likeliest } from './diagnosis-fixture';

const chart = drivenChart();
const spots = (led = false) =>
  [1, 2, 3].flatMap((column) => [1, 2, 3].map((row): LampSpot => ({ number: `${column}${row}`, column, row, led })));
const column = (n: number) => [`${n}1`, `${n}2`, `${n}3`];
const row = (n: number) => [`1${n}`, `2${n}`, `3${n}`];
type Fault = readonly [LampHarm, readonly string[]];
/** What each lamp shows most, for lamps that are not as they should be. */
const odd = (led: boolean, ...faults: Fault[]) => {
  const all = spots(led);
  const harms = faults.map(([does, on]) => harm(does, on));
  return Object.fromEntries(
    all.flatMap((lamp) => {
      const shares = Object.entries(lampShares(harms, lamp, (n) => all.find((s) => s.number === n))) as [LampSymptom, number][];
      const [most] = shares.sort((a, b) => b[1] - a[1]);
      return most && most[0] !== 'lit when commanded' ? [[lamp.number, most[0]]] : [];
    }),
  );
};
const lit = (led: boolean, commanded: string, ...faults: Fault[]) => {
  const all = spots(led);
  const of = (n: string) => all.find((s) => s.number === n);
  const lamp = of(commanded);
  if (!lamp) throw new Error('no such lamp');
  const harms = faults.map(([does, on]) => harm(does, on));
  return all.filter((s) => litWith(harms, s, lamp, of)).map((s) => s.number);
};
const all = (numbers: readonly string[], what: LampSymptom) => Object.fromEntries(numbers.map((n) => [n, what]));

describe('the table, row by row', () => {
  test('a healthy matrix lights the one that is commanded', () => {
    expect(odd(false)).toEqual({});
    expect(lit(false, '22')).toEqual(['22']);
  });
  test.each<[string, Fault, readonly string[]]>([
    ['column feed dead', ['column-dead', column(2)], column(2)],
    ['column path open', ['column-cut', column(2)], column(2)],
    ['row dead', ['row-dead', row(1)], row(1)],
    ['column to ground', ['column-grounded', column(2)], column(2)],
    ['row to the feed supply', ['row-supplied', row(1)], row(1)],
    ['lamp open', ['bulb', ['22']], ['22']],
    ['lamp or socket shorted', ['bulb-shorted', ['22']], ['22']],
    ['diode open', ['diode-open', ['22']], ['22']],
    ['diode reversed', ['diode-reversed', ['22']], ['22']],
    ['column touches its row', ['crossed', ['22']], ['22']],
  ])('%s: dark', (_, fault, dark) => {
    const found = odd(false, fault);
    expect(Object.entries(found).flatMap(([n, what]) => (what === 'dark' ? [n] : []))).toEqual([...dark].sort());
    for (const n of dark) expect(lit(false, n, fault)).not.toContain(n);
  });
  test('column stuck on: too bright, and lit with any of the same row', () => {
    expect(odd(false, ['column-on', column(2)])).toEqual(all(column(2), 'too bright'));
    expect(lit(false, '13', ['column-on', column(2)])).toEqual(['13', '23']);
  });
  test('row stuck sinking, or grounded: the whole row always', () => {
    for (const does of ['row-on', 'row-grounded'] as const) expect(odd(false, [does, row(1)])).toEqual(all(row(1), 'always lit'));
    expect(lit(false, '33', ['row-on', row(1)])).toEqual(['11', '21', '31', '33']);
  });
  test('lines that touch: both show the OR', () => {
    expect(lit(false, '12', ['columns-joined', [...column(1), ...column(2)]])).toEqual(['12', '22']);
    expect(lit(false, '12', ['rows-joined', [...row(2), ...row(3)]])).toEqual(['12', '13']);
  });
  test('column touches row: two in series glow; half the volts are 9.5 % of the light', () => {
    expect(lightShare(0.5)).toBeCloseTo(0.095, 3);
    expect(lit(false, '11', ['crossed', ['22']])).toEqual(['11', '12', '21']);
    expect(lit(false, '12', ['crossed', ['22']])).toEqual(['12']); // shares its row
  });
  test('diode shorted: three in series, 2.4 % of the light: LEDs glow, tungsten does not', () => {
    expect(lightShare(1 / 3)).toBeCloseTo(0.024, 3);
    expect(lit(false, '11', ['diode-shorted', ['22']])).toEqual(['11']);
    expect(lit(true, '11', ['diode-shorted', ['22']])).toEqual(['11', '12', '21']);
    expect(lit(true, '11', ['diode-reversed', ['22']])).toEqual(['11', '12', '21']);
  });
  test('pairs: a dead feed darkens what a stuck row would light', () => {
    expect(odd(false, ['row-on', row(1)], ['column-dead', column(2)])).toEqual({
      ...all(column(2), 'dark'),
      '11': 'always lit',
      '31': 'always lit',
    });
  });
});

describe('posterior', () => {
  const one = (lamp: string, shows: LampSymptom): LampSeen => ({ kind: 'lamp', lamp, shows });
  const top = (seen: LampSeen[], results: Parameters<typeof lampsField>[2] = [], count = 1) =>
    likeliest(lampsField(chart, seen, results, drivenWeight).field, count);

  test('one dark: the lamp; a new lamp that stays dark: lug, diode or socket', () => {
    const seen = [one('22', 'dark'), one('21', 'lit when commanded'), one('12', 'lit when commanded')];
    expect(top(seen)).toEqual(['bulb 22']);
    expect(top(seen, [{ test: 'bulb 22', saw: 'same' }])).toEqual(['lug 22']);
    expect(
      top(seen, [
        { test: 'bulb 22', saw: 'same' },
        { test: 'socket 22', saw: 'sound' },
      ]),
    ).toEqual(['diode 22']);
    expect(
      top(seen, [
        { test: 'bulb 22', saw: 'same' },
        { test: 'diode 22', saw: 'open' },
      ]),
    ).toEqual(['diode 22']);
  });
  test('a whole column dark: what feeds it', () => {
    const seen: LampSeen[] = [{ kind: 'line', axis: 'column', line: 2, shows: 'dark' }, one('12', 'lit when commanded')];
    expect(top(seen, [], 3).every((e) => ['joint A2J5-2', 'terminal A2J5-2', 'lamp driver column 2'].includes(e))).toBe(true);
    expect(top(seen, [{ test: 'strobe lamp-column.2', saw: 'none' }])).toEqual(['lamp driver column 2']);
  });
  test('a row lit with every lamp off: its driver or ground, never its column', () => {
    const seen: LampSeen[] = [
      { kind: 'line', axis: 'row', line: 1, shows: 'always lit' },
      { kind: 'all-off', lit: row(1) },
    ];
    expect(top(seen, [], 2)).toEqual(['lamp driver row 1', 'ground lamp-row.1']);
    expect(top(seen, [{ test: 'ohms lamp-row.1', saw: 'ground' }])).toEqual(['ground lamp-row.1']);
  });
  test('a column too bright: its driver is stuck', () => {
    expect(top([{ kind: 'line', axis: 'column', line: 2, shows: 'too bright' }])).toEqual(['lamp driver column 2']);
  });
  test('one commanded, its neighbour in the row lights too: columns touch', () => {
    expect(
      top([{ kind: 'alone', commanded: '12', lit: ['12', '22'] }, one('22', 'lit with another'), one('12', 'lit with another')]),
    ).toEqual(['join lamp-column.1']);
  });

  test('agrees with an enumeration by hand', () => {
    type Does = 'lamp 22' | 'lamp 21' | 'row 2' | 'column 2';
    const cause = (element: string, weight: number, does: Does): Cause<Does> => ({ element, weight, ways: [{ does: [does], share: 1 }] });
    const weights: Record<string, number> = { lamp: 20, 'lamp-driver-dead': 0.6 };
    // Row 1 and column 2 hold lamp 21 too; lamp 12, offered for a look, has the drivers of column 1 and row 2.
    const causes = [
      cause('bulb 22', 20, 'lamp 22'),
      cause('bulb 21', 20, 'lamp 21'),
      cause('lamp driver column 2', 0.6, 'column 2'),
      cause('lamp driver row 2', 0.6, 'row 2'),
      cause('lamp driver row 1', 0.6, 'lamp 21'),
    ];
    const spread = (share: number) => 0.98 * share + (0.02 * (1 - share)) / 6; // seven words
    const chance = (does: readonly Does[]) => {
      const has = (d: Does) => does.includes(d);
      const dark22 = has('lamp 22') || has('row 2') || has('column 2');
      const dark21 = has('lamp 21') || has('column 2');
      return spread(Number(dark22)) * spread(Number(!dark21));
    };
    const { field } = lampsField(chart, [one('22', 'dark'), one('21', 'lit when commanded')], [], (kind) => weights[kind] ?? 0);
    const known = new Set(causes.map((c) => c.element));
    // Lamps that are only offered for a look bring faults that show nowhere in what was seen.
    for (const mode of field.all?.modes ?? [])
      if (!known.has(mode.element)) causes.push({ element: mode.element, weight: mode.weight, ways: [{ does: [], share: 1 }] });
    const hand = enumerated(causes, chance);
    const found = weigh(field, []);
    for (const element of known)
      expect([element, (found.elements.get(element) ?? 0).toFixed(5)]).toEqual([element, (hand.elements.get(element) ?? 0).toFixed(5)]);
    expect(found.none).toBeCloseTo(hand.none, 6);
  });
});

test('cautions: a shorted lamp kills a driver, a lamp that is always on burns', () => {
  expect(lampsField(chart, [{ kind: 'lamp', lamp: '22', shows: 'dark' }], [], drivenWeight).notes.join(' ')).toMatch(/kills the driver/);
  expect(lampsField(chart, [{ kind: 'lamp', lamp: '22', shows: 'always lit' }], [], drivenWeight).notes[0]).toMatch(/^Power off soon/);
  expect(lampsField(chart, [{ kind: 'lamp', lamp: '99', shows: 'dark' }], [], drivenWeight).notes.join(' ')).toMatch(/no lamp 99.*Add it/);
});

test('every test: chances sum to 1, keys tell the same', () => {
  const { field, probes } = lampsField(chart, [{ kind: 'lamp', lamp: '22', shows: 'dark' }], [], drivenWeight);
  expect(probes.length).toBeGreaterThan(10);
  expect(new Set(field.modes.map((m) => m.key)).size).toBeLessThan(70);
  const first = new Map<string, (typeof field.modes)[number]>();
  for (const mode of field.modes) {
    const like = first.get(mode.key) ?? mode;
    first.set(mode.key, like);
    expect(field.given([mode])).toBeCloseTo(field.given([like]), 9);
    for (const p of probes) {
      expect(p.chance([mode])).toEqual(p.chance([like]));
      expect(p.chance([mode]).reduce((a, b) => a + b, 0)).toBeCloseTo(1, 6);
    }
  }
});
