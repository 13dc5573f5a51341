/** An editor must know everything on the page before it is bound to it. */
import { getSchema } from '@tiptap/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { contentOf, newPageDoc } from '@/lib/notebook/content';
import { normalContent } from '@/lib/notebook/markdown/normal';
import { proseExtensions, schema, WidgetNode } from '@/lib/notebook/schema';
import type { DocNode } from '@/lib/notebook/types';
import { unknownIn } from '@/lib/notebook/unknown';
import { nodesIn } from '@/lib/notebook/walk';
import { page as anyPage } from './arbitrary';

const shared = (content: Parameters<typeof newPageDoc>[0]) => {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, newPageDoc(normalContent(content)));
  return contentOf(doc).doc;
};
const uses = (doc: DocNode, name: string) =>
  [...nodesIn(doc)].some(({ type, marks }) => type === name || marks?.some((mark) => mark.type === name));

describe('unknown content', () => {
  it('this build knows every page that it can write', () => {
    fc.assert(
      fc.property(anyPage, (page) => {
        expect(unknownIn(shared(page), schema)).toBeNull();
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
          const doc = shared(page);
          if (uses(doc, name)) expect(unknownIn(doc, older)).not.toBeNull();
        }),
        { numRuns: 60 },
      );
    },
  );

  it('names an attribute of a newer build', () => {
    const doc = new Y.Doc();
    const heading = new Y.XmlElement('heading');
    doc.getXmlFragment('content').push([heading]);
    heading.setAttribute('level', 2 as unknown as string);
    expect(unknownIn(contentOf(doc).doc, schema)).toBeNull();
    heading.setAttribute('tint', 'rust');
    expect(unknownIn(contentOf(doc).doc, schema)).toBe('“tint” of a block of the kind “heading”');
  });

  it('names a mark of a newer build', () => {
    const doc = new Y.Doc();
    const paragraph = new Y.XmlElement('paragraph');
    doc.getXmlFragment('content').push([paragraph]);
    const text = new Y.XmlText();
    paragraph.insert(0, [text]);
    text.insert(0, 'word', { struck: {} });
    expect(unknownIn(contentOf(doc).doc, schema)).toBe('words marked as “struck”');
  });
});
