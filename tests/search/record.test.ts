import { describe, expect, test } from 'vitest';
import type { EvaluatedPage, EvaluatedWidget } from '@/lib/notebook/types';
import { recordOf, searchedText, stateOf } from '@/lib/search/record';
import type { WidgetState } from '@/lib/widgets/definition';
import proof from '@/lib/widgets/proof-test/definition';
import { fixtureCatalogue } from '../core/parts-fixture';

const fix = (state: WidgetState, id = 'record'): EvaluatedWidget => ({ id, kind: 'fix-record', state, definition: null, model: null });
const page = (given: Partial<EvaluatedPage> = {}): EvaluatedPage => ({
  title: 'Spinner misses',
  text: 'Spinner misses\nFrom cold it counts every turn.',
  body: 'From cold it counts every turn.',
  widgets: [],
  facts: [],
  progress: [],
  ...given,
});

/** A proof test of switch `what` with so many clean presses under each condition, after 5 of 20 missed: 24 are enough for 99 %. */
const proofTest = (what: string, presses: number): EvaluatedWidget => {
  const clean = Object.fromEntries(['cold', 'warm', 'coils', 'ball'].map((condition) => [`run.0.${condition}.1`, presses]));
  const state = { what, 'before.missed': 5, 'before.presses': 20, ...clean };
  return { id: 'proof', kind: 'proof-test', state, definition: null, model: proof.compute(state, context) };
};
const context = { chart: null, catalogue: fixtureCatalogue, stock: {}, record: {}, needs: () => [], proofs: () => [], job: () => null };

describe('fixes', () => {
  const state = { cause: 'cracked-joint', outcome: 'mended', on: '2023-11-04', 'circuit.46': true, 'circuit.26': false, 'circuit.5': true };
  const fixes = (...widgets: EvaluatedWidget[]) => recordOf(page({ widgets })).fixes;
  test('are kept with their class, day and circuits; a record without a cause is none yet', () => {
    const kept = { cause: 'cracked-joint', outcome: 'mended', on: '2023-11-04', circuits: ['5', '46'], proved: false };
    expect(fixes(fix(state), fix({ symptom: 'Dead' }, 'second'))).toEqual([kept]);
    expect(fixes(fix({ ...state, proof: ' ' }))[0]?.proved).toBe(false);
    expect(fixes(fix({ ...state, proof: '24 clean presses' }))[0]?.proved).toBe(true);
  });
  test.each([
    ['46', 10, true],
    ['', 10, true],
    ['12', 10, false], // of another switch
    ['46', 1, false], // too few
  ])('a proof test of %j with %d presses each: proved %j', (what, presses, proved) =>
    expect(fixes(fix(state), proofTest(what, presses))[0]?.proved).toBe(proved),
  );
  test.each(['2023-02-29', '0000-01-01', 'last week', '2023-11-31', '2023-1-4'])('%s is no day', (on) =>
    expect(fixes(fix({ ...state, on }))[0]?.on).toBe(''),
  );
});

describe('record', () => {
  test('takes from the fix record what lists show, the cause in words', () => {
    const state = {
      by: ' Ines Okafor ',
      on: '2023-11-04',
      minutes: 95,
      cause: 'cracked-joint',
      place: 'A3J4-7',
      symptom: 'Misses once warm',
      remedy: 'Joints remade',
    };
    expect(recordOf(page({ widgets: [fix(state)] }))).toEqual({
      by: 'Ines Okafor',
      on: '2023-11-04',
      minutes: 95,
      cause: 'Cracked joint under a header',
      place: 'A3J4-7',
      excerpt: 'Misses once warm. Joints remade',
      wires: [],
      progress: [],
      fixes: [{ cause: 'cracked-joint', outcome: 'open', on: '2023-11-04', circuits: [], proved: false }],
      job: {
        tools: 0,
        cause: 'cracked-joint',
        place: 'A3J4-7',
        remedy: 'Joints remade',
        mended: false,
        proved: false,
        ticks: { done: 0, of: 0 },
        needs: [],
      },
    });
  });
  test('without a fix record the prose speaks, without its title and headings', () => {
    expect(recordOf(page())).toMatchObject({ by: '', on: '', minutes: null, cause: '', excerpt: 'From cold it counts every turn.' });
  });
  test('values of a wrong sort are left out', () => {
    expect(recordOf(page({ widgets: [fix({ minutes: 'ages', by: 7, cause: null, symptom: ['x'] })] }))).toMatchObject({
      minutes: null,
      by: '',
      cause: '',
      excerpt: 'From cold it counts every turn.',
    });
  });
  test('a long excerpt ends after a whole word; one long word is cut', () => {
    const { excerpt } = recordOf(page({ body: 'counts '.repeat(100) }));
    expect(excerpt).toMatch(/^(counts )+…$/);
    expect(excerpt.length).toBeLessThanOrEqual(242);
    expect(recordOf(page({ body: 'x'.repeat(5000) })).excerpt).toHaveLength(242);
  });
  test('keeps four wires, in the order of the facts', () => {
    const wires = ['grey/orange', 'violet/yellow', 'grey/red', 'grey/blue', 'grey/green'];
    expect(recordOf(page({ facts: wires.map((value) => ({ kind: 'wire', value, label: value })) })).wires).toEqual(wires.slice(0, 4));
  });
});

test('words are sought in the prose and in what the fix record says, not in codes', () => {
  const text = searchedText(
    page({
      facts: [
        { kind: 'symptom', value: 'Gives up late', label: 'Gives up late' },
        { kind: 'text', value: 'Joints remade', label: 'Joints remade' },
        { kind: 'fault', value: 'cracked-joint', label: 'Cracked joint under a header' },
        { kind: 'circuit', value: '46', label: '46 Spinner' },
        { kind: 'machine', value: 'lantern-regatta-3', label: 'Lantern Regatta, no. 3' },
      ],
    }),
  );
  expect(text.split('\n').slice(1)).toEqual([
    'From cold it counts every turn.',
    'Gives up late',
    'Joints remade',
    'Cracked joint under a header',
    '46 Spinner',
  ]);
});

describe('state', () => {
  const of = (machine: string | null, ...outcomes: unknown[]) =>
    stateOf(page({ widgets: outcomes.map((outcome, i) => fix(outcome === undefined ? {} : { outcome }, `r${i}`)) }), machine);
  test.each([
    ['open', [undefined]],
    ['open', ['open']],
    ['open', ['nonsense']],
    ['open', ['mended', 'open']],
    ['open', []],
    ['mended', ['mended']],
    ['mended', ['watching']],
    ['mended', ['not-found', 'mended']],
  ] as const)('%s after %j', (state, outcomes) => expect(of('tin-orchard', ...outcomes)).toBe(state));
  test('a note that belongs to no machine is never open', () => {
    expect(of(null)).toBe('mended');
    expect(of(null, 'open')).toBe('mended');
  });
});
