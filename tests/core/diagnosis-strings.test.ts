/** Lamp strings. Truth table: fault model table, from common practice; weights and shares from memory. */
import { describe, expect, test } from 'vitest';
import { drivenWeight } from '@/lib/core/diagnosis/driven/priors-driven';
import { harm } from '@/lib/core/diagnosis/driven/scenes';
import {
  dropChance,
  dropOf,
  drops,
  heatWatts,
  rerated,
  type StringHarm,
  type StringSymptom,
  stringSymptom,
  voltsFromLight,
  voltsLeft,
} from '@/lib/core/diagnosis/driven/string-table';
import { type StringSeen, stringsField } from '@/lib/core/diagnosis/driven/strings';
import type { Result } from '@/lib/core/diagnosis/types';
import { weigh } from '@/lib/core/diagnosis/weigh';
import { type Cause, drivenChart, enumerated, likeliest } from './diagnosis-fixture';

const chart = drivenChart();
const seen = (shows: StringSymptom): StringSeen => ({ kind: 'string', string: 'G1', shows });
const drop = (pin: string, millivolts: number): StringSeen => ({ kind: 'drop', pin, millivolts });
const top = (what: StringSeen[], results: Result[] = [], count = 1) =>
  likeliest(stringsField(chart, what, results, drivenWeight).field, count);

describe('figures', () => {
  test('rerating of tungsten: 70 % of the light at 90 % of the volts (published exponent 3.4)', () => {
    expect(rerated(0.9).light).toBeCloseTo(0.699, 3);
    expect(rerated(0.9).current).toBeCloseTo(0.944, 3);
    expect(rerated(0.9).life).toBeGreaterThan(3.5); // 0.9^−12 = 3.54
    expect(voltsFromLight(rerated(0.8).light)).toBeCloseTo(0.8, 9);
    expect(rerated(1)).toEqual({ light: 1, current: 1, life: 1 });
  });
  test('heat and volts left: 0.25 V at 5 A are 1.25 W; 6.3 V less 5 A through 50 mΩ are 6.05 V', () => {
    expect(heatWatts(250, 5)).toBeCloseTo(1.25, 9);
    expect(voltsLeft(6.3, 5, 0.05)).toBeCloseTo(6.05, 9);
  });
  test('classes of drop turn at 20, 100 and 250 mV (common practice, no source)', () => {
    expect([0, 19, 20, 99, 100, 249, 250, 900].map(dropOf)).toEqual([
      'under 20',
      'under 20',
      '20 to 100',
      '20 to 100',
      '100 to 250',
      '100 to 250',
      'over 250',
      'over 250',
    ]);
  });
});

describe('the table, row by row', () => {
  test.each<[string, StringHarm, StringSymptom]>([
    ['fuse', 'fuse-open', 'dark'],
    ['winding, relay, only pin of a leg', 'dark', 'dark'],
    ['high resistance', 'dim', 'dim'],
    ['intermittent', 'flicker', 'flickers'],
    ['bus open', 'dark-beyond', 'dark beyond one socket'],
    ['bus of high resistance', 'dim-beyond', 'dim beyond one socket'],
    ['lamp or socket', 'one-dark', 'one dark'],
    ['short', 'shorted', 'fuse blows'],
  ])('%s', (_, does, symptom) => expect(stringSymptom([harm(does, ['G1'])], 'G1')).toBe(symptom));

  test('pairs: what is worse decides', () => {
    expect(stringSymptom([harm('dim', ['G1']), harm('dark', ['G1'])], 'G1')).toBe('dark');
    expect(stringSymptom([harm('flicker', ['G1']), harm('dim', ['G1'])], 'G1')).toBe('dim');
    expect(stringSymptom([harm('dim', ['G2'])], 'G1')).toBe('lit');
  });
  const most = (chances: number[]) => drops[chances.indexOf(Math.max(...chances))];
  test('drops: the bad terminal shows it, its mate carries more, a dark string shows none', () => {
    const at = (pin: string, beside: string[], ...harms: [StringHarm, string][]) =>
      most(
        dropChance(
          harms.map(([d, on]) => harm(d, [on])),
          'terminal',
          pin,
          'G1',
          beside,
        ),
      );
    expect(at('A2J7-1', ['A2J7-2'])).toBe('under 20');
    expect(['100 to 250', 'over 250']).toContain(at('A2J7-1', ['A2J7-2'], ['terminal-high', 'A2J7-1']));
    expect(at('A2J7-2', ['A2J7-1'], ['terminal-open', 'A2J7-1'])).toBe('20 to 100');
    expect(at('A2J7-1', ['A2J7-2'], ['fuse-open', 'G1'], ['terminal-high', 'A2J7-1'])).toBe('under 20');
    expect(at('A2J7-3', [], ['terminal-open', 'A2J7-3'], ['dark', 'G1'])).toBe('over 250'); // all the volts stand across the break
  });
});

