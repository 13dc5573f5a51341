/** What the log gives: applied to a document, or the word that there is no such page. */
import * as Y from 'yjs';
import type { LogPage } from '@/lib/store/types';

/** Applies base and tail to `doc`, in one transaction of the given origin. */
export function applyLoaded(doc: Y.Doc, { base, tail }: Pick<LogPage, 'base' | 'tail'>, origin?: unknown) {
  doc.transact(() => {
    if (base) Y.applyUpdateV2(doc, base, origin);
    for (const update of tail) Y.applyUpdate(doc, update, origin);
  }, origin);
}

/** True when the log says that there is no such page. Any other failure may pass. */
export const saysGone = (error: unknown): boolean => error instanceof Error && /^there is no page\b/i.test(error.message);
