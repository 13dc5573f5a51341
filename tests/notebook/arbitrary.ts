/** Generated pages: every node and mark kind, nested, with the characters that Markdown minds. */
import fc from 'fast-check';
import type { DocNode, PageContent } from '@/lib/notebook/types';

const nasty = fc.constantFrom(
  '*',
  '**',
  '_',
  '__',
  '`',
  '``',
  '[',
  ']',
  '(',
  ')',
  '!',
  '<',
  '>',
  '#',
  '+',
  '-',
  '=',
  '~~~',
  '```',
  '\\',
  '&',
  '&amp;',
  '&#35;',
  '|',
  ':',
  '"',
  "'",
  '1.',
  '2)',
  '.',
  '~',
  '<b>',
  '<script>alert(1)</script>',
  '<!--',
  '-->',
  '[x]: y',
  '![i](j)',
  'http://a.b',
  'a@b.c',
  '---',
  '===',
  '    ',
  '\t',
  '  ',
  ' ',
  '\n',
  '\r\n',
  '\u00a0',
  '\u200b',
  '😀',
  'é',
  'Ω',
  '—',
  '\u0000',
  '\ud83d',
  '\ufeff',
); // prettier-ignore
const word = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom('row', 'six', 'A3J4-7', 'grey/orange', 'a_b', '46', 'x') },
  { weight: 2, arbitrary: nasty },
  { weight: 1, arbitrary: fc.string({ minLength: 1, maxLength: 4, unit: 'binary' }) },
);
const text = fc
  .array(word, { minLength: 1, maxLength: 5 })
  .chain((words) => fc.constantFrom('', ' ').map((by) => words.join(by)))
  .filter((t) => t !== '');
const href = fc.constantFrom(
  'https://example.org/',
  'http://a.b/c?d=e&f=g',
  '/pages/abc#w-1',
  'mailto:a@b.c',
  'tel:+441',
  '#here',
  'a(b)c',
  'javascript:alert(1)',
  'JAVA\nSCRIPT:alert(1)',
  'data:text/html,x',
  'a*b_c_*',
  '&amp;',
  'http://a.b',
);
const link: fc.Arbitrary<{ type: string; attrs?: Record<string, unknown> }> = fc.record({
  type: fc.constant('link'),
  attrs: fc.record({ href, title: fc.option(text) }),
});
const plainMark = fc.constantFrom('bold', 'italic', 'code').map((type): { type: string; attrs?: Record<string, unknown> } => ({ type }));
const marks: fc.Arbitrary<DocNode['marks']> = fc.oneof(
  { weight: 2, arbitrary: fc.constant<NonNullable<DocNode['marks']>>([]) },
  {
    weight: 3,
    arbitrary: fc.uniqueArray(fc.oneof({ weight: 5, arbitrary: plainMark }, { weight: 1, arbitrary: link }), {
      maxLength: 3,
      selector: (m) => m.type,
    }),
  },
);
const piece: fc.Arbitrary<DocNode> = fc.oneof(
  { weight: 8, arbitrary: fc.tuple(text, marks).map(([words, on]): DocNode => ({ type: 'text', text: words, marks: on })) },
  { weight: 1, arbitrary: fc.constant({ type: 'hardBreak' }) },
);
const inline = fc.array(piece, { maxLength: 6 });
const code = fc
  .array(fc.oneof(text, fc.constantFrom('\n', '```', '~~~~', '  ```\n', '\tx', '\n\n')), { maxLength: 5 })
  .map((t) => t.join(''));

export const jsonValue = fc.oneof(
  fc.boolean(),
  fc.integer(),
  fc.string(),
  fc.constant(null),
  fc.record({ by: fc.string(), at: fc.string() }, { noNullPrototype: true }),
  fc.array(fc.integer(), { maxLength: 3 }),
  text.map((t) => t.replace(/[\ud800-\udfff]/g, '')), // UTF-8 has no lone halves
);
const stateKey = fc
  .oneof(fc.constantFrom('clue', 'tick.power-off', 'circuit.46', 'part.T-254-S', 'note'), fc.string({ minLength: 1, maxLength: 6 }), text)
  .filter((key) => key !== '__proto__' && !/[\ud800-\udfff]/.test(key));
export const widgetState = fc.dictionary(stateKey, jsonValue, { maxKeys: 5, noNullPrototype: true });

type Leaf = 'paragraph' | 'heading' | 'codeBlock' | 'horizontalRule' | 'widget';
const { block } = fc.letrec<{ block: DocNode; item: DocNode; leaf: DocNode }>((tie) => ({
  leaf: fc
    .constantFrom<Leaf>('paragraph', 'paragraph', 'paragraph', 'heading', 'codeBlock', 'horizontalRule', 'widget')
    .chain((type): fc.Arbitrary<DocNode> => {
      if (type === 'paragraph') return inline.map((content) => ({ type, content }));
      if (type === 'heading')
        return fc.tuple(inline, fc.integer({ min: 1, max: 3 })).map(([content, level]) => ({ type, attrs: { level }, content }));
      if (type === 'codeBlock')
        return fc
          .tuple(code, fc.constantFrom(null, 'ts', 'c++', 'a b', 'widget', 'widget photo w1', '`~', '\\&amp;'))
          .map(([value, language]) => ({ type, attrs: { language }, content: value === '' ? [] : [{ type: 'text', text: value }] }));
      return fc.constant(type === 'widget' ? { type, attrs: { id: '', kind: 'some-kind' } } : { type });
    }),
  item: fc.array(tie('block'), { maxLength: 3, minLength: 1 }).map((content) => ({ type: 'listItem', content })),
  block: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    { weight: 5, arbitrary: tie('leaf') },
    { weight: 1, arbitrary: fc.array(tie('block'), { maxLength: 3, minLength: 1 }).map((content) => ({ type: 'blockquote', content })) },
    { weight: 1, arbitrary: fc.array(tie('item'), { maxLength: 3, minLength: 1 }).map((content) => ({ type: 'bulletList', content })) },
    {
      weight: 1,
      arbitrary: fc
        .tuple(fc.array(tie('item'), { maxLength: 3, minLength: 1 }), fc.constantFrom(0, 1, 7, 99, 999_999_999))
        .map(([content, start]) => ({ type: 'orderedList', attrs: { start }, content })),
    },
  ),
}));

/** A page; its widgets get the ids w0, w1 … and each a state. */
export const page: fc.Arbitrary<PageContent> = fc
  .tuple(fc.array(block, { minLength: 1, maxLength: 6 }), fc.array(widgetState, { minLength: 1, maxLength: 4 }))
  .map(([content, states]) => {
    const widgets: PageContent['widgets'] = {};
    const name = (node: DocNode): DocNode => {
      if (node.type !== 'widget') return node.content ? { ...node, content: node.content.map(name) } : node;
      const count = Object.keys(widgets).length;
      widgets[`w${count}`] = states[count % states.length] ?? {};
      return { ...node, attrs: { ...node.attrs, id: `w${count}` } };
    };
    return { doc: { type: 'doc', content: content.map(name) }, widgets };
  });
