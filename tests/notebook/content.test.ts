import { prosemirrorJSONToYDoc, yXmlFragmentToProsemirrorJSON } from '@tiptap/y-tiptap';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { contentRoot, widgetRoot } from '@/lib/live/protocol';
import { contentOf, newPageDoc, writeContent } from '@/lib/notebook/content';
import { mendDuplicates } from '@/lib/notebook/duplicates';
import { isId, newId } from '@/lib/notebook/ids';
import { isAllowedUrl } from '@/lib/notebook/links';
import { normalContent } from '@/lib/notebook/markdown/normal';
import { schema } from '@/lib/notebook/schema';
import { newNote, newRepair } from '@/lib/notebook/templates';
import type { DocNode, PageContent } from '@/lib/notebook/types';
import { page } from './arbitrary';

const docOf = (update: Uint8Array) => {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, update);
  return doc;
};
const merge = (a: Y.Doc, b: Y.Doc) => {
  const [fromA, fromB] = [Y.encodeStateAsUpdate(a), Y.encodeStateAsUpdate(b)];
  Y.applyUpdate(b, fromA);
  Y.applyUpdate(a, fromB);
};
const paragraph = (text: string): DocNode => ({ type: 'paragraph', content: [{ type: 'text', text }] });
const widget = (id: string): DocNode => ({ type: 'widget', attrs: { id, kind: 'fix-record' } });
const of = (...content: DocNode[]): DocNode => ({ type: 'doc', content });

