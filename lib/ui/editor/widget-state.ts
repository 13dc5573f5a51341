'use client';
/** Shared state of one widget: the flat map `widget:<id>` of the page's document, and how to change it. */
import { useMemo, useSyncExternalStore } from 'react';
import type * as Y from 'yjs';
import { widgetRoot } from '@/lib/live/protocol';
import { counted } from '@/lib/notebook/widget-state';
import type { WidgetActions, WidgetState } from '@/lib/widgets/definition';
import { localIso } from '../words';

/** Origin of every change that a member makes in a widget; the editor's undo tracks it. */
export const widgetOrigin = 'widget';
/** Origin of what is undone alone, however fast it comes: counts and whole steps. */
export const stepOrigin = 'step';

export function useWidgetState(doc: Y.Doc, id: string): WidgetState {
  const store = useMemo(() => {
    const map = doc.getMap(widgetRoot(id));
    let snapshot: WidgetState = map.toJSON();
    return {
      subscribe(listener: () => void) {
        const changed = () => {
          snapshot = map.toJSON();
          listener();
        };
        changed();
        map.observeDeep(changed);
        return () => map.unobserveDeep(changed);
      },
      getSnapshot: () => snapshot,
    };
  }, [doc, id]);
  return useSyncExternalStore(store.subscribe, store.getSnapshot, store.getSnapshot);
}

/** On the clock of whoever ticks: a plan is read by the people in the same room. */
const now = () => {
  const moment = new Date();
  return localIso(moment, -moment.getTimezoneOffset());
};

/** Ways to change the state, signed with the member's name. */
export function widgetActions(doc: Y.Doc, id: string, member: string): WidgetActions {
  const map = doc.getMap(widgetRoot(id));
  const change = (fn: () => void) => doc.transact(fn, widgetOrigin);
  const mine = (key: string) => `${key}.${doc.clientID}`; // a client writes to no counter but its own, so no count is overwritten
  return {
    set: (key, value) => change(() => map.set(key, value)),
    remove: (key) => change(() => map.delete(key)),
    tick: (key, on, also) => change(() => (on ? map.set(key, { ...also, by: member, at: now() }) : map.delete(key))),
    count: (key, by) =>
      doc.transact(() => {
        const state = map.toJSON();
        if (by < 0 && counted(state, key) === 0) return;
        const own = state[mine(key)];
        map.set(mine(key), (typeof own === 'number' ? own : 0) + by);
      }, stepOrigin),
    step: (changes) =>
      doc.transact(() => {
        for (const [key, value] of Object.entries(changes)) {
          if (value === undefined) map.delete(key);
          else map.set(key, value);
        }
      }, stepOrigin),
  };
}

/** Lets undo take back what was done in widgets, counts one at a time. Call once for an undo manager of the document. */
export function undoWidgets(doc: Y.Doc, undo: Y.UndoManager): () => void {
  undo.addTrackedOrigin(widgetOrigin);
  undo.addTrackedOrigin(stepOrigin);
  const apart = ({ origin }: Y.Transaction) => {
    if (origin === stepOrigin) undo.stopCapturing();
  };
  doc.on('beforeTransaction', apart);
  doc.on('afterTransaction', apart); // registered after the manager's own listener, so what follows is a step of its own too
  return () => {
    doc.off('beforeTransaction', apart);
    doc.off('afterTransaction', apart);
  };
}
