/** Drawings: pin 1 and key always marked, the view named in words, mirrored where it must be, true to size in millimetres. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { FaceView } from '@/lib/core/lookup/types';
import { Cut, cutInWords, Face, Faces, Loom, MatrixMap, PlanSlice, Ruler, Sample, TrueScale, WireChip } from '@/lib/ui/drawings';
import { stripeLine } from '@/lib/ui/drawings/colours';
import { HeaderFigure } from '@/lib/ui/header-figure';
import { fixtureChart } from '../core/fixture';
import { face } from './fixture';
import { faults, render, tags, textOf, unnamedWires, valuesOf } from './markup';

const views = ['H1', 'H2', 'P1', 'P2'] as const;
const names = { H1: 'Pin tips', H2: 'Solder side', P1: 'Wire entry', P2: 'Contact openings' };

/** Position numbers of a face from left to right. */
const shown = (html: string) =>
  [...html.matchAll(/<text x="([\d.]+)"[^>]*class="num[^"]*"[^>]*>(\d+)<\/text>/g)]
    .map(([, x, n]) => ({ x: Number(x), n: Number(n) }))
    .sort((a, b) => a.x - b.x)
    .map(({ n }) => n);
const xOfPinOne = (html: string) =>
  Number(
    /class="solid pin-one"|pin-one/.test(html) &&
      /<path d="M([\d.]+) /.exec(html.slice(html.lastIndexOf('<path', html.indexOf('pin-one'))))?.[1],
  );

describe.each(views)('face %s', (view) => {
  test.each([false, true])('marks pin 1 and the key and names the view (narrow: %s)', (narrow) => {
    const html = render(<Face face={face} view={view} narrow={narrow} />);
    expect(html.match(/pin-one/g)).toHaveLength(1);
    expect(html.match(/key-cross/g)).toHaveLength(1);
    expect(textOf(html)).toContain(names[view]);
    expect(valuesOf(html, 'aria-label')[0]).toContain(names[view].toLowerCase());
    expect(valuesOf(html, 'aria-label')[0]).toContain('key at 4');
    expect(faults(html)).toEqual([]);
  });
});

// Geometry of two halves that mate face to face: seen from opposite ends they run opposite ways (common practice, no source).
test('contact openings are the mirror of the wire entry, and the solder side of the pin tips', () => {
  const order = Object.fromEntries(views.map((v) => [v, shown(render(<Face face={face} view={v} />))]));
  expect(order.P1).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
  expect(order.P2).toEqual([...(order.P1 ?? [])].reverse());
  expect(order.H1).toEqual(order.P1);
  expect(order.H2).toEqual(order.P2);
});

describe('two rows of pins', () => {
  const of = (numbering: 'zigzag' | 'per-row' | 'lettered', n = 10, more: object = {}): FaceView => ({
    ...face,
    header: { ...face.header, positions: n, keys: [], rows: 2, numbering, ...more },
    positions: Array.from({ length: n }, (_, i) => ({ ...face.positions[0]!, position: i + 1, key: false, lit: false })),
  });
  /** Labels by line of the drawing, each from left to right. */
  const lines = (html: string) => {
    const seen = [...html.matchAll(/<text x="([\d.]+)" y="([\d.]+)"[^>]*class="(?:mm-)?num[^"]*"[^>]*>([^<]+)<\/text>/g)];
    const ys = [...new Set(seen.map(([, , y]) => Number(y)))].sort((a, b) => a - b);
    return ys.map((at) =>
      seen
        .filter(([, , y]) => Number(y) === at)
        .sort(([, a], [, b]) => Number(a) - Number(b))
        .map(([, , , label]) => label)
        .join(' '),
    );
  };

  // Zigzag of a ribbon header: odd positions in one row, even ones in the other (common practice, no source).
  test.each([false, true])('zigzag: odd above, even below, mirrored from the other side (narrow: %s)', (narrow) => {
    const drawn = (view: (typeof views)[number]) => render(<Face face={of('zigzag')} view={view} narrow={narrow} />);
    for (const view of ['H1', 'P1'] as const) expect(lines(drawn(view))).toEqual(['1 3 5 7 9', '2 4 6 8 10']);
    for (const view of ['H2', 'P2'] as const) expect(lines(drawn(view))).toEqual(['9 7 5 3 1', '10 8 6 4 2']);
    expect(textOf(drawn('H1'))).toMatch(/row 1 .*row 2/);
    expect(valuesOf(drawn('P2'), 'aria-label')[0]).toContain('10 positions in two rows, 1 at the right of row 1');
    for (const view of views) expect(faults(drawn(view))).toEqual([]);
  });

  test('row by row: the second goes on where the first ends; a lettered one says its letters', () => {
    expect(lines(render(<Face face={of('per-row')} view="P1" />))).toEqual(['1 2 3 4 5', '6 7 8 9 10']);
    expect(lines(render(<Face face={of('lettered')} view="P1" />))).toEqual(['1 2 3 4 5', 'A B C D E']);
  });

  test('a long one is broken within each row', () => {
    const html = render(<Face face={of('zigzag', 60)} view="P1" narrow />);
    expect(lines(html).slice(0, 2)).toEqual(['1 3 5 7 9 11 13 15 17 19 21 23 25 27 29', '31 33 35 37 39 41 43 45 47 49 51 53 55 57 59']);
    expect(lines(html)).toHaveLength(4);
    expect(Number((valuesOf(html, 'viewBox')[0] ?? '').split(' ')[2])).toBeLessThanOrEqual(368);
  });

  test('at true size are one pitch apart, half as wide as one row', () => {
    const [wide = 0, deep = 0] = (valuesOf(render(<TrueScale face={of('zigzag')} />), 'viewBox')[0] ?? '').split(' ').slice(2).map(Number);
    const [one = 0] = (valuesOf(render(<TrueScale face={{ ...of('zigzag'), header: face.header }} />), 'viewBox')[0] ?? '')
      .split(' ')
      .slice(2)
      .map(Number);
    expect(wide - 8).toBeCloseTo((one - 8) / 2, 6);
    const ys = [...render(<TrueScale face={of('zigzag')} />).matchAll(/<rect x="[\d.]+" y="([\d.]+)"[^>]*class="mm-mid paper"/g)].map(
      ([, y]) => Number(y),
    );
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(2.54, 2);
    expect(deep).toBeGreaterThan(10);
  });

  test('what the chart prints stands in the list of positions too, beside the count; a key that is not counted has a dash', () => {
    const lettered = of('lettered', 6, { rows: 1, skipLetters: 'B' });
    expect(textOf(render(<Faces face={lettered} idPrefix="x" />))).toMatch(/A .*counted 1 C .*counted 2 D .*counted 3/);
    const uncounted = { ...of('zigzag', 5, { rows: 1, numbering: 'along', keys: [3], keyCounted: false }) };
    const keyed = { ...uncounted, positions: uncounted.positions.map((p) => ({ ...p, key: p.position === 3 })) };
    expect(lines(render(<Face face={keyed} view="P1" />))).toEqual(['1 2 – 3 4']);
    expect(textOf(render(<Faces face={face} idPrefix="x" />))).not.toContain('counted');
  });
});

test('the triangle moves with position 1', () => {
  const left = xOfPinOne(render(<Face face={face} view="P1" />));
  const right = xOfPinOne(render(<Face face={face} view="P2" />));
  expect(left).toBeLessThan(right);
});

test.each([2, 24, 60])('a face of %i positions shows every one, with room for its number', (n) => {
  const [first] = face.positions;
  if (!first) throw new Error('the fixture has no positions');
  const long: FaceView = { ...face, positions: Array.from({ length: n }, (_, i) => ({ ...first, position: i + 1 })) };
  for (const narrow of [false, true]) {
    const html = render(<Face face={long} view="P1" narrow={narrow} />);
    expect(shown(html)).toHaveLength(n);
    const xs = [...html.matchAll(/<text x="([\d.]+)"[^>]*class="num/g)].map(([, x]) => Number(x));
    const steps = xs.slice(1).map((x, k) => x - (xs[k] ?? 0));
    expect(Math.min(...steps.filter((step) => step > 0))).toBeGreaterThanOrEqual(19.9); // two digits of 13 px take 16
    const width = Number((valuesOf(html, 'viewBox')[0] ?? '').split(' ')[2]);
    expect(width).toBeLessThanOrEqual(narrow ? 368 : 916); // longer ones are broken into rows
    if (narrow && n > 20) expect(steps.some((step) => step < 0)).toBe(true);
  }
});

// The house's own rule (README of the look): lettering in drawings is 12 px at the least, and narrow forms are never shrunk.
test('the style sheet letters no drawing below 12 px and shrinks no narrow form', () => {
  const css = readFileSync(new URL('../../lib/ui/styles/drawings.css', import.meta.url), 'utf8');
  const sizes = [...css.matchAll(/\.drawing \.[\w-]+ \{[^}]*?([\d.]+)px(?: var\(--mono\))?;/g)]
    .filter(([rule]) => rule.includes('font'))
    .map(([, size]) => Number(size));
  expect(sizes.length).toBeGreaterThan(8);
  expect(Math.min(...sizes)).toBeGreaterThanOrEqual(12);
  expect(css).toMatch(/\.matrix\.narrow \{ max-width: none; \}/);
  expect(css).toMatch(/\.plate \.narrow \{ max-width: none; \}/);
});

test('a flip works without scripts: one named radio a view, the first chosen, the positions in words', () => {
  const html = render(<Faces face={face} idPrefix="x" />);
  const radios = tags(html).filter(({ attrs }) => attrs.get('type') === 'radio');
  expect(radios.map(({ attrs }) => attrs.has('checked'))).toEqual([true, false]);
  expect(new Set(radios.map(({ attrs }) => attrs.get('name')))).toEqual(new Set(['x-view']));
  expect(textOf(html)).toContain('Wire entry');
  expect(textOf(html)).toContain('Contact openings');
  expect(unnamedWires(html)).toEqual([]);
  for (const p of face.positions.filter((q) => q.wires.length)) expect(textOf(html)).toContain(`${p.position} ${p.wires[0]?.colour}`);
});

test('the figure of a header offers all four views; an unknown header says so', () => {
  const text = textOf(render(<HeaderFigure chart={fixtureChart} header="A3J4" idPrefix="h" />));
  for (const name of Object.values(names)) expect(text).toContain(name);
  expect(textOf(render(<HeaderFigure chart={fixtureChart} header="A9J9" idPrefix="h" />))).toContain('no header A9J9');
});

test('a stripe is drawn over its base, and a dark stripe on a dark base has a light hairline', () => {
  const html = render(<WireChip colour="violet/black" />);
  expect(html.indexOf('var(--wire-violet)')).toBeLessThan(html.indexOf('"var(--wire-black)"'));
  expect(html).toContain('var(--stripe-light)');
  expect(stripeLine('grey/black')).toBe('var(--stripe-black)');
  expect(stripeLine('grey/orange')).toBe('var(--edge-stripe)');
});

test('decoration is hidden from assistive technology', () => {
  for (const node of [
    <Sample key="a" colour="grey/orange" />,
    <Loom key="b" colours={['grey/orange']} />,
    <PlanSlice key="c" colours={['grey/orange']} keyed={false} first last />,
  ]) {
    expect(tags(render(node))[0]?.attrs.get('aria-hidden')).toBe('true');
  }
});

describe('matrix', () => {
  const matrix = fixtureChart.circuits.filter((c) => c.kind === 'matrix');
  const [a = '', b = '', c = ''] = matrix.map(({ number }) => number);
  const html = render(
    <MatrixMap
      chart={fixtureChart}
      idPrefix="m"
      lit="46"
      open={{ [a]: 1 }}
      past={{ [b]: 2 }}
      unproved={{ [b]: 1 }}
      found={[c]}
      href={(n) => `#sw-${n}`}
    />,
  );
  test('has a link for every switch, in all three forms and in the table', () => {
    expect(matrix.length).toBeGreaterThan(8);
    for (const { number } of matrix) expect(html.split(`href="#sw-${number}"`).length - 1, number).toBe(4);
  });
  test('says in words what its marks show', () => {
    const label = (number: string) => valuesOf(html, 'aria-label').find((l) => l.startsWith(`${number} `)) ?? '';
    expect(label(a)).toContain('1 open fault');
    expect(label(b)).toContain('2 past fixes, 1 not proved');
    expect(label(c)).toContain('differs from the manual');
    expect(label('46')).toMatch(/column 4 violet\/yellow, row 6 grey\/orange/);
    expect(label('46')).not.toMatch(/open|past|differs/);
  });
  test('is safe and names its wires', () => {
    expect(faults(html)).toEqual([]);
    expect(unnamedWires(html)).toEqual([]);
  });
  test('draws any size the chart has', () => {
    const wide = { ...fixtureChart, columns: Array.from({ length: 16 }, (_, i) => i + 1), rows: [1, 2, 3] };
    expect(faults(render(<MatrixMap chart={wide} idPrefix="w" />))).toEqual([]);
  });
  test('without a matrix it says so', () => {
    expect(textOf(render(<MatrixMap chart={{ ...fixtureChart, circuits: [] }} idPrefix="n" />))).toContain('no switch matrix');
  });
});

describe('cut', () => {
  const cut = { from: 16, keep: 11, lost: 1, keys: [4], pitchMm: 2.54, sawn: true };
  test('says what is kept, lost and left over', () => {
    expect(cutInWords(cut)).toBe('A housing of 16 cut to 11. The blade takes position 12. 4 are kept as an offcut.');
    expect(cutInWords({ ...cut, lost: 0, sawn: false })).toBe('A housing of 16 broken at its score to 11. 5 are kept as an offcut.');
  });
  test.each([false, true])('letters the kept length in millimetres (narrow: %s)', (narrow) => {
    const html = render(<Cut {...cut} narrow={narrow} />);
    expect(textOf(html)).toContain('11 × 2.54 = 27.94 mm');
    expect(html).toContain('pin-one');
    expect(html).toContain('key-cross');
  });
});

describe('in millimetres', () => {
  test('a housing of 11 at 2.54 mm is 27.94 mm of body at 1:1', () => {
    const html = render(<TrueScale face={face} />);
    const svg = tags(html)[0];
    expect(svg?.attrs.get('width')).toBe('35.94mm'); // body and 4 mm each side
    expect(svg?.attrs.get('viewBox')?.split(' ')[2]).toBe('35.94'); // so one unit is one millimetre
    expect(
      tags(html)
        .find(({ name }) => name === 'rect')
        ?.attrs.get('width'),
    ).toBe('27.94');
  });
  test('the check bar is 50 mm between its ends', () => {
    const html = render(<Ruler />);
    expect(tags(html)[0]?.attrs.get('width')).toBe('54mm');
    expect(html).toContain('M2 6h50');
  });
});
