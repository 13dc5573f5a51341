/** The frame of every screen and the text of a page. */
import { describe, expect, test } from 'vitest';
import type { DocNode } from '@/lib/notebook/types';
import { Prose } from '@/lib/ui/prose';
import { Bare, Field, People, SaveSign, Shell, TickBox } from '@/lib/ui/shell';
import { day, duration, listed, money } from '@/lib/ui/words';
import { faults, render, tags, textOf, valuesOf } from './markup';

const shell = (
  <Shell
    here="Machines"
    member={{ name: 'Ines Okafor', role: 'editor' }}
    club="Saltmarsh Coin-Op Club"
    title="Lantern Regatta"
    query="grey-orange"
    margin={<h4>This machine</h4>}
    bar="2 open"
  >
    <h1>Lantern Regatta</h1>
  </Shell>
);

describe('shell', () => {
  const html = render(shell);
  test('is safe, and its labels point at something', () => expect(faults(html)).toEqual([]));
  test('has one main part, and the skip link leads there', () => {
    expect(tags(html).filter(({ name }) => name === 'main')).toHaveLength(1);
    expect(valuesOf(html, 'href')[0]).toBe('#page');
    expect(valuesOf(html, 'id')).toContain('page');
  });
  test('asks for clues with a plain form', () => {
    const form = tags(html).find(({ name }) => name === 'form');
    expect(form?.attrs.get('action')).toBe('/search');
    const clue = tags(html).find(({ attrs }) => attrs.get('id') === 'clue');
    expect([clue?.attrs.get('name'), clue?.attrs.get('value')]).toEqual(['q', 'grey-orange']);
  });
  test('marks the section one is in, and only that', () => {
    expect(
      tags(html)
        .filter(({ attrs }) => attrs.get('aria-current') === 'page')
        .map(({ attrs }) => attrs.get('href')),
    ).toEqual(['/machines']);
  });
  test('on a phone the margin is opened by a named control, and its handle says what is in it', () => {
    expect(
      tags(html)
        .find(({ attrs }) => attrs.get('id') === 'margin-open')
        ?.attrs.get('type'),
    ).toBe('checkbox');
    expect(textOf(html)).toContain('2 open');
  });
  test('without a margin there is no handle for one', () => {
    expect(
      render(
        <Shell here="Parts" member={{ name: 'I', role: 'owner' }} club="c" title="Parts">
          x
        </Shell>,
      ),
    ).not.toContain('margin-open');
  });
});

test('who is here is named, not only coloured or ringed', () => {
  expect(textOf(render(<People people={[{ initials: 'IO', name: 'Ines Okafor', hand: 1 }]} />))).toContain('Ines Okafor');
});
test('the save state is announced', () => {
  expect(render(<SaveSign state="saved">Saved 14:32</SaveSign>)).toContain('role="status"');
});
test('a tick for readers is still and says its state', () => {
  const html = render(<TickBox label="Batteries out" tick={{ by: 'Ines Okafor', at: '2026-11-21T10:05:00.000Z' }} />);
  expect(html).not.toContain('<button');
  expect(valuesOf(html, 'aria-label')).toEqual(['Batteries out, by Ines Okafor 10:05: done']);
});
test('a field ties label, hint and error to its control', () => {
  const html = render(
    <Field id="x" label="Pin" hint="such as A3J4-7" error="write a pin">
      {(control) => <input {...control} type="text" />}
    </Field>,
  );
  expect(faults(html)).toEqual([]);
  expect(valuesOf(html, 'aria-describedby')).toEqual(['x-hint x-error']);
  expect(valuesOf(html, 'aria-invalid')).toEqual(['true']);
});
test('a sheet without sections has a title', () => expect(textOf(render(<Bare title="Sign in">x</Bare>))).toContain('Sign in'));

describe('prose', () => {
  const text = (words: string, ...marks: NonNullable<DocNode['marks']>): DocNode => ({ type: 'text', text: words, marks });
  const page = (...content: DocNode[]): DocNode => ({ type: 'doc', content });
  const paragraph = (...content: DocNode[]): DocNode => ({ type: 'paragraph', content });
  const link = (href: unknown) => page(paragraph(text('here', { type: 'link', attrs: { href } })));
  const html = (doc: DocNode) => render(<Prose doc={doc} renderWidget={(id) => <div data-widget={id} />} />);

  test('every block and mark of the schema', () => {
    const doc = page(
      { type: 'heading', attrs: { level: 1 }, content: [text('T')] },
      { type: 'heading', attrs: { level: 3 }, content: [text('S')] },
      paragraph(text('a', { type: 'bold' }), { type: 'hardBreak' }, text('b', { type: 'italic' }, { type: 'code' })),
      { type: 'bulletList', content: [{ type: 'listItem', content: [paragraph(text('c'))] }] },
      { type: 'orderedList', attrs: { start: 3 }, content: [{ type: 'listItem', content: [paragraph(text('d'))] }] },
      { type: 'blockquote', content: [paragraph(text('e'))] },
      { type: 'codeBlock', content: [text('<f>')] },
      { type: 'horizontalRule' },
      { type: 'widget', attrs: { id: 'w1', kind: 'x' } },
    );
    expect(html(doc)).toBe(
      '<h1>T</h1><h3>S</h3><p><strong>a</strong><br/><code><em>b</em></code></p><ul><li><p>c</p></li></ul><ol start="3"><li><p>d</p></li></ol><blockquote><p>e</p></blockquote><pre><code>&lt;f&gt;</code></pre><hr/><div data-widget="w1"></div>',
    );
  });
  test('a link goes only where links may go', () => {
    expect(html(link('https://example.org/'))).toContain('href="https://example.org/"');
    for (const bad of ['javascript:alert(1)', 'JaVaScRiPt:alert(1)', 'java\nscript:alert(1)', 'data:text/html,x', 7, null])
      expect(html(link(bad))).toBe('<p>here</p>');
  });
  test('a node or mark it does not know loses nothing of the text', () => {
    expect(html(page({ type: 'strange', content: [paragraph(text('kept', { type: 'glow' }))] }))).toBe('<p>kept</p>');
  });
  test('an empty paragraph keeps its line', () => expect(html(page({ type: 'paragraph' }))).toBe('<p><br/></p>'));
});

test('words', () => {
  expect(day('2026-03-14T10:00:00Z')).toBe('14 March 2026');
  expect(day('some day')).toBe('some day');
  expect(duration(95)).toBe('1 h 35 min');
  expect(duration(45)).toBe('45 min');
  expect(duration(120)).toBe('2 h');
  expect(money(180, 'GBP')).toBe('£1.80');
  expect([listed([]), listed([4]), listed([4, 9]), listed([4, 9, 12])]).toEqual(['', '4', '4 and 9', '4, 9 and 12']);
});
