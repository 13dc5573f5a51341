/** Typing "/" opens the list of things to insert. What is typed and chosen is kept in a small store that the list draws from. */
import { type Editor, Extension, type Range } from '@tiptap/core';
import { PluginKey } from '@tiptap/pm/state';
import Suggestion from '@tiptap/suggestion';
import type { Store } from './evaluated';
import { type Insertable, matching } from './insertables';

export interface SlashState {
  items: Insertable[];
  chosen: number;
  caret: DOMRect; // in the window
  choose(item: Insertable): void;
}

export function slashStore() {
  let state: SlashState | null = null;
  const listeners = new Set<() => void>();
  const set = (next: SlashState | null) => {
    state = next;
    for (const listener of listeners) listener();
  };
  const store: Store<SlashState | null> = {
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    getSnapshot: () => state,
  };

  const extension = Extension.create({
    name: 'slash',
    addProseMirrorPlugins() {
      return [
        Suggestion<Insertable, Insertable>({
          editor: this.editor,
          pluginKey: new PluginKey('slash'),
          char: '/',
          allowSpaces: false,
          items: ({ query }: { query: string }) => matching(query),
          command: ({ editor, range, props }: { editor: Editor; range: Range; props: Insertable }) => props.insert(editor, range),
          render: () => {
            const show = (props: { items: Insertable[]; command(item: Insertable): void; clientRect?: (() => DOMRect | null) | null }) => {
              const rect = props.clientRect?.();
              if (!rect || props.items.length === 0) return set(null);
              set({ items: props.items, chosen: 0, caret: rect, choose: props.command });
            };
            return {
              onStart: show,
              onUpdate: show,
              onExit: () => set(null),
              onKeyDown: ({ event }: { event: KeyboardEvent }) => {
                if (!state) return false;
                const { items, chosen } = state;
                if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
                  const step = event.key === 'ArrowDown' ? 1 : items.length - 1;
                  set({ ...state, chosen: (chosen + step) % items.length });
                  return true;
                }
                if (event.key === 'Enter' || event.key === 'Tab') {
                  const item = items[chosen];
                  if (item) state.choose(item);
                  return true;
                }
                if (event.key === 'Escape') {
                  set(null);
                  return true;
                }
                return false;
              },
            };
          },
        }),
      ];
    },
  });
  return { store, extension };
}
