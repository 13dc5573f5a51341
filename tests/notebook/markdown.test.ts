import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromMarkdown, toMarkdown } from '@/lib/notebook/markdown';
import { normalContent } from '@/lib/notebook/markdown/normal';
import { schema } from '@/lib/notebook/schema';
import type { DocNode } from '@/lib/notebook/types';
import { page } from './arbitrary';

const read = (text: string) => {
  const result = fromMarkdown(text);
  if (!result.ok) throw new Error(result.message);
  return result;
};
/** More by RUNS=40000, which takes minutes. */
const runs = Number(process.env.RUNS ?? 150);

describe('Markdown', () => {
  it('normal form fits the schema and is its own normal form', () => {
    fc.assert(
      fc.property(page, (content) => {
        const normal = normalContent(content);
        schema.nodeFromJSON(normal.doc).check();
        expect(normalContent(normal)).toEqual(normal);
      }),
      { numRuns: runs },
    );
  });

  it('written and read back, a page is its normal form, and its text is stable', () => {
    fc.assert(
      fc.property(page, (content) => {
        const text = toMarkdown(content);
        const back = read(text);
        expect(back.content).toEqual(normalContent(content));
        expect(toMarkdown(back.content)).toBe(text);
      }),
      { numRuns: runs },
    );
  });
});

const blocks = (text: string) => read(text).content.doc.content;
const words = (text: string, ...types: string[]) => ({
  type: 'text',
  text,
  ...(types.length > 0 && { marks: types.map((type) => ({ type })) }),
});
const paragraph = (...content: object[]) => ({ type: 'paragraph', content });

describe('reading', () => {
  // Examples of the CommonMark specification 0.31.2, sections 6.2 and 6.7 to 6.8 for the inline ones; from memory.
  it.each([
    ['emphasis needs no space inside', '_foo bar_', [paragraph(words('foo bar', 'italic'))]],
    ['intraword underscores are literal', 'foo_bar_', [paragraph(words('foo_bar_'))]],
    [
      'strong within emphasis',
      '*foo **bar** baz*',
      [paragraph(words('foo ', 'italic'), words('bar', 'bold', 'italic'), words(' baz', 'italic'))],
    ],
    ['backslash hard break', 'foo\\\nbaz', [paragraph(words('foo'), { type: 'hardBreak' }, words('baz'))]],
    ['soft break', 'foo\nbaz', [paragraph(words('foo baz'))]],
    ['setext heading', 'Foo\n===', [{ type: 'heading', attrs: { level: 1 }, content: [words('Foo')] }]],
    ['indented code', '    a simple\n      block', [{ type: 'codeBlock', content: [words('a simple\n  block')] }]],
    [
      'start number',
      '7) x',
      [{ type: 'orderedList', attrs: { start: 7 }, content: [{ type: 'listItem', content: [paragraph(words('x'))] }] }],
    ],
    ['entities', '&copy; &#35;', [paragraph(words('© #'))]],
  ])('%s', (_, text, expected) => {
    expect(blocks(text)).toEqual(expected);
  });

  it('takes HTML as literal text, never as HTML', () => {
    expect(blocks('<script>alert(1)</script>\n\n<b onclick="x">hi</b> <!-- c -->')).toEqual([
      paragraph(words('<script>alert(1)</script>')),
      paragraph(words('<b onclick="x">hi</b> <!-- c -->')),
    ]);
  });

  it.each([
    '[x](javascript:alert(1))',
    '[x](JAVASCRIPT:alert(1))',
    '[x](&#106;avascript:alert(1))',
    '[x](java&#10;script:alert(1))',
    '<javascript:alert(1)>',
    '[x][r]\n\n[r]: javascript:alert(1)',
    '[x](data:text/html,hi)',
    '![x](javascript:alert(1))',
  ])('drops the link and keeps the words of %s', (text) => {
    const result = read(text);
    expect(JSON.stringify(result.content)).not.toContain('"link"');
    expect(result.notices.join()).toContain('Line 1: a link was dropped');
    expect(JSON.stringify(result.content)).toMatch(/x|javascript/);
  });

  it('follows reference links', () => {
    expect(blocks('[a][r]\n\n[r]: https://example.org "t"')).toEqual([
      paragraph({ type: 'text', text: 'a', marks: [{ type: 'link', attrs: { href: 'https://example.org', title: 't' } }] }),
    ]);
  });

  it('names line and mend of what it changed', () => {
    expect(read('# a\n\n##### b').notices).toEqual(['Line 3: a heading of level 5 became level 3. To mend: use one to three # signs.']);
    expect(read('![a](https://example.org/x.png)').notices[0]).toContain('Line 1: a picture became a link');
    expect(read('[`c`](https://example.org)').notices[0]).toContain('Line 1');
  });

  it('refuses more than 1 MB, counted in bytes', () => {
    expect(fromMarkdown('é'.repeat(500_001))).toMatchObject({ ok: false, message: 'The text is 1.0 MB; a page takes 1 MB.' });
    expect(fromMarkdown('x'.repeat(1_000_000)).ok).toBe(true);
  });

  it('refuses nesting without end, and is not slowed by hostile text', () => {
    expect(fromMarkdown(`x\n\n${'>'.repeat(100_000)} x`)).toMatchObject({ ok: false, message: 'Line 3 is nested more than 50 deep.' });
    expect(fromMarkdown('- '.repeat(10_000)).ok).toBe(false);
    expect(fromMarkdown(`${'> '.repeat(50)}x`).ok).toBe(true);
    expect(fromMarkdown(`ok\n\n${'**a*_'.repeat(20_000)}`)).toMatchObject({
      ok: false,
      message: 'The paragraph at line 3 has too many of the marks * _ [.',
    });
    expect(fromMarkdown('[a]('.repeat(25_000)).ok).toBe(false);
    expect(fromMarkdown('a *b* [c](/d)\n\n'.repeat(1000)).ok).toBe(true);
    expect(fromMarkdown('\n'.repeat(20_000))).toMatchObject({ ok: false, message: 'The text has 20001 lines; a page takes 20000.' });
  });
});

