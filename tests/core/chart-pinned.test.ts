/** Photos in a chart: what is pinned on them, joined when two people pin at once, and left behind by a copy. */
import { describe, expect, test } from 'vitest';
import { indexChart, lintMachine, readMachine } from '@/lib/core/chart';
import { copyOfDesign, copyOfMachine } from '@/lib/core/chart/copy';
import { differences } from '@/lib/core/chart/differences';
import { merge } from '@/lib/core/chart/merge';
import { photosOf, photosOfDesign, pinnables, pinWords, shownOn, withoutPhoto, withPhoto, withPinsOn } from '@/lib/core/chart/pinned';
import type { Machine, Pinned } from '@/lib/core/chart/schema';
import { fixtureChart, fixtureDesign, fixtureMachine } from './fixture';

const photo = { picture: '1'.repeat(64), width: 1600, height: 1200, caption: 'Upper playfield', on: '2026-01-09', by: 'Ines Okafor' };
const other = { ...photo, picture: '2'.repeat(64) };
const pin = (id: string, x: number, y: number, what: Partial<Pinned> = { switch: '46' }) => ({ id, at: [x, y], ...what });
const start = withPinsOn(withPhoto(fixtureMachine, photo), photo.picture, 'Upper playfield', [
  pin('a', 0.2, 0.3),
  pin('b', 0.6, 0.7, { load: 'L1' }),
]);
const pinned = (machine: Machine, pins: Omit<Pinned, 'photo'>[]) => withPinsOn(machine, photo.picture, 'Upper playfield', pins);

describe('a photo of a machine', () => {
  test('is readable and sound, and its pins are named by the chart in the chart’s order', () => {
    expect(readMachine(start).ok).toBe(true);
    expect(lintMachine(start, fixtureDesign)).toEqual(lintMachine(fixtureMachine, fixtureDesign));
    const all = pinned(start, [pin('b', 0.6, 0.7, { load: 'L1' }), pin('c', 0, 1, { header: 'A3J4' }), pin('a', 0.2, 0.3)]);
    const [shown] = photosOf(indexChart(all, fixtureDesign));
    expect(shown?.pins.map(pinWords)).toEqual([
      `46 ${fixtureChart.circuit.get('46')?.name}`,
      `L1 ${fixtureChart.loads[0]?.name}`,
      `A3J4 ${fixtureChart.headers.get('A3J4')?.name}`,
    ]);
  });
  test('answers where a thing is shown; a thing that is gone from the chart keeps its pin and has no name', () => {
    const chart = indexChart(withPhoto(start, other), fixtureDesign);
    expect(shownOn(photosOf(chart), 'switch', '46').map(({ photo: p, pins }) => [p.picture, pins.map(({ id }) => id)])).toEqual([
      [photo.picture, ['a']],
    ]);
    expect(shownOn(photosOf(chart), 'switch', '45')).toEqual([]);
    expect(shownOn(photosOf(chart), 'load', '46')).toEqual([]);
    const without = { ...start, loads: [] };
    expect(photosOf(indexChart(without, fixtureDesign))[0]?.pins.at(-1)).toMatchObject({ kind: 'load', of: 'L1', name: '' });
  });
  test('a pin at a further number of a switch is that switch’s', () => {
    const also = { ...start, switches: start.switches.map((s) => (s.name === 'Spinner' ? { ...s, also: ['S46'] } : s)) };
    const chart = indexChart(pinned(also, [pin('a', 0.1, 0.1, { switch: 'S46' })]), fixtureDesign);
    expect(shownOn(photosOf(chart), 'switch', '46')).toHaveLength(1);
  });
  test('everything of the chart can be pinned, each once', () => {
    const keys = pinnables(fixtureChart).map(({ kind, of }) => `${kind}:${of}`);
    expect(new Set(keys).size).toBe(keys.length);
    const { circuits, loads, lamps, headers } = fixtureChart;
    expect(keys).toHaveLength(circuits.length + loads.length + lamps.length + headers.size);
  });
  test('the photos of its board design follow its own', () => {
    const design = withPinsOn(withPhoto(fixtureDesign, other), other.picture, '', [pin('h', 0.5, 0.5, { header: 'A3J4' })]);
    expect(photosOf(indexChart(start, design)).map((p) => [p.holder, p.picture, p.pins.length])).toEqual([
      ['machine', photo.picture, 2],
      ['design', other.picture, 1],
    ]);
    expect(photosOfDesign(design)[0]).not.toHaveProperty('caption');
  });
});

