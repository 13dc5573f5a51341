/** Bringing a page back: equal to what it was, as one change that lets everything else live. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { contentRoot, widgetRoot } from '@/lib/live/protocol';
import { contentOf, newPageDoc, writeContent } from '@/lib/notebook/content';
import { canonical } from '@/lib/notebook/differences/canonical';
import { normalContent } from '@/lib/notebook/markdown/normal';
import { plainText } from '@/lib/notebook/prose';
import { restoreInto } from '@/lib/notebook/restore';
import type { DocNode, PageContent } from '@/lib/notebook/types';
import { page } from './arbitrary';

const docOf = (update: Uint8Array) => {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, update);
  return doc;
};
const copyOf = (doc: Y.Doc) => docOf(Y.encodeStateAsUpdate(doc));
const send = (from: Y.Doc, to: Y.Doc) => Y.applyUpdate(to, Y.encodeStateAsUpdate(from, Y.encodeStateVector(to)));
const merge = (a: Y.Doc, b: Y.Doc) => {
  send(a, b);
  send(b, a);
};
const paragraph = (text: string): DocNode => ({ type: 'paragraph', ...(text && { content: [{ type: 'text', text }] }) });
const widget = (id: string): DocNode => ({ type: 'widget', attrs: { id, kind: 'fix-record' } });
const content = (blocks: DocNode[], widgets: PageContent['widgets'] = {}): PageContent => ({
  doc: { type: 'doc', content: blocks },
  widgets,
});
const blockAt = (doc: Y.Doc, index: number) => doc.getXmlFragment(contentRoot).get(index) as Y.XmlElement;
const textAt = (doc: Y.Doc, index: number) => blockAt(doc, index).get(0) as Y.XmlText;
const lines = (doc: Y.Doc) => plainText(contentOf(doc).doc).split('\n');

/** The document with neighbouring texts of the same marks as one and marks in one order: what reads the same is the same. */
function legible(node: DocNode): DocNode {
  const inside: DocNode[] = [];
  for (const child of node.content ?? []) {
    const marks = [...(child.marks ?? [])]
      .map((m) => ({ type: m.type, attrs: m.attrs ?? {} }))
      .sort((a, b) => (canonical(a) < canonical(b) ? -1 : 1)); // prettier-ignore
    const last = inside.at(-1);
    if (child.type === 'text' && last?.type === 'text' && canonical(last.marks) === canonical(marks))
      last.text = `${last.text}${child.text}`;
    else inside.push(child.type === 'text' ? { type: 'text', text: child.text, marks } : legible(child));
  }
  return { ...node, ...(node.content && { content: inside }) };
}
const read = (doc: Y.Doc) => {
  const { doc: node, widgets } = contentOf(doc);
  return { doc: legible(node), widgets };
};

describe('a page brought back', () => {
  it('equals what it was, whatever it has become since, and a second time nothing changes', () => {
    fc.assert(
      fc.property(page, page, page, (one, two, three) => {
        const doc = docOf(newPageDoc(normalContent(one)));
        writeContent(doc, normalContent(two));
        const past = copyOf(doc);
        writeContent(doc, normalContent(three));
        restoreInto(doc, past);
        expect(read(doc)).toEqual(read(past));
        let updates = 0;
        doc.on('update', () => updates++);
        restoreInto(doc, past);
        expect(updates).toBe(0);
      }),
      { numRuns: 150 },
    );
  });

  it('with marks, characters of two units and words edited in place', () => {
    const bold = (text: string, ...names: string[]): DocNode => ({ type: 'text', text, marks: names.map((type) => ({ type })) });
    const before = content([{ type: 'paragraph', content: [bold('😀 grey 😁 wire', 'bold'), bold(' of row six', 'italic', 'bold')] }]);
    const after = content([{ type: 'paragraph', content: [bold('😁 grey 😂 wire of', 'italic'), bold(' row six, twice')] }]);
    const doc = docOf(newPageDoc(before));
    const past = copyOf(doc);
    writeContent(doc, after);
    const element = blockAt(doc, 0);
    restoreInto(doc, past);
    expect(read(doc)).toEqual(read(past));
    expect(blockAt(doc, 0)).toBe(element); // the same block still
  });

  it('is one transaction with the caller’s origin', () => {
    const doc = docOf(newPageDoc(content([paragraph('one two three'), paragraph('here')])));
    const past = copyOf(doc);
    writeContent(doc, content([paragraph('entirely other'), paragraph('here'), paragraph('more')]));
    const origins: unknown[] = [];
    doc.on('afterTransaction', ({ origin }: Y.Transaction) => origins.push(origin));
    restoreInto(doc, past, 'back');
    expect(origins).toEqual(['back']);
  });

  it('adds to the past: what was there before it can still be read', () => {
    const doc = docOf(newPageDoc(content([paragraph('first')])));
    const log: Uint8Array[] = [Y.encodeStateAsUpdate(doc)];
    doc.on('update', (update: Uint8Array) => log.push(update));
    const past = copyOf(doc);
    writeContent(doc, content([paragraph('second')]));
    restoreInto(doc, past);
    const at = (number: number) => {
      const replay = new Y.Doc();
      for (const update of log.slice(0, number)) Y.applyUpdate(replay, update);
      return lines(replay);
    };
    expect(log).toHaveLength(3);
    expect([at(1), at(2), at(3)]).toEqual([['first'], ['second'], ['first']]);
  });

  it('keeps states of widgets that were not on the page then, and sets those that were', () => {
    const doc = docOf(newPageDoc(content([widget('w1')], { w1: { cause: 'splice', 'circuit.46': true } })));
    const past = copyOf(doc);
    writeContent(doc, content([widget('w1'), widget('w2')], { w1: { cause: 'coil', minutes: 5 }, w2: { symptom: 'dead' } }));
    restoreInto(doc, past);
    expect(contentOf(doc).widgets).toEqual({ w1: { cause: 'splice', 'circuit.46': true } });
    expect(doc.getMap(widgetRoot('w2')).toJSON()).toEqual({ symptom: 'dead' });
  });

  it('brings back a widget that was taken off, with its state', () => {
    const doc = docOf(newPageDoc(content([paragraph('x'), widget('w1')], { w1: { cause: 'splice' } })));
    const past = copyOf(doc);
    writeContent(doc, content([paragraph('x')]));
    doc.getMap(widgetRoot('w1')).set('cause', 'coil'); // somebody’s late click
    restoreInto(doc, past);
    expect(read(doc)).toEqual(read(past));
  });

  it('clears away what no editor of ours writes', () => {
    const doc = docOf(newPageDoc(content([paragraph('kept'), paragraph('word')])));
    const past = copyOf(doc);
    doc.getXmlFragment(contentRoot).insert(1, [new Y.XmlHook('hook') as unknown as Y.XmlElement]);
    textAt(doc, 2).insertEmbed(1, { strange: true });
    textAt(doc, 2).insert(0, 'a ');
    restoreInto(doc, past);
    expect(read(doc)).toEqual(read(past));
    expect(doc.getXmlFragment(contentRoot).length).toBe(2);
  });
});

