/**
 * Keeps the caret where it was put. The editor learns of the browser's selection a moment after a click; a remote change in that moment
 * would put the old one back. So the browser's selection is read before every change of the document, and as soon as the button is
 * released: the editor delays its own selection while the button is down and would write the old one after it.
 */
import { Extension } from '@tiptap/core';
import type * as Y from 'yjs';

/** The part of the editor's view that watches the browser; not in its public types. */
interface Observer {
  forceFlush(): void;
  flush(): void;
}

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
        const { domObserver } = editor.view as unknown as { domObserver: Observer };
        domObserver.forceFlush();
        domObserver.flush();
      } finally {
        busy = false;
      }
    };
    doc.on('beforeAllTransactions', flush);
    document.addEventListener('mouseup', flush, true);
    editor.on('destroy', () => {
      doc.off('beforeAllTransactions', flush);
      document.removeEventListener('mouseup', flush, true);
    });
  },
});
