/** A document from what the log has of a page. */
import * as Y from 'yjs';
import type { LogPage } from '@/lib/store/types';

/** Applies base and tail to `doc`, in one transaction of the given origin. */
export function applyLoaded(doc: Y.Doc, { base, tail }: LogPage, origin?: unknown) {
  doc.transact(() => {
    if (base) Y.applyUpdateV2(doc, base, origin);
    for (const update of tail) Y.applyUpdate(doc, update, origin);
  }, origin);
}