describe('while others write', () => {
  const texts = fc.uniqueArray(
    fc.constantFrom('row six misses', 'grey wire', 'the plug is warm', 'crimped anew', 'lamp out', 'spring bent'),
    {
      minLength: 1,
      maxLength: 6,
    },
  );

  it('what is written into a block that stays, before, during or after, survives on every side', () => {
    fc.assert(
      fc.property(texts, texts, fc.nat(), fc.string({ minLength: 1, maxLength: 5, unit: 'grapheme-ascii' }), (then, now, place, typed) => {
        const staying = then.filter((text) => now.includes(text));
        fc.pre(staying.length > 0);
        const doc = docOf(newPageDoc(content(then.map(paragraph))));
        const past = copyOf(doc);
        writeContent(doc, content(now.map(paragraph)));
        const other = copyOf(doc);
        // Only blocks that the restore keeps: in both, and in the same order.
        const back = copyOf(doc);
        const kept = new Set(back.getXmlFragment(contentRoot).toArray());
        restoreInto(back, past);
        const survivors = back
          .getXmlFragment(contentRoot)
          .toArray()
          .flatMap((item, k) => (kept.has(item) ? [then[k] ?? ''] : [])); // prettier-ignore
        const text = survivors[place % survivors.length] ?? '';
        textAt(other, (now as string[]).indexOf(text)).insert(0, typed);
        restoreInto(doc, past);
        merge(doc, other);
        expect(contentOf(doc)).toEqual(contentOf(other));
        expect(lines(doc).join('\n')).toContain(`${typed}${text}`.replace(/\s+/g, ' ').trim());
      }),
      { numRuns: 100 },
    );
  });

  it('what is written into a block that is set back word by word stands beside the old words', () => {
    const doc = docOf(newPageDoc(content([paragraph('The spinner misses when the cabinet is warm.')])));
    const past = copyOf(doc);
    writeContent(doc, content([paragraph('The spinner misses when the cabinet is cold.')]));
    const other = copyOf(doc);
    textAt(other, 0).insert(0, 'Seen again: ');
    restoreInto(doc, past);
    merge(doc, other);
    expect(lines(doc)).toEqual(['Seen again: The spinner misses when the cabinet is warm.']);
    expect(lines(other)).toEqual(lines(doc));
  });

  it('two ticks of one widget, one set back and one new, do not disturb each other', () => {
    const doc = docOf(newPageDoc(content([widget('w1')], { w1: { 'tick.a': { by: 'Ines', at: '1' } } })));
    const past = copyOf(doc);
    doc.getMap(widgetRoot('w1')).delete('tick.a');
    const other = copyOf(doc);
    other.getMap(widgetRoot('w1')).set('tick.b', { by: 'Wen', at: '2' });
    restoreInto(doc, past);
    merge(doc, other);
    expect(contentOf(other).widgets.w1).toEqual({ 'tick.a': { by: 'Ines', at: '1' }, 'tick.b': { by: 'Wen', at: '2' } });
  });

  it('a copy that was away and comes back later brings its own words, never the state that was left behind', () => {
    const doc = docOf(newPageDoc(content([paragraph('stays'), paragraph('as it was at first')])));
    const past = copyOf(doc);
    writeContent(doc, content([paragraph('stays'), paragraph('wholly different words'), paragraph('and one more line')]));
    const away = copyOf(doc); // goes out of reach with this state
    textAt(away, 0).insert(5, ', said from afar');
    restoreInto(doc, past);
    expect(lines(doc)).toEqual(['stays', 'as it was at first']);
    merge(doc, away);
    expect(lines(doc)).toEqual(['stays, said from afar', 'as it was at first']);
    expect(lines(away)).toEqual(lines(doc));
  });
});
