/** The messages that the server sends, as bytes. */
import * as encoding from 'lib0/encoding';
import { writeSyncStep1, writeSyncStep2, writeUpdate } from 'y-protocols/sync';
import * as Y from 'yjs';
import { messageAwareness, messageSync } from './protocol';

function message(type: number, write: (encoder: encoding.Encoder) => void): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, type);
  write(encoder);
  return encoding.toUint8Array(encoder);
}

/** Asks the other side for what `doc` lacks. */
export const askMessage = (doc: Y.Doc) => message(messageSync, (e) => writeSyncStep1(e, doc));

/** Answers a state vector with what its sender lacks. Throws on a malformed vector. */
export const answerMessage = (doc: Y.Doc, vector: Uint8Array) => message(messageSync, (e) => writeSyncStep2(e, doc, vector));

/** What `doc` has beyond a state vector. */
export const diffMessage = (doc: Y.Doc, vector: Map<number, number>) =>
  updateMessage(Y.encodeStateAsUpdate(doc, Y.encodeStateVector(vector)));

export const updateMessage = (update: Uint8Array) => message(messageSync, (e) => writeUpdate(e, update));

export const awarenessMessage = (update: Uint8Array) => message(messageAwareness, (e) => encoding.writeVarUint8Array(e, update));
