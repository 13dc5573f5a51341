/** Many updates as one. */
import * as Y from 'yjs';

const mergeWidth = 64; // one flat merge of many small updates is worse than linear: 40,000 take 45 s flat and 0.2 s as a tree

/** Merges updates in a tree, at most 64 at a time. There must be at least one. */
export function mergeAll(updates: Uint8Array[]): Uint8Array {
  let level = updates;
  while (level.length > 1) {
    const next: Uint8Array[] = [];
    for (let i = 0; i < level.length; i += mergeWidth) next.push(Y.mergeUpdates(level.slice(i, i + mergeWidth)));
    level = next;
  }
  return level[0]!;
}
