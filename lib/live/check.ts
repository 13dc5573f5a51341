/** Looks at an update from the network before the shared document is touched. */
import * as Y from 'yjs';

export type Update = ReturnType<typeof Y.decodeUpdate>;

/**
 * Decodes an update (V1 only: V2 can hang a thread) and refuses what no honest editor writes: empty structs, clocks beyond whole
 * numbers, references to one's own future. Those would throw half-way through integration. Throws with a plain sentence.
 */
export function checkUpdate(bytes: Uint8Array): Update {
  const update = Y.decodeUpdate(bytes);
  for (const struct of update.structs) {
    const { client, clock } = struct.id;
    if (struct.length <= 0 || !Number.isSafeInteger(client) || !Number.isSafeInteger(clock + struct.length))
      throw new Error('a struct has no proper length');
    if (!(struct instanceof Y.Item)) continue;
    for (const reference of [struct.origin, struct.rightOrigin, struct.parent]) {
      if (reference instanceof Y.ID && reference.client === client && reference.clock >= clock)
        throw new Error('a struct refers to its own future');
    }
  }
  return update;
}

/** True when the document already has all of it: every struct and every delete. */
export function changesNothing(doc: Y.Doc, { structs, ds }: Update): boolean {
  for (const struct of structs) {
    if (!(struct instanceof Y.Skip) && struct.id.clock + struct.length > Y.getState(doc.store, struct.id.client)) return false;
  }
  for (const [client, ranges] of ds.clients) {
    const known = doc.store.clients.get(client) ?? [];
    for (const { clock, len } of ranges) {
      const end = clock + len;
      if (end > Y.getState(doc.store, client)) return false;
      for (let i = len > 0 ? Y.findIndexSS(known, clock) : known.length; i < known.length && known[i]!.id.clock < end; i++) {
        if (!known[i]!.deleted) return false;
      }
    }
  }
  return true;
}

/**
 * Drops what the document could not take because something before it is missing; true when there was any. Kept, it would live only
 * in memory, be counted as saved, and could fail at a later, innocent update. Whoever sent it still has it and is asked again.
 */
export function dropGaps(doc: Y.Doc): boolean {
  const had = doc.store.pendingStructs !== null || doc.store.pendingDs !== null;
  doc.store.pendingStructs = null;
  doc.store.pendingDs = null;
  return had;
}
