/** The index against the plainest way to do the same: every fix scored by itself. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Item, Question } from '@/lib/search/ask';
import type { Narrowing } from '@/lib/search/facet';
import { FixIndex, type Indexed } from '@/lib/search/fix-index';
import { standingOf } from '@/lib/search/prior';
import { type Group, groups, leastPart, type Values } from '@/lib/search/score';

const today = 20_000;
const names = [
  'd:flipper',
  'd:spinner',
  'does:weak',
  'does:dead',
  'extent:one',
  'when:warm',
  'w:lane',
  'w:ball',
  'pin:A3J4-7',
  'machine:a',
];
const fix = (page: string, features: Record<string, number> = {}, more: Partial<Indexed> = {}): Indexed => ({
  page,
  features: new Map(Object.entries(features)),
  words: [],
  standing: { outcome: 'mended', proved: false, recurred: false, on: '2024-01-01' },
  labels: {},
  faults: [],
  ...more,
});
const item = (group: Group, options: Item['options'], more: Partial<Item> = {}): Item => ({
  group,
  weight: 1,
  options,
  why: options[0]?.[0] ?? '',
  without: false,
  ...more,
});
const ask = (...items: Item[]): Question => ({
  items,
  quotes: [],
  asked: Object.fromEntries(groups.map((g) => [g, items.some((i) => i.group === g && !i.without) ? 1 : 0])) as Values,
});

/** The formula as it is documented (lib/search/score.ts). */
function scoreOf(v: Values, a: Values): number {
  const fits = a.device === 1 ? v.device : 1 - a.sort + a.sort * v.sort;
  const near = 0.3 + 0.7 * fits;
  const same = 4 * a.does * v.does + a.extent * v.extent + 1.2 * a.when * v.when + a.cause * v.cause;
  return 3 * a.device * v.device + near * same + 1.6 * a.words * v.words + 5 * a.clue * v.clue + 1.5 * a.machine * v.machine;
}

/** By definition: no postings, no slots. */
function plainly(fixes: Indexed[], { items, asked }: Question, narrowing: Narrowing) {
  const scores = fixes
    .filter((f) => Object.entries(narrowing).every(([facet, value]) => f.labels[facet as 'machine'] === value))
    .map((f) => {
      const value = (i: Item) =>
        Math.max(0, ...i.options.map(([feature, by]) => (by * Math.round((f.features.get(feature) ?? 0) * 255)) / 255));
      const values = Object.fromEntries(
        groups.map((group) => {
          const own = items.filter((i) => i.group === group && !i.without);
          const whole = own.reduce((sum, i) => sum + i.weight, 0);
          return [group, whole ? own.reduce((sum, i) => sum + i.weight * value(i), 0) / whole : 0];
        }),
      ) as Values;
      const against = items.some((i) => i.without && value(i) >= 0.4);
      return {
        page: f.page,
        on: f.standing.on,
        score: Math.fround(scoreOf(values, asked) * standingOf(f.standing, today) * (against ? 0.1 : 1)),
      };
    });
  const best = Math.max(0, ...scores.map((s) => s.score));
  return scores
    .filter((s) => best > 0 && s.score >= best * leastPart)
    .sort((a, b) => b.score - a.score || (a.on < b.on ? 1 : a.on > b.on ? -1 : a.page < b.page ? -1 : 1));
}

const anyFix = fc.record({
  page: fc.integer({ min: 0, max: 30 }).map((n) => `p${n}`),
  features: fc.dictionary(fc.constantFrom(...names), fc.constantFrom(0.2, 0.45, 0.9, 1)),
  machine: fc.constantFrom('a', 'b'),
  on: fc.constantFrom('2022-05-01', '2024-01-01', '2024-09-09'),
  outcome: fc.constantFrom('open' as const, 'mended' as const, 'watching' as const),
  proved: fc.boolean(),
});
const anyItem = fc.record({
  group: fc.constantFrom(...groups),
  options: fc.array(fc.tuple(fc.constantFrom(...names), fc.constantFrom(0.3, 0.7, 1)), { minLength: 1, maxLength: 3 }),
  weight: fc.constantFrom(0.4, 1),
  without: fc.boolean(),
});