describe('posterior', () => {
  test('dim: terminals before joints, and the only pin of a leg before one of two', () => {
    const found = weigh(stringsField(chart, [seen('dim')], [], drivenWeight).field, []).elements;
    const p = (e: string) => found.get(e) ?? 0;
    expect(p('terminal A2J7-3')).toBeGreaterThan(p('joint A2J7-3'));
    // Alone, by hand: all of its high resistance dims the string, against half of a pin that has another beside it.
    const { field } = stringsField(chart, [seen('dim')], [], drivenWeight);
    const alone = (element: string) =>
      field.modes.filter((m) => m.element === element).reduce((sum, m) => sum + m.weight * Math.exp(field.given([m])), 0);
    const ratio = alone('terminal A2J7-3') / alone('terminal A2J7-1');
    expect(ratio).toBeGreaterThan(1.95);
    expect(ratio).toBeLessThan(2.05);
    expect(p('fuse G1')).toBeLessThan(0.02);
  });
  test('a drop says which; a good one clears its terminal', () => {
    expect(top([seen('dim'), drop('A2J7-1', 320)])).toEqual(['terminal A2J7-1']);
    expect(top([seen('dim'), drop('A2J7-3', 8), drop('A2J7-1', 9), drop('A2J7-2', 11)])).not.toContain('terminal A2J7-3');
    expect(top([seen('dim'), drop('A2J7-3', 8)], [{ test: 'joint-drop A2J7-3', saw: 'over 250' }])).toEqual(['joint A2J7-3']);
  });
  test('dark, fuse whole and volts at the header: the only pin of the return', () => {
    const results = [
      { test: 'fuse G1', saw: 'whole' },
      { test: 'header-volts G1', saw: 'good' },
    ];
    expect(top([seen('dark')], results, 2).sort()).toEqual(['joint A2J7-3', 'terminal A2J7-3']);
  });
  test('dark beyond one socket: the bus', () => {
    expect(top([seen('dark beyond one socket')], [], 2).sort()).toEqual(['bus illumination.1', 'bus illumination.1-back']);
  });
  test('one dark: the lamp; still dark with a new one: its socket', () => {
    expect(top([seen('one dark')])).toEqual(['lamp G1']);
    expect(top([seen('one dark')], [{ test: 'bulb G1', saw: 'same' }])).toEqual(['socket G1']);
  });
  test('fuse blows: a short', () => expect(top([seen('fuse blows')])).toEqual(['short G1']));

  test('agrees with an enumeration by hand', () => {
    type Does = 'dark' | 'fuse' | 'shorted' | 'one';
    const weights: Record<string, number> = { fuse: 0.7, 'string-winding': 0.1, 'string-lamp': 20, 'string-short': 0.3 };
    const cause = (element: string, weight: number, does: Does): Cause<Does> => ({ element, weight, ways: [{ does: [does], share: 1 }] });
    const causes = [
      cause('fuse G1', 0.7, 'fuse'),
      cause('winding G1', 0.1, 'dark'),
      cause('lamp G1', 20, 'one'),
      cause('short G1', 0.3, 'shorted'),
    ];
    const spread = (share: number) => 0.98 * share + (0.02 * (1 - share)) / 7; // eight words
    const chance = (does: readonly Does[]) => {
      const shorted = does.includes('shorted');
      const dark = does.includes('dark') || does.includes('fuse');
      const blown = does.includes('fuse') || shorted;
      return spread(shorted ? 0.5 : Number(dark)) * (blown ? 0.98 : 0.02);
    };
    const hand = enumerated(causes, chance);
    const found = weigh(stringsField(chart, [seen('dark')], [{ test: 'fuse G1', saw: 'blown' }], (kind) => weights[kind] ?? 0).field, []);
    expect(found.none).toBeCloseTo(hand.none, 6);
    for (const { element } of causes)
      expect([element, (found.elements.get(element) ?? 0).toFixed(5)]).toEqual([element, (hand.elements.get(element) ?? 0).toFixed(5)]);
  });
});

test('cautions: low voltage only, heat, never the primary', () => {
  const { notes, probes } = stringsField(chart, [seen('dim'), drop('A2J7-1', 250)], [], drivenWeight);
  expect(notes[0]).toMatch(/A2J7-1 drops 250 mV: remake it now. It makes about 0.63 W/); // 0.25 V at half of 5 A
  expect(notes.join(' ')).toMatch(/never a finger.*primary is mains.*licensed/);
  for (const p of probes) expect([p.id, p.hazard <= 1]).toEqual([p.id, true]);
  expect(probes.map((p) => p.id)).not.toContain('drop A2J7-1'); // measured already
  expect(stringsField(chart, [{ kind: 'string', string: 'G9', shows: 'dark' }], [], drivenWeight).notes.join(' ')).toMatch(/no string G9/);
});

test('every test: chances sum to 1, keys tell the same', () => {
  for (const what of ['dark', 'dim', 'flickers', 'one dark', 'fuse blows'] as const) {
    const { field, probes } = stringsField(chart, [seen(what)], [], drivenWeight);
    expect(probes.length).toBeGreaterThan(0);
    expect(new Set(field.modes.map((m) => m.key)).size).toBeLessThan(40);
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
  }
});