describe('shared document', () => {
  it('written and read, content is the same', () => {
    fc.assert(
      fc.property(page, (generated) => {
        const content = normalContent(generated);
        const back = contentOf(docOf(newPageDoc(content)));
        expect(normalContent(back)).toEqual(content);
        expect(back.widgets).toEqual(content.widgets);
      }),
      { numRuns: 150 },
    );
  });

  it('writing over a page makes it equal, and writing the same again changes nothing', () => {
    fc.assert(
      fc.property(page, page, (one, two) => {
        const [before, after] = [normalContent(one), normalContent(two)];
        const doc = docOf(newPageDoc(before));
        writeContent(doc, after);
        expect(normalContent(contentOf(doc))).toEqual(after);
        let updates = 0;
        doc.on('update', () => updates++);
        writeContent(doc, after);
        expect(updates).toBe(0);
      }),
      { numRuns: 100 },
    );
  });

  it('reads what the editor’s own binding wrote, as that binding reads it', () => {
    fc.assert(
      fc.property(page, (generated) => {
        const doc = prosemirrorJSONToYDoc(schema, normalContent(generated).doc, contentRoot);
        expect(contentOf(doc).doc).toEqual(yXmlFragmentToProsemirrorJSON(doc.getXmlFragment(contentRoot)));
      }),
      { numRuns: 100 },
    );
  });

  it('is one transaction with the caller’s origin, and touches only what differs', () => {
    const doc = docOf(
      newPageDoc({
        doc: of(paragraph('Ines was here.'), paragraph('second'), widget('w1')),
        widgets: { w1: { symptom: 'dead', minutes: 5, 'tick.a': { by: 'I', at: 't' } } },
      }),
    );
    const origins: unknown[] = [];
    const keys: string[] = [];
    doc.on('afterTransaction', (transaction: Y.Transaction) => origins.push(transaction.origin));
    doc.getMap(widgetRoot('w1')).observe((event) => keys.push(...event.keysChanged));
    const other = docOf(Y.encodeStateAsUpdate(doc));
    other.getXmlFragment(contentRoot).get(0); // Tomas types while the write happens
    const first = (other.getXmlFragment(contentRoot).get(0) as Y.XmlElement).get(0) as Y.XmlText;
    first.insert(first.length, ' So was I.');
    writeContent(
      doc,
      {
        doc: of(paragraph('Ines was here.'), paragraph('changed'), widget('w1')),
        widgets: { w1: { symptom: 'dead', minutes: 6, 'tick.a': { at: 't', by: 'I' } } },
      },
      'import',
    );
    merge(doc, other);
    expect(origins[0]).toBe('import');
    expect(origins.filter((origin) => origin === 'import')).toHaveLength(1);
    expect(keys).toEqual(['minutes']);
    expect(contentOf(doc).doc.content?.slice(0, 2)).toEqual([paragraph('Ines was here. So was I.'), paragraph('changed')]);
    expect(contentOf(other)).toEqual(contentOf(doc));
  });

  it('keeps what two people set in one widget at the same time, also its first keys', () => {
    const start = newPageDoc({ doc: of(widget('w1')), widgets: {} });
    const [a, b] = [docOf(start), docOf(start)];
    a.getMap(widgetRoot('w1')).set('tick.photo', { by: 'Ines', at: '1' });
    b.getMap(widgetRoot('w1')).set('tick.mark', { by: 'Wen', at: '2' });
    merge(a, b);
    const expected = { 'tick.photo': { by: 'Ines', at: '1' }, 'tick.mark': { by: 'Wen', at: '2' } };
    expect(contentOf(a).widgets.w1).toEqual(expected);
    expect(contentOf(b).widgets.w1).toEqual(expected);
  });

  it('leaves out the state of widgets that were taken from the page, and keeps it in the document', () => {
    const doc = docOf(newPageDoc({ doc: of(paragraph('x'), widget('w1')), widgets: { w1: { symptom: 'dead' } } }));
    writeContent(doc, { doc: of(paragraph('x')), widgets: {} });
    expect(contentOf(doc).widgets).toEqual({});
    expect(doc.getMap(widgetRoot('w1')).get('symptom')).toBe('dead');
  });

  it('an empty document reads as an empty page', () => {
    expect(contentOf(new Y.Doc())).toEqual({ doc: of({ type: 'paragraph' }), widgets: {} });
  });

  it('passes over what no editor of ours writes', () => {
    const doc = new Y.Doc();
    const text = new Y.XmlText();
    const paragraphNode = new Y.XmlElement('paragraph');
    doc.getXmlFragment(contentRoot).insert(0, [new Y.XmlHook('hook') as unknown as Y.XmlElement, paragraphNode]);
    paragraphNode.insert(0, [text]);
    text.insert(0, 'kept');
    text.insertEmbed(0, { evil: true });
    doc.getMap(widgetRoot('w')).set('__proto__', { polluted: true });
    const node = new Y.XmlElement('widget');
    node.setAttribute('id', 'w');
    doc.getXmlFragment(contentRoot).insert(2, [node]);
    const content = contentOf(doc);
    expect(content.doc.content?.[0]).toEqual(paragraph('kept'));
    expect(content.widgets.w).toEqual({});
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  it('survives nesting without end', () => {
    const doc = new Y.Doc();
    let parent: Y.XmlElement | Y.XmlFragment = doc.getXmlFragment(contentRoot);
    for (let i = 0; i < 3000; i++) {
      const quote = new Y.XmlElement('blockquote');
      parent.insert(0, [quote]);
      parent = quote;
    }
    expect(contentOf(doc).doc.content).toHaveLength(1);
  });

  it('refuses to write what the schema does not know', () => {
    expect(() => writeContent(new Y.Doc(), { doc: of({ type: 'marquee' }), widgets: {} })).toThrow(RangeError);
  });
});

describe('schema', () => {
  it('lets a list item begin with any block, as a merge may leave it', () => {
    const item = { type: 'listItem', content: [{ type: 'bulletList', content: [{ type: 'listItem', content: [paragraph('x')] }] }] };
    schema.nodeFromJSON(of({ type: 'bulletList', content: [item] })).check();
    expect(schema.nodes.listItem?.createAndFill()?.child(0).type.name).toBe('paragraph');
  });

  it('gives every attribute a default, so that a node without it is not deleted', () => {
    for (const type of [...Object.values(schema.nodes), ...Object.values(schema.marks)]) {
      for (const spec of Object.values(type.spec.attrs ?? {})) expect(spec).toHaveProperty('default');
    }
    expect(Object.keys(schema.nodes.widget?.spec.attrs ?? {})).toEqual(['id', 'kind']);
  });

  it('knows these nodes and marks and no others: a change goes with a new schemaVersion', () => {
    expect(Object.keys(schema.nodes).sort()).toEqual([
      'blockquote',
      'bulletList',
      'codeBlock',
      'doc',
      'hardBreak',
      'heading',
      'horizontalRule',
      'listItem',
      'orderedList',
      'paragraph',
      'text',
      'widget',
    ]);
    expect(Object.keys(schema.marks).sort()).toEqual(['bold', 'code', 'italic', 'link']);
  });
});

describe('links', () => {
  it.each([
    'https://example.org/a?b=c#d',
    'HTTP://EXAMPLE.ORG',
    'mailto:a@b.org',
    'tel:+44123',
    '/pages/x',
    'x/y:z',
    '#part',
    '?q=1',
    '//example.org/x',
  ])('allows %s', (url) => {
    expect(isAllowedUrl(url)).toBe(true);
  });
  // The control-character and case tricks are those of the URL standard: leading C0 controls and spaces and inner tabs and newlines are removed
  // before a scheme is read (WHATWG URL, basic URL parser, steps 1 and 3).
  it.each([
    'javascript:alert(1)',
    'JaVaScRiPt:alert(1)',
    'java\nscript:alert(1)',
    '\u0001javascript:alert(1)',
    ' javascript:alert(1)',
    'java\tscript:x',
    'data:text/html,x',
    'vbscript:x',
    'file:///etc/passwd',
    'blob:x',
    '',
    '\\\\host',
    'x y',
  ])('refuses %j', (url) => {
    expect(isAllowedUrl(url)).toBe(false);
  });
  it('agrees with the platform’s own URL parser on what a scheme is', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc
            .tuple(fc.constantFrom('java', 'JAVA', 'data', 'http'), fc.string({ maxLength: 2 }), fc.constantFrom('script:', ':x', '://h'))
            .map((p) => p.join('')),
        ),
        (url) => {
          if (!isAllowedUrl(url) || !URL.canParse(url, 'https://here.example/')) return;
          expect(['http:', 'https:', 'mailto:', 'tel:']).toContain(new URL(url, 'https://here.example/').protocol);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe('ids', () => {
  it('come from the caller’s bytes or from the platform', () => {
    expect(newId((count) => new Uint8Array(count).fill(33))).toBe('bbbbbbbbbbbb');
    expect(new Set(Array.from({ length: 1000 }, () => newId())).size).toBe(1000);
    expect(isId(newId())).toBe(true);
  });

  it('a duplicate gets a fresh one and a copy of the state', () => {
    const content: PageContent = {
      doc: of(widget('w1'), { type: 'blockquote', content: [widget('w1')] }),
      widgets: { w1: { symptom: 'dead' } },
    };
    const mended = mendDuplicates(content, () => 'fresh');
    expect(mended.doc).toEqual(of(widget('w1'), { type: 'blockquote', content: [widget('fresh')] }));
    expect(mended.widgets).toEqual({ w1: { symptom: 'dead' }, fresh: { symptom: 'dead' } });
    expect(mended.widgets.fresh).not.toBe(mended.widgets.w1);
    expect(mendDuplicates(mended)).toEqual(mended);
    const written = contentOf(docOf(newPageDoc(content)));
    expect(Object.values(written.widgets)).toEqual([{ symptom: 'dead' }, { symptom: 'dead' }]);
  });
});

describe('new pages', () => {
  it('fit the schema and hold what a repair starts with', () => {
    const repair = newRepair({ title: 'Spinner misses' });
    schema.nodeFromJSON(repair.doc).check();
    schema.nodeFromJSON(newNote({ title: '' }).doc).check();
    expect(repair.doc.content?.filter((node) => node.type === 'widget').map((node) => node.attrs?.kind)).toEqual([
      'circuit-lookup',
      'fix-record',
    ]);
    expect(contentOf(docOf(newPageDoc(repair)))).toEqual(repair);
  });
});
