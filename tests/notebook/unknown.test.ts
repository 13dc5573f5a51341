/** An editor must know everything on the page before it is bound to it. */
import { getSchema } from '@tiptap/core';
import type { Schema } from '@tiptap/pm/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { contentOf, newPageDoc } from '@/lib/notebook/content';
import { normalContent } from '@/lib/notebook/markdown/normal';
import { proseExtensions, schema, WidgetNode } from '@/lib/notebook/schema';
import type { DocNode } from '@/lib/notebook/types';
import { unknownIn, unknownInUpdate } from '@/lib/notebook/unknown';
import { nodesIn } from '@/lib/notebook/walk';
import { page as anyPage } from './arbitrary';

const shared = (content: Parameters<typeof newPageDoc>[0]) => {
  const update = newPageDoc(normalContent(content));
  const doc = new Y.Doc();
  Y.applyUpdate(doc, update);
  return { update, root: doc.getXmlFragment('content'), doc: contentOf(doc).doc };
};
const uses = (doc: DocNode, name: string) =>
  [...nodesIn(doc)].some(({ type, marks }) => type === name || marks?.some((mark) => mark.type === name));

/** Without list items there are no lists either. */
const lacksMore = (doc: DocNode, older: Schema) => [...nodesIn(doc)].some(({ type }) => !older.nodes[type]);

describe('unknown content', () => {
  it('this build knows every page that it can write', () => {
    fc.assert(
      fc.property(anyPage, (page) => {
        const { root, update } = shared(page);
        expect(unknownIn(root, schema)).toBeNull();
        expect(unknownInUpdate(update, new Y.Doc(), schema)).toBeNull();
      }),
      { numRuns: 100 },
    );
  });

  // An older build: one that lacks a node or a mark of today.
  const names = [...proseExtensions, WidgetNode].map((e) => e.name).filter((name) => name in schema.nodes || name in schema.marks);
  it.each(names.filter((name) => !['doc', 'paragraph', 'text'].includes(name)))(
    'a build without %s finds it, wherever it stands',
    (name) => {
      const lists = (other: string) => name === 'listItem' && /List$/.test(other); // their content is list items
      const older = getSchema([...proseExtensions, WidgetNode].filter((e) => e.name !== name && !lists(e.name)));
      fc.assert(
        fc.property(anyPage, (page) => {
          const { doc, root, update } = shared(page);
          const found = uses(doc, name);
          expect(unknownIn(root, older) !== null).toBe(found || lacksMore(doc, older));
          expect(unknownInUpdate(update, new Y.Doc(), older) !== null).toBe(found || lacksMore(doc, older));
        }),
        { numRuns: 60 },
      );
    },
  );

  /** A document, and what happens to it next, as an update that was not applied to `before` yet. */
  function change(act: (root: Y.XmlFragment) => void) {
    const [doc, before] = [new Y.Doc(), new Y.Doc()];
    const heading = new Y.XmlElement('heading');
    const text = new Y.XmlText();
    doc.getXmlFragment('content').push([heading]);
    heading.setAttribute('level', 2 as unknown as string);
    heading.insert(0, [text]);
    text.insert(0, 'words', { bold: {} });
    Y.applyUpdate(before, Y.encodeStateAsUpdate(doc));
    const root = doc.getXmlFragment('content');
    act(root);
    const update = Y.encodeStateAsUpdate(doc, Y.encodeStateVector(before));
    return { scan: unknownIn(root, schema), check: unknownInUpdate(update, before, schema) };
  }
  const headingOf = (root: Y.XmlFragment) => root.get(0) as Y.XmlElement;
  const textIn = (root: Y.XmlFragment) => headingOf(root).get(0) as Y.XmlText;
  const both = (words: string | null) => ({ scan: words, check: words });

  it('names an attribute of a newer build, on an old block and on a new one', () => {
    expect(change((root) => headingOf(root).setAttribute('level', 3 as unknown as string))).toEqual(both(null));
    expect(change((root) => headingOf(root).setAttribute('tint', 'rust'))).toEqual(both('“tint” of a block of the kind “heading”'));
    const added = (root: Y.XmlFragment) => {
      const widget = new Y.XmlElement('widget');
      root.push([widget]);
      for (const name of ['id', 'kind', 'side']) widget.setAttribute(name, 'x');
    };
    expect(change(added)).toEqual(both('“side” of a block of the kind “widget”'));
  });

  it('names a mark of a newer build and an attribute of one', () => {
    expect(change((root) => textIn(root).format(0, 3, { italic: {}, bold: null }))).toEqual(both(null));
    expect(change((root) => textIn(root).format(0, 3, { struck: {} }))).toEqual(both('words marked as “struck”'));
    expect(change((root) => textIn(root).format(0, 3, { link: { href: 'https://a.example', glow: 1 } }))).toEqual(
      both('“glow” of words marked as “link”'),
    );
  });

  it('names a block of a newer build, however deep it stands', () => {
    const deep = (root: Y.XmlFragment) => {
      let at: Y.XmlElement | Y.XmlFragment = root;
      for (let depth = 0; depth < 150; depth++) {
        const quote = new Y.XmlElement('blockquote');
        at.push([quote]);
        at = quote;
      }
      at.push([new Y.XmlElement('dial')]);
    };
    expect(change(deep)).toEqual(both('a block of the kind “dial”'));
  });

  it('knows no hooks and no embeds', () => {
    expect(change((root) => root.push([new Y.XmlHook('x') as unknown as Y.XmlElement]))).toEqual(both('something among its words'));
    expect(change((root) => textIn(root).insertEmbed(1, { dial: 7 }))).toEqual(both('something among its words'));
  });

  it('names of the language are no names of the schema', () => {
    expect(change((root) => headingOf(root).setAttribute('constructor', 'x')).check).toBe('“constructor” of a block of the kind “heading”');
    expect(change((root) => root.push([new Y.XmlElement('toString')])).scan).toBe('a block of the kind “toString”');
  });

  it('the state of widgets is nobody’s schema', () => {
    expect(change((root) => root.doc?.getMap('widget:w').set('anything', { a: 1 }))).toEqual(both(null));
  });
});
