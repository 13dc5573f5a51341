/** A document after an update that failed half-way is the one before it. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { PageDocument } from '@/lib/live/document';
import { edit, shape } from './edits';
import { random } from './helpers';

const nothing = { base: null, tail: [], number: 0 };

/** An update by somebody else with two new paragraphs, and how to make its integration fail between them. */
function poison(page: PageDocument): Uint8Array {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(page.doc));
  const before = Y.encodeStateVector(doc);
  doc.getXmlFragment('content').insert(0, [new Y.XmlElement('half'), new Y.XmlElement('half')]);
  page.doc.once('afterTransaction', () => {
    throw new Error('half-way'); // by then the document has it
  });
  return Y.encodeStateAsUpdate(doc, before);
}

describe.each(Array.from({ length: 20 }, (_, i) => i + 1))('seed %i', (seed) => {
  it('random edits with failures between them', () => {
    const r = random(seed);
    const writer = new Y.Doc();
    const page = new PageDocument(nothing);
    const told = new Y.Doc(); // what others were told
    const updates: Uint8Array[] = [];
    writer.on('update', (u: Uint8Array) => updates.push(u));
    for (let i = 0; i < 300; i++) {
      edit(writer, r);
      for (const update of updates.splice(0)) for (const change of page.apply(update).changes) Y.applyUpdate(told, change);
      if (r.below(20)) continue;
      expect(() => page.apply(poison(page))).toThrow('half-way');
      expect(shape(page.doc)).toEqual(shape(writer));
    }
    expect(shape(page.doc)).toEqual(shape(writer));
    expect(shape(told)).toEqual(shape(writer));
    const again = new PageDocument({ base: null, tail: [Y.encodeStateAsUpdate(page.doc)], number: 1 });
    expect(shape(again.doc)).toEqual(shape(writer));
  });
});

it('the way back stays short: thousands of edits are folded into it, and it leads to the same document', () => {
  const writer = new Y.Doc();
  const page = new PageDocument(nothing);
  writer.on('update', (u: Uint8Array) => page.apply(u));
  const text = writer.getText('t');
  for (let i = 0; i < 4500; i++) text.insert(text.length, 'x');
  expect(page.bytes).toBeLessThan(500 * 30); // what is left of 4,500 edits after the last folding
  expect(() => page.apply(poison(page))).toThrow('half-way');
  expect(page.doc.getText('t').toString()).toBe('x'.repeat(4500));
});

it('says what was new, and that something was missing', () => {
  const writer = new Y.Doc();
  const page = new PageDocument(nothing);
  const updates: Uint8Array[] = [];
  writer.on('update', (u: Uint8Array) => updates.push(u));
  writer.getText('t').insert(0, 'a');
  writer.getText('t').insert(1, 'b');
  expect(page.apply(updates[1]!)).toEqual({ changes: [], whole: false });
  expect(page.apply(updates[0]!)).toEqual({ changes: [updates[0]], whole: true });
  expect(page.apply(updates[0]!)).toEqual({ changes: [], whole: true });
  expect(() => page.follow({ base: null, tail: [updates[1]!], number: 2 })).not.toThrow();
  writer.getText('t').insert(2, 'c');
  writer.getText('t').insert(3, 'd');
  expect(() => page.follow({ base: null, tail: [updates[3]!], number: 4 })).toThrow('not there');
});
