/** The messages that the server sends, as bytes. */
import * as encoding from 'lib0/encoding';
import { type Awareness, encodeAwarenessUpdate } from 'y-protocols/awareness';
import { writeSyncStep1, writeSyncStep2, writeUpdate } from 'y-protocols/sync';
import type * as Y from 'yjs';
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

export const updateMessage = (update: Uint8Array) => message(messageSync, (e) => writeUpdate(e, update));

export const awarenessMessage = (awareness: Awareness, clients: number[]) =>
  message(messageAwareness, (e) => encoding.writeVarUint8Array(e, encodeAwarenessUpdate(awareness, clients)));
