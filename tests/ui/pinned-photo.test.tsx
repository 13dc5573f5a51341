/** How pinned photos are drawn: links with their marks in words, a list that says the same, nothing the security policy refuses. */
import { expect, test } from 'vitest';
import { indexChart } from '@/lib/core/chart';
import { photosOf, withPhoto, withPinsOn } from '@/lib/core/chart/pinned';
import { lookup } from '@/lib/core/lookup';
import { SwitchMap, shownOnPhotos } from '@/lib/ui/machine-map';
import { PinList, PinnedFigure } from '@/lib/ui/pinned-photo';
import { ShownOnPhoto } from '@/lib/ui/shown-on-photo';
import { fixtureDesign, fixtureMachine } from '../core/fixture';
import { faults, render, textOf, valuesOf } from './markup';

const photo = { picture: 'a'.repeat(64), width: 1600, height: 1200, caption: 'Upper playfield', on: '2026-01-09', by: 'Ines Okafor' };
const machine = withPinsOn(withPhoto(fixtureMachine, photo), photo.picture, 'Upper playfield', [
  { id: 'a', at: [0.25, 0.5], switch: '46' },
  { id: 'b', at: [0.95, 0.1], load: 'L1' },
  { id: 'c', at: [0.5, 0.5], header: 'A3J4' },
]);
const chart = indexChart(machine, fixtureDesign);
const [shown] = photosOf(chart);
const marks = { open: { '46': 2 }, past: { '46': 1, L1: 3 }, unproved: { L1: 1 }, found: ['46'] };
const href = ({ of }: { of: string }) => `/machines/x?circuit=${of}`;

test('a pin leads to its circuit and says the marks of the map; the list says the same without seeing', () => {
  const html = render(
    <>
      <PinnedFigure photo={shown!} place={1} marks={marks} href={href} lit="switch:46" />
      <PinList photo={shown!} marks={marks} href={href} />
    </>,
  );
  expect(faults(html)).toEqual([]);
  const labels = valuesOf(html, 'aria-label');
  expect(labels).toContain('46 Spinner, 2 open faults, 1 past fix, differs from the manual');
  expect(labels.find((label) => label.startsWith('L1'))).toMatch(/3 past fixes, 1 not proved$/);
  expect(html).toContain('href="/machines/x?circuit=46"');
  expect(html.match(/aria-current/g)).toHaveLength(1);
  expect(textOf(html)).toContain('2 open faults; 1 past fix; differs from the manual');
  expect(textOf(html)).toContain('A3J4');
});

test('where nothing can be asked the pins are no links', () => {
  const html = render(<PinnedFigure photo={shown!} place={1} />);
  expect(faults(html)).toEqual([]);
  expect(html).not.toContain('<a ');
});

test('a circuit that is pinned shows its piece of the photo in the lookup and is marked on the map', () => {
  const found = lookup(chart, '46', 'circuit:46');
  const piece = found.outcome === 'one' ? render(<ShownOnPhoto chart={chart} candidate={found.candidate} />) : '';
  expect(faults(piece)).toEqual([]);
  expect(piece).toContain(`/machines/${machine.id}/photos/${photo.picture}?show=switch%3A46`);
  expect(textOf(piece)).toContain('Upper playfield');
  // The piece is 420 wide and 315 high around 250, 375 (a quarter across, half down of 750).
  expect(piece).toContain('viewBox="40 218 420 315"');
  expect(render(<ShownOnPhoto chart={chart} candidate={{ kind: 'circuit', id: '45' }} />)).toBe('');
  expect(render(<ShownOnPhoto chart={chart} candidate={{ kind: 'line', id: 'switch-row.6' }} />)).toBe('');
  expect(render(<ShownOnPhoto chart={chart} candidate={{ kind: 'pin', id: 'A3J4-7' }} />)).toContain('header%3AA3J4');
  const { shown: numbers } = shownOnPhotos(chart, new Set());
  expect(numbers).toEqual(['46', 'L1']);
  const labels = valuesOf(render(<SwitchMap chart={chart} marks={{ shown: numbers }} />), 'aria-label').filter((l) =>
    l.includes('shown on a photo'),
  );
  expect(new Set(labels.map((l) => l.split(',')[0]))).toEqual(new Set(['46 Spinner']));
});

test('at the edge of a photo the piece stays within it', () => {
  const html = render(<ShownOnPhoto chart={chart} candidate={{ kind: 'load', id: 'L1' }} />);
  expect(html).toContain('viewBox="580 0 420 315"');
});

test('a picture that was removed for good shows nothing: no piece in the lookup, no mark on the map, its pins in the list only', () => {
  const removed = [photo.picture];
  expect(render(<ShownOnPhoto chart={chart} candidate={{ kind: 'circuit', id: '46' }} removed={removed} />)).toBe('');
  expect(shownOnPhotos(chart, new Set(removed))).toEqual({ shown: [], shownLamps: [] });
  const html = render(
    <>
      <PinnedFigure photo={shown!} place={1} href={href} removed />
      <PinList photo={shown!} href={href} />
    </>,
  );
  expect(faults(html)).toEqual([]);
  expect(html).not.toContain('<svg');
  expect(html).toContain('alt="Picture removed"');
  expect(textOf(html)).toContain('46 Spinner');
});
