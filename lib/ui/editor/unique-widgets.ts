/** A widget that is copied and pasted becomes a new one: its own id and a copy of its shared state. */
import { Extension } from '@tiptap/core';
import { Plugin, PluginKey } from '@tiptap/pm/state';
import { ySyncPluginKey } from '@tiptap/y-tiptap';
import type * as Y from 'yjs';
import { widgetRoot } from '@/lib/live/protocol';
import { newId } from '@/lib/notebook/ids';
import { widgetOrigin } from './widget-state';

export const UniqueWidgets = Extension.create<{ doc: Y.Doc | null }>({
  name: 'uniqueWidgets',
  addOptions: () => ({ doc: null }),
  addProseMirrorPlugins() {
    const { doc } = this.options;
    if (!doc) throw new Error('UniqueWidgets needs the page’s document');
    return [
      new Plugin({
        key: new PluginKey('uniqueWidgets'),
        appendTransaction(transactions, _before, after) {
          const own = transactions.some((t) => t.docChanged && !t.getMeta(ySyncPluginKey));
          if (!own) return null;
          const seen = new Set<string>();
          const change = after.tr;
          after.doc.descendants((node, position) => {
            if (node.type.name !== 'widget') return true;
            const id = String(node.attrs.id);
            if (!seen.has(id)) {
              seen.add(id);
              return false;
            }
            const fresh = newId();
            const from = doc.getMap(widgetRoot(id));
            doc.transact(() => {
              for (const [key, value] of from.entries()) doc.getMap(widgetRoot(fresh)).set(key, value);
            }, widgetOrigin);
            change.setNodeAttribute(position, 'id', fresh);
            seen.add(fresh);
            return false;
          });
          return change.docChanged ? change : null;
        },
      }),
    ];
  },
});
