/** The page as computed, kept up to date as its document changes. */
import type * as Y from 'yjs';
import { contentOf } from '@/lib/notebook/content';
import { evaluateWith } from '@/lib/notebook/evaluate-with';
import type { EvaluatedPage } from '@/lib/notebook/types';
import type { PageContext } from '@/lib/widgets/definition';
import { arrivedDefinition, onArrival } from '@/lib/widgets/lazy';

/** Shaped for `useSyncExternalStore`. */
export interface Store<T> {
  subscribe(listener: () => void): () => void;
  getSnapshot(): T;
}

const settleMs = 150; // typing is not evaluated letter by letter

export function evaluatedStore(doc: Y.Doc, context: PageContext): Store<EvaluatedPage> & { close(): void } {
  const listeners = new Set<() => void>();
  let snapshot = evaluateWith(arrivedDefinition, contentOf(doc), context);
  let timer: ReturnType<typeof setTimeout> | undefined;
  const refresh = () => {
    timer = undefined;
    snapshot = evaluateWith(arrivedDefinition, contentOf(doc), context);
    for (const listener of listeners) listener();
  };
  const later = () => {
    timer ??= setTimeout(refresh, settleMs);
  };
  doc.on('update', later);
  const gone = onArrival(later);
  return {
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    getSnapshot: () => snapshot,
    close() {
      gone();
      doc.off('update', later);
      clearTimeout(timer);
      listeners.clear();
    },
  };
}