describe('changing pins', () => {
  test('moving one is one change of one cell; those of another photo stay', () => {
    const two = withPinsOn(withPhoto(start, other), other.picture, '', [pin('z', 0.5, 0.5)]);
    const moved = pinned(two, [pin('a', 0.4, 0.3), pin('b', 0.6, 0.7, { load: 'L1' })]);
    expect(differences(two, moved)).toMatchObject([{ label: 'Pin on a photo a: place', before: [0.2, 0.3], after: [0.4, 0.3] }]);
    expect(withoutPhoto(moved, photo.picture).pinned?.map((p) => p.id)).toEqual(['z']);
    expect(withoutPhoto(moved, photo.picture).photos).toEqual(
      [withPhoto(fixtureMachine, { ...other, caption: undefined }).photos?.[0]]
        .map((p) => ({ ...p, caption: undefined }))
        .map(({ caption: _, ...p }) => p),
    );
  });
  test('a photo that is there already is not added again', () => expect(withPhoto(start, { ...photo, caption: 'Again' })).toBe(start));
  test('two people who pin at once both keep their pins; so do the first two pins of all', () => {
    const mine = pinned(start, [pin('a', 0.2, 0.3), pin('b', 0.9, 0.9, { load: 'L1' }), pin('m', 0.1, 0.1, { switch: '45' })]);
    const theirs = pinned(start, [pin('a', 0.5, 0.5), pin('t', 0.8, 0.1, { switch: '44' })]);
    const merged = merge({ ...start }, pinned(mine, [pin('a', 0.2, 0.3), pin('m', 0.1, 0.1, { switch: '45' })]), theirs);
    expect(merged.ok && merged.chart.pinned?.map(({ id, at }) => [id, ...at])).toEqual([
      ['a', 0.5, 0.5],
      ['m', 0.1, 0.1],
      ['t', 0.8, 0.1],
    ]);
    const first = merge(
      fixtureMachine,
      pinned(withPhoto(fixtureMachine, photo), [pin('m', 0.1, 0.1)]),
      withPinsOn(withPhoto(fixtureMachine, other), other.picture, '', [pin('t', 0.2, 0.2)]),
    );
    expect(first.ok && first.chart.photos?.map((p) => p.picture).sort()).toEqual([photo.picture, other.picture]);
    expect(first.ok && first.chart.pinned?.map((p) => p.id).sort()).toEqual(['m', 't']);
  });
  test('one pin moved to two places is asked about, never put between them', () => {
    const merged = merge(
      start,
      pinned(start, [pin('a', 0.4, 0.3)]),
      pinned(start, [pin('a', 0.2, 0.9), pin('b', 0.6, 0.7, { load: 'L1' })]),
    );
    expect(merged.ok ? [] : merged.conflicts.map((c) => [c.label, c.mine, c.theirs])).toEqual([
      ['Pin on a photo a: place', [0.4, 0.3], [0.2, 0.9]],
    ]);
  });
});

test('photos are of one machine and one board: a copy has none', () => {
  expect(copyOfMachine(start, { id: 'copy', name: 'Copy' })).not.toHaveProperty('photos');
  expect(copyOfMachine(start, { id: 'copy', name: 'Copy' })).not.toHaveProperty('pinned');
  expect(copyOfDesign(withPhoto(fixtureDesign, photo), { id: 'SB-9', name: 'Copy' })).not.toHaveProperty('boardPhotos');
});
