/** The page as computed, kept up to date as its document changes. */
import type * as Y from 'yjs';
import { contentOf } from '@/lib/notebook/content';
import { evaluatePage } from '@/lib/notebook/evaluate';
import type { EvaluatedPage } from '@/lib/notebook/types';
import type { PageContext } from '@/lib/widgets/definition';

/** Shaped for `useSyncExternalStore`. */
export interface Store<T> {
  subscribe(listener: () => void): () => void;
  getSnapshot(): T;
}

const settleMs = 150; // typing is not evaluated letter by letter

export function evaluatedStore(doc: Y.Doc, context: PageContext): Store<EvaluatedPage> & { close(): void } {
  const listeners = new Set<() => void>();
  let snapshot = evaluatePage(contentOf(doc), context);
  let timer: ReturnType<typeof setTimeout> | undefined;
  const refresh = () => {
    timer = undefined;
    snapshot = evaluatePage(contentOf(doc), context);
    for (const listener of listeners) listener();
  };
  const later = () => {
    timer ??= setTimeout(refresh, settleMs);
  };
  doc.on('update', later);
  return {
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    getSnapshot: () => snapshot,
    close() {
      doc.off('update', later);
      clearTimeout(timer);
      listeners.clear();
    },
  };
}
