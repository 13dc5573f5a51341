/** The screens of a page’s past: what they say without colour, and that they fit the content security policy. */
import { describe, expect, test } from 'vitest';
import { pageDifferences } from '@/lib/notebook/differences';
import { evaluatePage } from '@/lib/notebook/evaluate';
import type { DocNode, PageContent } from '@/lib/notebook/types';
import type { Stretch } from '@/lib/store/types';
import { HistoryList, HistoryMargin, historyBar } from '@/lib/ui/history-list';
import { HistorySheet, Legend } from '@/lib/ui/history-sheet';
import { HistorySlider } from '@/lib/ui/history-slider';
import { clocks, pointOf } from '@/lib/ui/history-words';
import { fixtureChart } from '../core/fixture';
import { fixtureCatalogue } from '../core/parts-fixture';
import { faults, render, tags, textOf, valuesOf } from './markup';

const paragraph = (words: string): DocNode => ({ type: 'paragraph', content: [{ type: 'text', text: words }] });
const heading = (level: number, words: string): DocNode => ({
  type: 'heading',
  attrs: { level },
  content: [{ type: 'text', text: words }],
});
const list = (...items: string[]): DocNode => ({
  type: 'bulletList',
  content: items.map((item) => ({ type: 'listItem', content: [paragraph(item)] })),
});
const widget = (id: string, kind: string): DocNode => ({ type: 'widget', attrs: { id, kind } });
const page = (content: DocNode[], widgets: PageContent['widgets'] = {}): PageContent => ({ doc: { type: 'doc', content }, widgets });

function sheet(before: PageContent, after: PageContent, whole = false) {
  const { widgets } = evaluatePage(after, { chart: fixtureChart, catalogue: fixtureCatalogue, stock: {}, record: {} });
  return render(
    <HistorySheet differences={pageDifferences(before, after)} widgets={new Map(widgets.map((w) => [w.id, w]))} whole={whole} />,
  );
}
const inTags = (html: string, name: string) =>
  [...html.matchAll(new RegExp(`<${name}>(.*?)</${name}>`, 'gs'))].map(([, inside = '']) => textOf(inside).trim());

describe('a page with its differences', () => {
  test('words are put in and taken out by their own elements', () => {
    const html = sheet(page([paragraph('The wire at seven is loose.')]), page([paragraph('The wire at nine is loose.')]));
    expect(inTags(html, 'ins')).toEqual(['nine']);
    expect(inTags(html, 'del')).toEqual(['seven']);
    expect(textOf(html)).toContain('Changed');
    expect(faults(html)).toEqual([]);
  });

  test('what came, went and moved says so in words', () => {
    const [a, b, c] = [paragraph('the plug was warm to touch'), paragraph('row six misses'), paragraph('crimped anew')];
    const text = textOf(sheet(page([a, b, c]), page([b, c, a, paragraph('spring bent back')])));
    for (const sign of ['Moved from here', 'Moved here', 'Added']) expect(text).toContain(sign);
    expect(textOf(sheet(page([a, b]), page([b])))).toContain('Removed');
  });

  test('neighbours that came together stand under one sign; an empty line is none', () => {
    const html = sheet(
      page([paragraph('row six misses')]),
      page([paragraph('row six misses'), { type: 'paragraph' }, paragraph('crimped'), list('one')]),
    );
    expect(textOf(html).match(/Added/g)).toHaveLength(1);
    expect(inTags(html, 'ins')).toEqual(['crimped', 'one']);
    expect(textOf(sheet(page([paragraph('a')]), page([paragraph('a'), { type: 'paragraph' }])))).not.toContain('Added');
  });

  test('unchanged blocks fold, with one kept beside each change, and unfold on demand', () => {
    const many = Array.from({ length: 20 }, (_, k) => paragraph(`line number ${k}`));
    const after = many.map((block, k) => (k === 10 ? paragraph('line number ten') : block));
    const html = sheet(page(many), page(after));
    expect([...html.matchAll(/<summary>(.*?)<\/summary>/g)].map(([, words]) => words)).toEqual([
      '9 blocks unchanged',
      '8 blocks unchanged',
    ]);
    const outside = textOf(html.replace(/<details.*?<\/details>/gs, ''));
    for (const near of ['line number 9', 'line number 11']) expect(outside).toContain(near);
    expect(outside).not.toContain('line number 8');
    expect(textOf(html)).toContain('line number 3');
    expect(sheet(page(many), page(after), true)).not.toContain('<details');
  });

  test('lists keep their form: an item more is an item', () => {
    const html = sheet(page([list('crimp row six', 'test it cold')]), page([list('crimp row six', 'test it warm', 'write it up')]));
    expect(tags(html).filter(({ name }) => name === 'li')).toHaveLength(3);
    expect(inTags(html, 'ins')).toEqual(['warm', 'write it up']);
    expect(faults(html)).toEqual([]);
  });

  test('another level of a heading is told', () => {
    expect(textOf(sheet(page([heading(2, 'Found')]), page([heading(3, 'Found')])))).toContain('Was a heading of level 2');
  });

  test('a widget tells what was done in it, and stands below as it stood', () => {
    const tick = { by: 'Ada Finch', at: '2026-11-21T10:02:00+00:00' };
    const before = page([widget('w1', 'connector-plan')], { w1: { header: 'A3J4' } });
    const html = sheet(before, page([widget('w1', 'connector-plan')], { w1: { header: 'A3J4', 'tick.batteries': tick } }));
    expect(textOf(html)).toContain('Connector plan A3J4');
    expect(textOf(html)).toContain('Ticked ‘Batteries out’ by Ada Finch');
    expect(valuesOf(html, 'id')).toContain('w-w1');
    expect(faults(html)).toEqual([]);
    const gone = sheet(before, page([paragraph('x')]));
    expect(inTags(gone, 'del')).toContain('Connector plan A3J4');
  });

  test('hostile content is text', () => {
    const html = sheet(
      page([paragraph('<script>alert(1)</script>')]),
      page([
        { type: 'paragraph', content: [{ type: 'text', text: 'x', marks: [{ type: 'link', attrs: { href: 'javascript:alert(1)' } }] }] },
      ]),
    ); // prettier-ignore
    expect(faults(html)).toEqual([]);
    expect(html).not.toContain('javascript:');
  });

  test('the legend uses the same elements', () => {
    const html = render(<Legend />);
    expect(inTags(html, 'ins')).toEqual(['put in']);
    expect(inTags(html, 'del')).toEqual(['taken out']);
  });
});

