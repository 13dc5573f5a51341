/** What a machine has otherwise than its manual: kept, withdrawn, shown beside the chart wherever the place is shown. */
import { describe, expect, test } from 'vitest';
import { indexChart, lintMachine, readMachine } from '@/lib/core/chart';
import { differences } from '@/lib/core/chart/differences';
import { withDeviation, withoutDeviation } from '@/lib/core/chart/found';
import { readFoundColour } from '@/lib/core/chart/found-colour';
import { chartSays, placeOfKey, placesOf } from '@/lib/core/chart/found-places';
import { planConnector } from '@/lib/core/harness';
import { circuitView, faceView, lookup } from '@/lib/core/lookup';
import { fixtureChart, fixtureDesign, fixtureMachine } from './fixture';
import { fixtureCatalogue, fixtureStock } from './parts-fixture';

const seen = {
  on: '2026-02-01',
  by: 'Ines Okafor',
  manual: 'Row 6, grey/orange',
  here: 'The wire is plain white',
  why: 'Replaced.',
  since: '2019',
};
const white = (place: Parameters<typeof withDeviation>[1]['place']) => withDeviation(fixtureMachine, { ...seen, place, wire: 'white' });
const chartWith = (place: Parameters<typeof withDeviation>[1]['place']) => indexChart(white(place), fixtureDesign);

describe('noting and withdrawing', () => {
  test('a note is readable, sound, and one change of the chart; its id is new each time', () => {
    const machine = white({ pin: 'A3J4-7', net: 'switch-row.6' });
    expect(readMachine(machine).ok).toBe(true);
    const before = lintMachine(fixtureMachine, fixtureDesign).length;
    expect(lintMachine(machine, fixtureDesign)).toHaveLength(before);
    expect(machine.asFound.at(-1)?.id).toBe('a3j4-7');
    expect(differences(fixtureMachine, machine).map((c) => c.label)).toContain('Found on the machine a3j4-7');
    const twice = withDeviation(machine, { ...seen, place: { pin: 'A3J4-7' } });
    expect(twice.asFound.at(-1)?.id).toBe('a3j4-7-2');
    expect(withDeviation(twice, { ...seen, place: { switch: '46' } }).asFound.at(-1)?.id).toBe('sw-46');
  });
  test('a withdrawn note stays on record and counts nowhere', () => {
    const machine = white({ switch: '46', net: 'switch-row.6' });
    const id = machine.asFound.at(-1)!.id;
    const withdrawn = { on: '2026-03-01', by: 'Wen Halloran', why: 'Put back to grey/orange.' };
    const without = withoutDeviation(machine, id, withdrawn)!;
    expect(readMachine(without).ok).toBe(true);
    expect(without.asFound.find((d) => d.id === id)).toMatchObject({ here: seen.here, withdrawn });
    const chart = indexChart(without, fixtureDesign);
    expect(chart.asFound.map((d) => d.id)).not.toContain(id);
    expect(circuitView(chart, '46')).toEqual(circuitView(fixtureChart, '46'));
    expect(lookup(chart, 'white').outcome).toBe(lookup(fixtureChart, 'white').outcome);
    expect(withoutDeviation(without, id, withdrawn)).toBeNull();
    expect(withoutDeviation(machine, 'nothing', withdrawn)).toBeNull();
    const wrong = { ...without, asFound: without.asFound.map((d) => (d.id === id ? { ...d, place: { switch: '99' } } : d)) };
    expect(lintMachine(wrong, fixtureDesign).map((f) => f.rule)).not.toContain('found-unknown-switch');
  });
});

describe('both colours are shown', () => {
  test('at a pin: on its face, its line, its circuits and in the plan of its connector', () => {
    const chart = chartWith({ pin: 'A3J4-7', net: 'switch-row.6' });
    expect(faceView(chart, 'A3J4')?.positions[6]).toMatchObject({ wires: [{ colour: 'grey/orange' }], found: ['white'] });
    expect(faceView(chart, 'A3J4')?.positions[5]).not.toHaveProperty('found');
    const pin = lookup(chart, 'A3J4-7');
    expect(pin.outcome === 'one' && pin.line?.asFound.map((d) => d.wire)).toEqual(['white']);
    const on = circuitView(chart, '46')!;
    expect(on.asFound.map((d) => d.wire)).toEqual(['white']);
    expect(on.lines.map((l) => [l.net, l.asFound.length])).toEqual([
      ['switch-column.4', 0],
      ['switch-row.6', 1],
    ]);
    const plan = planConnector(chart, 'A3J4', fixtureCatalogue, fixtureStock, { headerSide: 'sound', saveKey: false });
    if (!plan.ok) throw new Error(plan.message);
    const row = plan.plan.rows[6]!;
    expect(row).toMatchObject({ wires: [{ colour: 'grey/orange' }], found: ['white'] });
    expect(row.problems.map((p) => p.message)).toContain(
      'A3J4-7: found on 2026-02-01: The wire is plain white, wire white. The manual says: Row 6, grey/orange.',
    );
    expect(plan.plan.rows[5]).not.toHaveProperty('found');
  });
  test('of a whole line: at every tap of it; at one switch only there', () => {
    const whole = chartWith({ net: 'switch-row.6' });
    const taps = whole.taps.get('switch-row.6')!;
    for (const tap of taps) expect(faceView(whole, tap.header)?.positions[tap.position - 1]?.found, tap.pin).toEqual(['white']);
    const one = chartWith({ switch: '46', net: 'switch-row.6' });
    for (const tap of taps) expect(faceView(one, tap.header)?.positions[tap.position - 1], tap.pin).not.toHaveProperty('found');
    expect(circuitView(one, '46')?.lines[1]?.asFound).toHaveLength(1);
    expect(circuitView(one, '16')?.lines[1]?.asFound).toHaveLength(0);
  });
  test('and a clue finds the place by either', () => {
    const chart = chartWith({ switch: '46', net: 'switch-row.6' });
    const found = lookup(chart, 'plain white 46');
    expect(lookup(chart, 'grey/orange').outcome).toBe(lookup(fixtureChart, 'grey/orange').outcome);
    const all = lookup(chart, 'white');
    const titles = all.outcome === 'several' ? all.candidates.map((c) => c.id) : all.outcome === 'one' ? [all.candidate.id] : [];
    expect(titles).toContain('46');
    expect(found.outcome).not.toBe('empty');
  });
});