test('finds what scoring every fix by itself finds, in that order, after any changes', () => {
  fc.assert(
    fc.property(
      fc.array(anyFix, { maxLength: 60 }),
      fc.array(fc.integer({ min: 0, max: 30 }), { maxLength: 8 }),
      fc.array(anyItem, { minLength: 1, maxLength: 5 }),
      fc.option(fc.constantFrom('a', 'b')),
      (given, removed, items, machine) => {
        const index = new FixIndex(() => today);
        const kept = new Map<string, Indexed>();
        for (const { page, features, machine: m, ...standing } of given) {
          const one = fix(page, features, { labels: { machine: m }, standing: { ...standing, recurred: false } });
          index.put(one);
          kept.set(page, one);
        }
        for (const n of removed) {
          index.remove(`p${n}`);
          kept.delete(`p${n}`);
        }
        const question = ask(...items.map((i) => item(i.group, i.options, i)));
        const narrowing = machine ? { machine } : {};
        const expected = plainly([...kept.values()], question, narrowing);
        const found = index.find(question, 10, narrowing);
        expect(found.total).toBe(expected.length);
        expect(found.hits.map((h) => h.page)).toEqual(expected.slice(0, 10).map((e) => e.page));
        for (const [n, hit] of found.hits.entries()) expect(hit.score).toBeCloseTo(expected[n]!.score, 5);
      },
    ),
    { numRuns: 300 },
  );
});

describe('a fix', () => {
  const weak = ask(item('device', [['d:flipper', 1]]), item('does', [['does:weak', 1]]));
  test('that fits the device and what it does comes before one that fits only one of them, and that before none', () => {
    const index = new FixIndex(() => today);
    index.put(fix('device', { 'd:flipper': 1 }));
    index.put(fix('does', { 'does:weak': 1 }));
    index.put(fix('both', { 'd:flipper': 1, 'does:weak': 1 }));
    index.put(fix('none', { 'w:lane': 1 }));
    expect(index.find(weak, 10).hits.map((h) => h.page)).toEqual(['both', 'device', 'does']);
  });
  test('that is proved comes before one that is not, and one that came back within 90 days last', () => {
    const index = new FixIndex(() => today);
    const both = { 'd:flipper': 1, 'does:weak': 1 };
    const standing = { outcome: 'mended' as const, recurred: false };
    index.put(fix('again', both, { faults: ['a coil 83'], standing: { ...standing, proved: true, on: '2024-01-01' } }));
    index.put(fix('plain', both, { standing: { ...standing, proved: false, on: '2024-01-01' } }));
    index.put(fix('proved', both, { standing: { ...standing, proved: true, on: '2024-01-01' } }));
    const order = () => index.find(weak, 10).hits.map((h) => h.page);
    expect(order()).toEqual(['again', 'proved', 'plain']);
    index.put(fix('later', { 'w:lane': 1 }, { faults: ['a coil 83'], standing: { ...standing, proved: true, on: '2024-03-31' } }));
    expect(order()).toEqual(['proved', 'plain', 'again']);
    index.remove('later');
    expect(order()).toEqual(['again', 'proved', 'plain']);
  });
  test('must say what is put in quotes, in that order', () => {
    const index = new FixIndex(() => today);
    index.put(fix('said', { 'd:flipper': 1 }, { words: ['left', 'flipper', 'coil', 'hot'] }));
    index.put(fix('other', { 'd:flipper': 1 }, { words: ['coil', 'flipper', 'hot'] }));
    const question = { ...ask(item('device', [['d:flipper', 1]])), quotes: [['flipper', 'coil']] };
    expect(index.find(question, 10).hits.map((h) => h.page)).toEqual(['said']);
    expect(index.find({ ...question, quotes: [['never', 'seen']] }, 10).total).toBe(0);
  });
  test('counts for its cause among those most like the question', () => {
    const index = new FixIndex(() => today);
    const both = { 'd:flipper': 1, 'does:weak': 1 };
    for (const [n, cause] of ['coil', 'coil', 'mechanical'].entries()) index.put(fix(`p${n}`, both, { labels: { cause } }));
    index.put(fix('far', { 'd:flipper': 0.5 }, { labels: { cause: 'fuse' } }));
    const { causes, like, facets } = index.find(weak, 10);
    expect([like, causes]).toEqual([
      3,
      [
        { value: 'coil', count: 2 },
        { value: 'mechanical', count: 1 },
      ],
    ]);
    expect(facets.cause.map((c) => c.value)).toContain('fuse');
  });
});

test('thousands of changes do not make it grow, and change nothing that is found', () => {
  const index = new FixIndex(() => today);
  for (let n = 0; n < 5000; n++) index.put(fix(`p${n % 50}`, { 'd:flipper': 1, [`w:x${n % 7}`]: 0.5 }, { words: ['a'] }));
  expect(index.size).toBe(50);
  expect(index.count('d:flipper')).toBe(50);
  expect(index.find(ask(item('device', [['d:flipper', 1]])), 100).total).toBe(50);
});
