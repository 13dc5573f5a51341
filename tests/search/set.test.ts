import { describe, expect, test } from 'vitest';
import { lintDesign } from '@/lib/core/chart';
import { labelledSet, queryCount, repairCount } from './set';
import { grade } from './set/grade';
import type { Asked, Behaviour, Kind, Repair, Words } from './set/types';
import { words as hold } from './set/words-hold';
import { words as tune } from './set/words-tune';

const parts = ['tune', 'hold'] as const;
const strings = (of: unknown): string[] =>
  typeof of === 'string' ? [of] : of && typeof of === 'object' ? Object.values(of).flatMap(strings) : [];

describe.each(parts)('the labelled set for %s', (part) => {
  const set = labelledSet(part);
  const grades = set.queries.map((q) => set.repairs.map((r) => set.gradeOf(q, r)));

  test('is large enough, and the same each time', () => {
    expect(set.repairs.filter((r) => r.situation).length).toBeGreaterThanOrEqual(part === 'hold' ? repairCount * 0.85 : 300);
    expect(set.queries.length).toBe(queryCount);
    expect(labelledSet(part)).toEqual({ ...set, gradeOf: expect.any(Function) });
  });
  test('every question has an answer, and most of the notebook is none', () => {
    for (const [i, of] of grades.entries()) {
      const text = set.queries[i]?.text;
      expect(of.filter((g) => g > 0).length, text).toBeGreaterThan(0);
      expect(of.filter((g) => g > 0).length, text).toBeLessThan(set.repairs.length / 5);
    }
    const best = grades.filter((of) => of.some((g) => g === 3)).length;
    expect(best / grades.length).toBeGreaterThan(0.8);
  });
  test('all grades and all kinds of question occur', () => {
    expect(new Set(grades.flat())).toEqual(new Set([0, 1, 2, 3]));
    expect(new Set(set.queries.map((q) => q.kind)).size).toBe(6);
    expect(new Set(set.queries.map((q) => q.text)).size).toBe(set.queries.length);
  });
  test('pages that are no repairs are never an answer', () => {
    const others = set.repairs.flatMap((r, i) => (r.situation ? [] : [i]));
    expect(others.length).toBeGreaterThan(50);
    for (const of of grades) expect(others.every((i) => of[i] === 0)).toBe(true);
  });
  test('wires and pins of a repair are those of its chart', () => {
    for (const repair of set.repairs.filter((r) => r.place)) {
      const machine = set.fleet.machines.find((m) => m.chart.id === repair.machine);
      const design = set.fleet.designs.find((d) => d.id === machine?.chart.design);
      const [header, position] = repair.place.split('-');
      const pin = design?.headers.find((h) => h.id === header)?.pins.find((p) => p.position === Number(position));
      expect(pin?.net).toBe(repair.atFault?.net);
      expect(design?.nets.find((n) => n.id === pin?.net)?.colour).toBe(repair.atFault?.colour);
    }
  });
  test('the invented boards pass the check of charts', () => {
    for (const design of set.fleet.designs) expect(lintDesign(design).filter((f) => f.level === 'error')).toEqual([]);
  });
});

describe('the two vocabularies', () => {
  test('share no phrase of what customers say', () => {
    const said = ({
      behaviour,
      extent,
      when,
      devices,
      things,
      causes,
      remedies,
      openings,
      asides,
      ruledOut,
      chores,
      proved,
      recurred,
      not,
    }: Words) =>
      strings({
        behaviour,
        extent,
        when,
        devices,
        things,
        causes,
        remedies,
        openings,
        asides,
        ruledOut,
        chores,
        proved,
        recurred,
        not,
      }).map((s) => s.toLowerCase());
    const known = new Set(said(tune));
    expect(said(hold).filter((s) => known.has(s))).toEqual([]);
  });
  test('hide no phrase for what it does, how many or when in a longer one of the other', () => {
    const said = ({ behaviour, extent, when }: Words) => strings({ behaviour, extent, when }).map((s) => ` ${s.toLowerCase()} `);
    const mixed = said(hold).flatMap((h) => said(tune).filter((t) => h.includes(t) || t.includes(h)));
    expect(mixed).toEqual([]);
  });
  test('know the same behaviours', () => {
    for (const kind of ['switch', 'load', 'lamp'] as Kind[])
      expect(Object.keys(hold.behaviour[kind]).sort()).toEqual(Object.keys(tune.behaviour[kind]).sort());
  });
});

describe('the rule of relevance', () => {
  const { repairs } = labelledSet('tune', 50, 1);
  const some = repairs.find((r) => r.situation) as Repair;
  const asked: Asked = { kind: 'switch', role: 'spinner', behaviour: 'sometimes', extent: 'one', machine: 'a', when: 'warm' };
  const repair = (change: Partial<NonNullable<Repair['situation']>> = {}, rest: Partial<Repair> = {}): Repair => ({
    ...some,
    outcome: 'verified',
    situation: {
      machine: 'a',
      design: 'D1',
      role: 'spinner',
      kind: 'switch',
      side: null,
      behaviour: 'sometimes',
      extent: 'one',
      when: 'warm',
      cause: 'switch-dirty',
      ...change,
    },
    ...rest,
  });
  const of = (r: Repair, a: Asked = asked) => grade(a, r, (m) => (m === 'a' ? 'D1' : 'D2'));

  test.each<[string, Repair, number]>([
    ['the same', repair(), 3],
    ['a sister with the same boards', repair({ machine: 'b' }), 3],
    ['other boards', repair({ machine: 'b', design: 'D2' }), 2],
    ['other circumstances', repair({ when: null }), 2],
    ['dead instead of sometimes', repair({ behaviour: 'dead' }), 2],
    ['another behaviour', repair({ behaviour: 'wrong' as Behaviour }), 0],
    ['another device', repair({ role: 'outlane' }), 0],
    ['a whole line', repair({ extent: 'line' }), 1],
    ['came back', repair({}, { outcome: 'recurred' }), 2],
    ['no repair', { ...some, situation: null }, 0],
  ])('%s', (_, r, expected) => expect(of(r)).toBe(expected));

  test('what is excluded is never an answer', () => {
    expect(of(repair(), { ...asked, not: { cause: 'switch-dirty' } })).toBe(0);
    expect(of(repair(), { ...asked, not: { cause: 'fuse' } })).toBe(3);
  });
  test('a clue asks for its line', () => {
    const line = { net: 'switch-row.1', colour: 'grey/orange', pin: 'A1J4-2' };
    const device = { role: 'spinner', kind: 'switch', side: null, name: 'Spinner', number: '42', lines: [line] } as const;
    const at = repair({}, { devices: [{ ...device, lines: [line] }], atFault: line });
    expect(of(at, { clue: { wire: 'grey/orange' } })).toBe(3);
    expect(of({ ...at, atFault: null }, { clue: { pin: 'A1J4-2' } })).toBe(2);
    expect(of(at, { clue: { number: '42' }, machine: 'a' })).toBe(3);
    expect(of(at, { clue: { number: '42' }, machine: 'b' })).toBe(0);
    expect(of(at, { clue: { wire: 'grey/white' } })).toBe(0);
  });
});