describe('widgets in Markdown', () => {
  const fence = (info: string, ...lines: string[]) => [`\`\`\`${info}`, ...lines, '```', ''].join('\n');

  it('are written one key a line, sorted', () => {
    const content = {
      doc: { type: 'doc', content: [{ type: 'widget', attrs: { id: 'w1', kind: 'fix-record' } }] },
      widgets: { w1: { symptom: 'dead', 'circuit.46': true, 'tick.x': { by: 'Ines', at: 't' }, 'odd key': 1 } },
    };
    expect(toMarkdown(content)).toBe(
      fence('widget fix-record w1', 'circuit.46: true', '"odd key": 1', 'symptom: "dead"', 'tick.x: {"by":"Ines","at":"t"}'),
    );
  });

  it('of a kind nobody knows keep their data untouched', () => {
    const text = fence('widget hologram h1', 'beams: [1,2,{"x":null}]', 'colour: "teal"');
    const back = read(text);
    expect(back.notices).toEqual([]);
    expect(back.content.widgets).toEqual({ h1: { beams: [1, 2, { x: null }], colour: 'teal' } });
    expect(toMarkdown(back.content)).toBe(text);
  });

  it('written by hand without an id get one', () => {
    const back = fromMarkdown(fence('widget fix-record'), () => 'fresh');
    expect(back).toMatchObject({ ok: true, notices: [], content: { widgets: { fresh: {} } } });
  });

  it.each([
    [['symptom: "x"', 'cause = worn'], 'Line 5: “cause = worn” is not a key and a value', 'write key: value'],
    [['symptom: dead'], 'Line 4: the value of symptom is not JSON', 'put words in double quotes'],
    [['a: 1', '', 'a: 2'], 'Line 6: a stands twice', 'keep one'],
    [['__proto__: {"x":1}'], 'Line 4: “__proto__: {"x":1}” is not a key', 'write key: value'],
  ])('with a body that cannot be read are kept as code: %#', (lines, what, mend) => {
    const back = read(`one\n\n${fence('widget fix-record w1', ...lines)}`);
    expect(back.notices).toHaveLength(1);
    expect(back.notices[0]).toContain(what);
    expect(back.notices[0]).toContain(mend);
    expect(back.content.widgets).toEqual({});
    expect(back.content.doc.content?.[1]).toEqual({
      type: 'codeBlock',
      attrs: { language: 'widget fix-record w1' },
      content: [words(lines.join('\n'))],
    });
    expect(read(toMarkdown(back.content)).content).toEqual(back.content);
  });

  it('under one id twice: the second gets its own, and a notice', () => {
    const back = fromMarkdown(`${fence('widget fix-record w1', 'a: 1')}\n${fence('widget fix-record w1', 'a: 2')}`, () => 'fresh');
    expect(back).toMatchObject({ ok: true, content: { widgets: { w1: { a: 1 }, fresh: { a: 2 } } } });
    expect(back.ok && back.notices[0]).toContain('Line 5: the id w1 stands twice');
  });
});

describe('text that once went wrong', () => {
  const list = (type: string, ...items: DocNode[][]): DocNode => ({
    type,
    ...(type === 'orderedList' && { attrs: { start: 0 } }),
    content: items.map((content) => ({ type: 'listItem', content })),
  });
  const empty = { type: 'paragraph' };
  const row: DocNode = { type: 'paragraph', content: [{ type: 'text', text: 'row' }] };
  const cases: [string, DocNode[]][] = [
    [
      'a quote under words, with a list of one empty item',
      [
        list(
          'bulletList',
          [{ type: 'blockquote', content: [list('orderedList', [row, { type: 'blockquote', content: [list('orderedList', [empty])] }])] }],
          [empty],
        ),
      ],
    ],
    [
      'an ordered list directly in an ordered list',
      [list('orderedList', [row, list('orderedList', [list('orderedList', [empty])], [empty])], [empty])],
    ],
    [
      'a rule first in a list',
      [list('bulletList', [list('bulletList', [{ type: 'horizontalRule' }]), list('bulletList', [{ type: 'horizontalRule' }])], [empty])],
    ],
    [
      'three lists within each other beside another',
      [list('bulletList', [empty]), list('bulletList', [list('bulletList', [list('bulletList', [empty])], [empty])])],
    ],
    [
      'underscores beside a character of two code units at the edge of emphasis',
      [
        {
          type: 'paragraph',
          content: [
            { type: 'text', text: 'é_six__\u{23a97}', marks: [{ type: 'italic' }] },
            { type: 'text', text: 'row' },
          ],
        },
      ],
    ],
  ];
  it.each(cases)('%s', (_, content) => {
    const page = { doc: { type: 'doc', content }, widgets: {} };
    expect(read(toMarkdown(page)).content).toEqual(normalContent(page));
  });
});
