/** What was done in a widget, in words. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { widgetLines, widgetTitle } from '@/lib/notebook/differences';
import { evaluatePage } from '@/lib/notebook/evaluate';
import type { WidgetState } from '@/lib/widgets/definition';
import { definitions } from '@/lib/widgets/registry';
import { fixtureChart } from '../core/fixture';
import { fixtureCatalogue } from '../core/parts-fixture';
import { widgetState } from './arbitrary';

const words = (kind: string, before: WidgetState, after: WidgetState, model?: unknown) =>
  widgetLines(kind, before, after, model).map((line) =>
    line.runs ? `${line.words}: ${line.runs.map((r) => `${r.change} ${r.text}`).join('|')}` : line.words,
  );
const tick = (by: string) => ({ by, at: '2026-11-21T10:02:00+00:00' });
const modelOf = (kind: string, state: WidgetState) =>
  evaluatePage(
    { doc: { type: 'doc', content: [{ type: 'widget', attrs: { id: 'w', kind } }] }, widgets: { w: state } },
    { chart: fixtureChart, catalogue: fixtureCatalogue, stock: {}, record: {} },
  ).widgets[0]?.model;

describe('each kind in its own words', () => {
  it('a connector plan names its steps', () => {
    const before = { header: 'A3J4', 'tick.photo': tick('Ines') };
    const after = { header: 'A3J4', headerSide: 'reflow', 'tick.batteries': tick('Ada'), 'seat.7': tick('Ada'), 'pigtail.9': true };
    expect(words('connector-plan', before, after, modelOf('connector-plan', after))).toEqual([
      'Header on the board set to “reflow its joints”',
      'Position 9 put on a pigtail',
      'Ticked ‘position 7 seated’ by Ada',
      'Ticked ‘Batteries out’ by Ada',
      'Tick taken off ‘Photo of the old housing in place’',
    ]);
    expect(words('connector-plan', {}, { 'tick.power-off': tick('Ada') })).toEqual(['Ticked ‘power off’ by Ada']);
    expect(widgetTitle('connector-plan', after)).toBe('Connector plan A3J4');
  });

  it('a proof test adds its writers up', () => {
    expect(
      words(
        'proof-test',
        { 'run.0.cold.1234567': 3 },
        { 'run.0.cold.1234567': 8, 'run.0.warm.42': 7, condition: 'warm', 'miss.0.warm.abc': tick('Wen') },
      ),
    ).toEqual(['12 more presses', 'Condition set to warm, 30\u00a0min', 'A miss, warm, 30\u00a0min, seen by Wen']);
    expect(words('proof-test', { 'run.0.cold.1234567': 3 }, { 'run.0.cold.1234567': 2 })).toEqual(['1 press taken back']);
    expect(words('proof-test', { 'run.0.cold.1234567': 3 }, { 'run.0.cold.1234567': 2, 'run.0.cold.7654321': 1 })).toEqual([]);
  });

  it('a fix record says causes and outcomes by name, and shows which words of a text changed', () => {
    expect(
      words(
        'fix-record',
        { symptom: 'Spinner misses', cause: 'coil', 'part.T-254-S': 2, 'circuit.46': true, remedy: 'crimped' },
        { symptom: 'Spinner misses when warm', cause: 'splice', outcome: 'mended', minutes: 95, 'part.T-254-S': 3, 'circuit.45': true },
      ),
    ).toEqual([
      'Cause changed from “Coil” to “Bad splice”',
      'Circuit 45 added',
      'Circuit 46 taken off',
      'Minutes on the bench set to 95',
      'Outcome set to “Mended”',
      'Part T-254-S: 3 instead of 2',
      'Remedy cleared, it was “crimped”',
      'Symptom: same Spinner misses|added  when warm',
    ]);
  });

  it('a parts tally and a lookup', () => {
    expect(
      words(
        'parts-tally',
        { 'line.a': { name: 'Braid', quantity: 1 } },
        { 'line.a': { name: 'Braid', quantity: 2 }, 'line.b': { name: 'Flux', quantity: 1 } },
      ),
    ).toEqual(['Line changed from 1 × Braid to 2 × Braid', 'Line added: 1 × Flux']); // prettier-ignore
    expect(words('circuit-lookup', {}, { clue: 'sw 46' })).toEqual(['Clue set to “sw 46”']);
  });

  it('a fault finder names its switches and tests', () => {
    const before = { 'seen.46': { presses: 3, missed: 3 } };
    const after = {
      'seen.46': { presses: 20, missed: 5 },
      'rest.12': 'active',
      'done.soldered': true,
      'hold.x': { held: ['12', '13'], shown: ['12'] },
    };
    const told = words('fault-finder', before, after, modelOf('fault-finder', after));
    expect(told).toContain('46 Spinner: missed 5 of 20; before, never, 0 of 3');
    expect(told).toContain('A board was soldered: yes');
    expect(told).toContain('Held together: 12, 13 held: 12 show');
    expect(told.find((line) => line.startsWith('12 '))).toMatch(/on by itself$/);
    const tested = { 'test.no such test': { saw: 'yes', ...tick('Ada') } };
    expect(words('fault-finder', {}, tested)).toEqual(['Tested: no such test yes, by Ada']);
  });

  it('a kind that nobody knows by keys and values', () => {
    expect(
      words('some-kind', { note: 'old', gone: 1, 'n.1234567': 1 }, { note: 'new', list: [1], 'n.1234567': 2, 'n.7654321': 3 }),
    ).toEqual(['n: 4 more counts', 'gone cleared, it was 1', 'list set to [1]', 'note changed from “old” to “new”']);
  });
});

describe('any state', () => {
  it('that did not change is not told, whatever the kind; one that did never throws', () => {
    const kinds = fc.constantFrom(...definitions.map(({ kind }) => kind), 'some-kind', 'constructor', '__proto__');
    fc.assert(
      fc.property(kinds, widgetState, widgetState, (kind, one, two) => {
        expect(widgetLines(kind, one, structuredClone(one))).toEqual([]);
        for (const line of widgetLines(kind, one, two)) expect(line.words).not.toBe('');
      }),
      { numRuns: 300 },
    );
  });

  it('hostile values of known keys are told as they stand', () => {
    const keys = fc.constantFrom(
      'header',
      'tick.a',
      'seat.1',
      'run.0.cold.1',
      'miss.0',
      'cause',
      'part.x',
      'line.a',
      'seen.1',
      'hold.a',
      'test.b',
      'rest.1',
      'drop.x',
      'outcome',
      'symptom',
      'condition',
    ); // prettier-ignore
    const states = fc.dictionary(keys, fc.jsonValue({ maxDepth: 2 }), { noNullPrototype: true });
    fc.assert(
      fc.property(fc.constantFrom(...definitions.map(({ kind }) => kind)), states, states, (kind, one, two) => {
        expect(() => widgetLines(kind, one as WidgetState, two as WidgetState)).not.toThrow();
      }),
      { numRuns: 400 },
    );
  });
});