describe('whoever makes a plug new is told of', () => {
  const told = (place: Parameters<typeof withDeviation>[1]['place'], header = 'A3J4') => {
    const result = planConnector(chartWith(place), header, fixtureCatalogue, fixtureStock, { headerSide: 'sound', saveKey: false });
    if (!result.ok) throw new Error(result.message);
    return result.plan.asFound.filter((f) => f.found.here === seen.here).map((f) => [f.where, f.positions]);
  };
  test('a pin of it, a line that it carries, a switch that hangs on one of its pins; and of nothing else', () => {
    expect(told({ pin: 'A3J4-7' })).toEqual([['A3J4-7', [7]]]);
    expect(told({ pin: 'A3J4-4' })).toEqual([['A3J4-4', [4]]]); // a key that has a wire here
    expect(told({ pin: 'A1J2-1' })).toEqual([]);
    expect(told({ net: 'switch-row.6' })).toEqual([['Row 6 at 7', [7]]]);
    expect(told({ net: 'load.1' })).toEqual([]);
    expect(told({ switch: '46', net: 'switch-row.6' })).toEqual([['46 Spinner, row 6 at 7', [7]]]);
    expect(told({ switch: '46' })).toEqual([['46 Spinner, row 6 at 7', [7]]]);
    expect(told({ switch: '46', net: 'switch-column.4' })).toEqual([]); // its column is at another plug
  });
  test('a line with several positions at all of them, once', () => {
    const [ground] = told({ net: 'ground' });
    const positions = fixtureDesign.headers.find((h) => h.id === 'A3J4')!.pins.flatMap((p) => (p.net === 'ground' ? [p.position] : []));
    expect(ground?.[1]).toEqual(positions);
  });
});

describe('places to choose from', () => {
  test('of a switch: each wire at it, the switch, each tap and each whole line; every key leads back', () => {
    const places = placesOf(fixtureChart, 'circuit', '46');
    expect(places.map((p) => p.key).slice(0, 3)).toEqual(['switch:46@switch-column.4', 'switch:46@switch-row.6', 'switch:46']);
    expect(places.map((p) => p.key)).toEqual(expect.arrayContaining(['pin:A3J4-7', 'line:switch-row.6']));
    expect(places[1]?.label).toBe('Row 6 at 46 Spinner, grey/orange');
    for (const kind of ['circuit', 'pin', 'line', 'load', 'header'] as const)
      for (const id of ['46', 'A3J4-7', 'switch-row.6', 'L1', 'A3J4'])
        for (const { key, place } of placesOf(fixtureChart, kind, id)) expect(placeOfKey(fixtureChart, key), key).toEqual(place);
  });
  test.each(['', 'switch:99', 'switch:46@nothing', 'pin:A3J4-77', 'pin:A9J9-1', 'line:nothing', 'switch:46@', 'x:1'])(
    '%j is no place',
    (key) => {
      expect(placeOfKey(fixtureChart, key)).toBeNull();
    },
  );
  test('what the chart says of a place', () => {
    expect(chartSays(fixtureChart, { pin: 'A3J4-7', net: 'switch-row.6' })).toBe('A3J4-7 carries Row 6, grey/orange');
    expect(chartSays(fixtureChart, { net: 'switch-row.6' })).toBe('Row 6, grey/orange');
    expect(chartSays(fixtureChart, { pin: 'A3J4-4' })).toBe('A3J4-4 is not used');
  });
});

describe('a colour as it was typed', () => {
  test.each([
    ['white', 'white'],
    ['grey/orange', 'grey/orange'],
    ['GRY-ORN', 'grey/orange'],
    ['grey with an orange stripe', 'grey/orange'],
  ])('%s', (text, colour) => expect(readFoundColour(text, 'base-stripe')).toEqual({ ok: true, colour }));
  // Trade cases § 1.5 and 1.6: letters of IEC 60757 do not say which is the stripe; short forms may mean several.
  test.each(['OGGY', 'bl', 'mauve', ''])('%j is asked back', (text) => expect(readFoundColour(text, 'base-stripe').ok).toBe(false));
  test('a chart that prints the stripe first is read that way', () =>
    expect(readFoundColour('orange/grey', 'stripe-base')).toEqual({ ok: true, colour: 'grey/orange' }));
});
