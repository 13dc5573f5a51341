/**
 * A remote change that lands between a click and ProseMirror's reading of the browser's selection would restore the old caret.
 * Reading the selection before every transaction keeps the caret where it was put.
 */
import { Extension } from '@tiptap/core';
import type * as Y from 'yjs';

export const FlushSelection = Extension.create<{ doc: Y.Doc | null }>({
  name: 'flushSelection',
  priority: 2000,
  addOptions: () => ({ doc: null }),
  onBeforeCreate() {
    const { editor } = this;
    const { doc } = this.options;
    if (!doc) throw new Error('FlushSelection needs the page’s document');
    let busy = false;
    const flush = () => {
      if (busy || editor.isDestroyed || !editor.isInitialized) return;
      busy = true;
      try {
        (editor.view as unknown as { domObserver: { flush(): void } }).domObserver.flush();
      } finally {
        busy = false;
      }
    };
    doc.on('beforeAllTransactions', flush);
    editor.on('destroy', () => doc.off('beforeAllTransactions', flush));
  },
});
