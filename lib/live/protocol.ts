import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';

/**
 * What both ends of a page's socket agree on. The base is the y-websocket protocol (sync 0, awareness 1, query awareness 3);
 * `saved` is our own message: the server announces a state vector that its log has committed.
 */
export const messageSync = 0;
export const messageAwareness = 1;
export const messageQueryAwareness = 3;
export const messageSaved = 100;

/** Version of the document schema. An editor with another version is refused with `closeReload`. */
export const schemaVersion = 1;
/** Path of a page's socket: `/live/<page>?schema=<version>`, and `&member=<id>` where the window writes for that member and nobody else. */
export const livePath = '/live/';

/** Close codes 4400–4499 stop the client from reconnecting. */
export const closeBadMessage = 4400;
export const closeSignedOut = 4401;
export const closeForbidden = 4403;
export const closeUnknownPage = 4404;
export const closeReload = 4409;
/** One frame carries more than the server takes at once. */
export const closeTooBig = 4413;
/** The page has reached its size and takes no more content. */
export const closePageFull = 4414;
/** Outside 4400–4499: the client reconnects and resyncs. */
export const closeTooSlow = 4508;
export const closeTryAgain = 4500;
/** WebSocket's own code for a server that restarts (RFC 6455 registry). */
export const closeRestart = 1012;

/** Root names in a page's Y.Doc. */
export const contentRoot = 'content'; // Y.XmlFragment
export const widgetRoot = (id: string) => `widget:${id}`; // Y.Map with flat keys

/**
 * "The log has it." `vector` is an encoded state vector of committed content (to be merged by maximum with earlier ones: a message
 * names only what its commit brought). `frames` counts this connection's own content frames (sync step 2 and update, in the order sent)
 * that are committed with everything before them: deletes do not move a vector, so the vector alone cannot answer for them.
 */
export interface Saved {
  vector: Uint8Array;
  frames: number;
}

export function encodeSaved({ vector, frames }: Saved): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, messageSaved);
  encoding.writeVarUint8Array(encoder, vector);
  encoding.writeVarUint(encoder, frames);
  return encoding.toUint8Array(encoder);
}

/** Reads what follows the message's type. */
export function readSaved(decoder: decoding.Decoder): Saved {
  return { vector: decoding.readVarUint8Array(decoder), frames: decoding.readVarUint(decoder) };
}
