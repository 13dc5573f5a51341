/** The computing of a fold, on plain bytes: it knows neither the database nor the thread that it runs in. */
import * as Y from 'yjs';
import { pack, unpack } from './packing';

export interface FoldWork {
  base: Uint8Array | null; // packed
  /** The stretch that the first group extends, packed; null when the first group begins a new one. */
  extended: Uint8Array | null;
  /** Entries (V1), oldest first, one group a stretch. */
  groups: Uint8Array[][];
}
export interface Folded {
  base: Uint8Array; // packed
  stretches: Uint8Array[]; // packed, one a group
}

const mergeWidth = 64; // one flat merge of many small updates is worse than linear

/** Merges updates (V1) in a tree. */
function mergeTree(updates: Uint8Array[]): Uint8Array {
  let level = updates;
  while (level.length > 1) {
    const next: Uint8Array[] = [];
    for (let i = 0; i < level.length; i += mergeWidth) next.push(Y.mergeUpdates(level.slice(i, i + mergeWidth)));
    level = next;
  }
  return level[0]!;
}

const hasGaps = (doc: Y.Doc) => doc.store.pendingStructs !== null || doc.store.pendingDs !== null;
const nothing = () => Y.encodeStateAsUpdateV2(new Y.Doc());

/** Applies a group as one change and gives what it added, without what it both wrote and deleted. */
function addGroup(doc: Y.Doc, entries: Uint8Array[]): Uint8Array {
  const gapsBefore = hasGaps(doc);
  let added = nothing();
  const keep = (update: Uint8Array) => {
    added = update;
  };
  doc.on('updateV2', keep);
  // In a transaction of our own, so that nothing is tidied: a stretch is exactly its entries.
  doc.transact(() => {
    for (const update of entries) Y.applyUpdate(doc, update);
  });
  doc.off('updateV2', keep);
  // Something before an entry is missing: what the document did not take would be lost, so the entries are kept as they are.
  return gapsBefore || hasGaps(doc) ? Y.convertUpdateFormatV1ToV2(mergeTree(entries)) : added;
}

/** The new base and the stretches. Throws when an entry can't be decoded or the outcome does not hold against a second reading. */
export function foldEntries({ base, extended, groups }: FoldWork): Folded {
  const doc = new Y.Doc({ gc: true });
  const before = base ? unpack(base) : nothing();
  Y.applyUpdateV2(doc, before);
  const stretches = groups.map((entries, at) => {
    const added = addGroup(doc, entries);
    return at === 0 && extended ? Y.mergeUpdatesV2([unpack(extended), added]) : added;
  });
  const folded = { base: pack(Y.encodeStateAsUpdateV2(doc)), stretches: stretches.map(pack) };
  // The entries are deleted after this: what takes their place is read again, and must be the same page on both ways.
  check(doc, [unpack(folded.base)], 'base');
  check(doc, [before, ...folded.stretches.map(unpack)], 'stretches');
  return folded;
}

function check(whole: Y.Doc, updates: Uint8Array[], what: string) {
  const again = new Y.Doc({ gc: true });
  again.transact(() => {
    for (const update of updates) Y.applyUpdateV2(again, update);
  });
  if (!Y.equalSnapshots(Y.snapshot(again), Y.snapshot(whole)) || hasGaps(again) !== hasGaps(whole))
    throw new Error(`the folded ${what} would not be the page`);
}
