/** How photos are drawn: nothing the security policy refuses, each mark in words too, addresses of the right sizes. */
import { describe, expect, test, vi } from 'vitest';
import { PhotoFigure } from '@/lib/ui/photo-figure';
import { WriteUpSheet } from '@/lib/ui/write-up/sheet';
import type { WidgetActions } from '@/lib/widgets/definition';
import definition, { type Model } from '@/lib/widgets/photo/definition';
import { View } from '@/lib/widgets/photo/view';
import { fixtureChart } from '../core/fixture';
import { faults, render, tags, textOf } from './markup';

const hash = 'a'.repeat(64);
const photo = (at: string, width: number, height: number) => ({ picture: hash, width, height, by: 'Ines', at });
const state = {
  'photo.p1': photo('2026-11-21T10:00:00.000Z', 4000, 3000),
  'caption.p1': 'As it came',
  'photo.p2': photo('2026-11-21T10:05:00.000Z', 3000, 4000),
  'mark.a': { photo: 'p1', sort: 'pin', n: 1 },
  'to.a': { x: 0.9, y: 0.5 },
  'label.a': 'A3J4-7',
  'mark.b': { photo: 'p1', sort: 'number', n: 1 },
  'to.b': { x: 0.5, y: 0.5 },
  'mark.c': { photo: 'p1', sort: 'arrow', n: 1 },
  'from.c': { x: 0.1, y: 0.1 },
  'to.c': { x: 0.2, y: 0.2 },
};
const modelOf = (more: Record<string, unknown> = {}): Model =>
  definition.compute(
    { ...state, ...more },
    { chart: fixtureChart, catalogue: { parts: [] } as never, stock: {}, record: {}, needs: () => [], proofs: () => [], job: () => null },
  );
const act: WidgetActions = { set: vi.fn(), remove: vi.fn(), tick: vi.fn(), count: vi.fn(), step: vi.fn() };
const empty: Model = { photos: [], pins: [] };

describe.each([
  ['some', modelOf()],
  ['a pair', modelOf({ 'after.p1': 'p2' })],
  ['none', empty],
])('%s', (_, model) => {
  test.each([
    ['reading', undefined],
    ['writing', act],
  ])('%s: nothing that is refused, ids used once even with two on a page', (_mode, actions) => {
    const html = render(
      <>
        <View id="one" model={model} state={{}} act={actions} />
        <View id="two" model={model} state={{}} act={actions} />
      </>,
    );
    expect(html.length).toBeGreaterThan(100);
    expect(faults(html)).toEqual([]);
  });
});

test('reading offers nothing to fill in but the slider of a pair', () => {
  const controls = (model: Model) =>
    tags(render(<View id="x" model={model} state={{}} />)).filter(({ name }) => ['button', 'input', 'select', 'textarea'].includes(name));
  expect(controls(modelOf())).toEqual([]);
  expect(controls(modelOf({ 'after.p1': 'p2' })).map(({ attrs }) => attrs.get('type'))).toEqual(['range']);
});

test('a pair draws the marks where they stand, though the two photos differ in shape', () => {
  const html = render(<View id="x" model={modelOf({ 'after.p1': 'p2' })} state={{}} />);
  const slide = html.slice(html.indexOf('pair-slide'), html.indexOf('pair-both'));
  // Before is 4 : 3, so 750 tall, and whole; after is 3 : 4, 1333 tall, and cut by 583, half of it above.
  expect(slide).toContain('viewBox="0 0 1000 750"');
  expect(slide).toContain('transform="translate(0 0)"');
  expect(slide).toContain('transform="translate(0 -291.5)"');
  expect(slide).toContain('>A3J4-7</text>');
});

test('a photo has its size before it comes, its sizes to choose from, and its marks in words', () => {
  const html = render(<View id="x" model={modelOf()} state={{}} />);
  const image = tags(html).find(({ name }) => name === 'img')?.attrs;
  expect([image?.get('width'), image?.get('height'), image?.get('src')]).toEqual(['4000', '3000', `/files/${hash}/800`]);
  expect(html).toContain(`/files/${hash}/320 320w, /files/${hash}/800 800w, /files/${hash}/1600 1600w, /files/${hash}/3200 3200w`);
  expect(textOf(html)).toContain('A3J4-7, grey/orange wire');
  // Portrait: the sizes are of the longer side, so a browser is told the true widths.
  expect(html).toContain(`/files/${hash}/800 600w`);
});

test('the customer’s write-up asks for photos under the link, and draws the marks', () => {
  const [first] = modelOf().photos;
  if (!first) throw new Error('no photo');
  const figure = render(<PhotoFigure photo={first} alt="x" base="/report/token" />);
  expect(figure).toContain(`src="/report/token/files/${hash}/800"`);
  expect(figure).not.toContain(`"/files/`);
  const line = { text: 'As it came', price: null, photo: first };
  const copy = { title: 't', machine: '', on: '2026-11-21', currency: null, head: { name: 'c', address: [], logo: null } };
  const all = [{ id: 'photos' as const, name: 'Photos', lines: [line] }];
  const sheet = render(<WriteUpSheet copy={{ ...copy, format: 'fettlebook-write-up/1', sections: all }} base="/report/token" />);
  expect(textOf(sheet)).toContain('As it came');
  expect(sheet).toContain('photo-marks');
  expect(faults(sheet)).toEqual([]);
});

test('a picture that was removed for good says so in its place: no marks on it, its words stay, no old copy is asked for', () => {
  const removed = definition.compute(state, {
    chart: fixtureChart,
    catalogue: { parts: [] } as never,
    stock: {},
    record: {},
    removed: [hash],
    needs: () => [],
    proofs: () => [],
    job: () => null,
  });
  const html = render(<View id="x" model={removed} state={{}} />);
  expect(tags(html).flatMap(({ name, attrs }) => (name === 'img' ? [attrs.get('alt')] : []))).toEqual([
    'Picture removed',
    'Picture removed',
  ]);
  expect(html).toContain(`src="/files/${hash}/800?removed"`);
  expect(html).not.toContain('srcSet');
  expect(html).not.toContain('photo-ink');
  expect(textOf(html)).toContain('As it came');
  expect(textOf(html)).toContain('A3J4-7');
  expect(definition.markdown(removed)).toContain('As it came: picture removed');
  expect(definition.facts(removed)).toEqual(definition.facts(modelOf()));
  const writing = render(<View id="x" model={removed} state={{}} act={act} />);
  expect(faults(writing)).toEqual([]);
  expect(textOf(writing)).toContain('Take out this photo');
  expect(textOf(writing)).not.toContain('Add an arrow');
});
