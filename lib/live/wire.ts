/** The messages that the server sends, each framed once for all who are told. */
import * as encoding from 'lib0/encoding';
import { writeSyncStep1, writeSyncStep2, writeUpdate } from 'y-protocols/sync';
import * as Y from 'yjs';
import { encodeSaved, messageAwareness, messageSync, type Saved } from './protocol';

/**
 * A message as one WebSocket frame of a server: final, binary, unmasked (RFC 6455, section 5.2). The library frames a message anew for
 * each socket and writes it in two pieces; on a page of 50 people that was an eighth of all work of the server.
 */
export function frameOf(message: Uint8Array): Buffer {
  const { length } = message;
  const head = length < 126 ? 2 : length < 1 << 16 ? 4 : 10;
  const frame = Buffer.allocUnsafe(head + length);
  frame[0] = 0x82;
  if (head === 2) frame[1] = length;
  else if (head === 4) {
    frame[1] = 126;
    frame.writeUInt16BE(length, 2);
  } else {
    frame[1] = 127;
    frame.writeBigUInt64BE(BigInt(length), 2);
  }
  frame.set(message, head);
  return frame;
}

function message(type: number, write: (encoder: encoding.Encoder) => void): Buffer {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, type);
  write(encoder);
  return frameOf(encoding.toUint8Array(encoder));
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

/** Tells what the log has taken. */
export const savedMessage = (saved: Saved) => frameOf(encodeSaved(saved));