const stretch = (number: number, at: string, more: Partial<Stretch> = {}): Stretch => ({
  number,
  from: number - 2,
  members: [{ id: 'm1', name: 'Ines Okafor' }],
  began: at,
  at,
  bytes: 100,
  name: null,
  ...more,
});
const past = [
  stretch(3, '2026-11-20T10:00:00.000Z'),
  stretch(9, '2026-11-21T10:31:00.000Z', { began: '2026-11-21T10:02:00.000Z', name: 'As handed back' }),
  stretch(12, '2026-11-21T18:00:00.000Z', { members: [] }),
];

describe('the list', () => {
  test('goes by days, newest first, with who, what and names', () => {
    const rows = past.toReversed().map((s) => ({ stretch: s, summary: `+${s.number} words` }));
    const html = render(<HistoryList page="p1" rows={rows} />);
    expect([...html.matchAll(/<h2>(.*?)<\/h2>/g)]).toHaveLength(2);
    expect(valuesOf(html, 'href')).toEqual(['/pages/p1/history?at=12', '/pages/p1/history?at=9', '/pages/p1/history?at=3']);
    for (const words of ['The notebook itself', 'Ines Okafor', 'As handed back', '+9 words']) expect(textOf(html)).toContain(words);
    expect(faults(html)).toEqual([]);
  });
  test('the margin leads to the named versions', () => {
    const html = render(<HistoryMargin page="p1" stretches={past.toReversed()} at={9} />);
    expect(valuesOf(html, 'href')).toEqual(['/pages/p1/history?at=9']);
    expect(valuesOf(html, 'aria-current')).toEqual(['true']);
    expect(historyBar(past)).toBe('3 stretches, 1 named');
    expect(historyBar(past.slice(0, 1))).toBe('1 stretch');
  });
  test('times of a stretch are one where it was short', () => {
    expect(clocks(past[1]!)).toMatch(/^\d\d:02 to \d\d:31$/);
    expect(clocks(past[0]!)).toMatch(/^\d\d:00$/);
    expect(pointOf(past[1]!)).toMatch(/^‘As handed back’, 2\d November 2026, \d\d:31$/);
  });
});

describe('the slider', () => {
  test('is a plain form with a button, and links a step back and on', () => {
    const html = render(<HistorySlider page="p1" stretches={past} index={1} against="" />);
    const form = tags(html).find(({ name }) => name === 'form');
    expect(form?.attrs.get('action')).toBe('/pages/p1/history');
    expect(form?.attrs.has('method')).toBe(false); // GET
    const range = tags(html).find(({ attrs }) => attrs.get('type') === 'range');
    expect([range?.attrs.get('min'), range?.attrs.get('max'), range?.attrs.get('value')]).toEqual(['1', '3', '2']);
    expect(tags(html).some(({ name, attrs }) => name === 'button' && attrs.get('type') === 'submit')).toBe(true);
    expect(valuesOf(html, 'href')).toEqual(['/pages/p1/history?at=3', '/pages/p1/history?at=12']);
    expect(faults(html)).toEqual([]);
  });
  test('keeps what it is compared with, also an entry that has no name', () => {
    const html = render(<HistorySlider page="p1" stretches={past} index={2} against="4" />);
    const chosen = tags(html).filter(({ name, attrs }) => name === 'option' && attrs.has('selected'));
    expect(chosen.map(({ attrs }) => attrs.get('value'))).toEqual(['4']);
    expect(render(<HistorySlider page="p1" stretches={past} index={0} against="now" />)).not.toContain('Earlier');
  });
});
