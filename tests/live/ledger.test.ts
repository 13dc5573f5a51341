/** The rule of what is saved, as plain arithmetic. */
import { expect, it } from 'vitest';
import * as Y from 'yjs';
import { Ledger } from '@/lib/live/client';
import { syncFrame } from './helpers';

const nothing = Uint8Array.of(0, 0);
const stepTwo = syncFrame(1, nothing);
const update = syncFrame(2, nothing);
const question = syncFrame(0, Uint8Array.of(0));

function writer() {
  const doc = new Y.Doc();
  const ledger = new Ledger();
  doc.on('update', (u: Uint8Array) => ledger.local(u));
  const text = doc.getText('t');
  return {
    ledger,
    insert: () => text.insert(0, 'x'),
    remove: () => text.delete(0, 1),
    /** The log's word on this many frames, with the vector of all that was written or of nothing. */
    word: (frames: number, all = true) => ledger.saved({ frames, vector: all ? Y.encodeStateVector(doc) : Uint8Array.of(0) }),
  };
}

it('a change is safe when its frame is, not before', () => {
  const { ledger, insert, word } = writer();
  ledger.connect();
  ledger.sent(question);
  ledger.sent(stepTwo);
  expect(ledger.confirmed).toBe(false);
  word(1);
  expect(ledger.confirmed).toBe(true);
  insert();
  ledger.sent(update);
  insert();
  ledger.sent(update);
  expect([ledger.kept, ledger.covered]).toEqual([2, false]);
  expect(word(2)).toBe(true);
  expect(ledger.kept).toBe(1);
  expect(word(2)).toBe(false);
  word(3);
  expect([ledger.kept, ledger.covered]).toEqual([0, true]);
});

it('an insert needs the vector as well, a delete needs the frame alone', () => {
  const { ledger, insert, remove, word } = writer();
  ledger.connect();
  ledger.sent(stepTwo);
  insert();
  ledger.sent(update);
  word(2, false);
  expect([ledger.kept, ledger.covered]).toEqual([0, false]);
  word(2);
  expect(ledger.covered).toBe(true);
  remove();
  expect(ledger.covered).toBe(false);
  ledger.sent(update);
  word(2);
  expect(ledger.covered).toBe(false);
  word(3);
  expect(ledger.covered).toBe(true);
});

it('an update sent before the step 2 answers for nothing that was made offline', () => {
  const { ledger, insert, remove, word } = writer();
  insert();
  remove();
  ledger.connect();
  insert();
  ledger.sent(update);
  word(1);
  expect(ledger.kept).toBe(3);
  expect(ledger.confirmed).toBe(false);
  ledger.sent(stepTwo);
  word(2);
  expect([ledger.kept, ledger.covered, ledger.confirmed]).toEqual([0, true, true]);
});

it('a new connection forgets the frames of the old one, but not what was saved', () => {
  const { ledger, insert, word } = writer();
  ledger.connect();
  ledger.sent(stepTwo);
  insert();
  ledger.sent(update);
  word(2);
  insert();
  ledger.sent(update);
  ledger.connect();
  expect(ledger.kept).toBe(1);
  word(0);
  expect([ledger.kept, ledger.confirmed]).toEqual([1, false]);
  ledger.sent(stepTwo);
  word(1);
  expect([ledger.kept, ledger.covered]).toEqual([0, true]);
});
