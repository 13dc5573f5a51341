'use client';
/** Shared state of one widget: the flat map `widget:<id>` of the page's document, and how to change it. */
import { useMemo, useSyncExternalStore } from 'react';
import type * as Y from 'yjs';
import { widgetRoot } from '@/lib/live/protocol';
import type { WidgetActions, WidgetState } from '@/lib/widgets/definition';
import { localIso } from '../words';

/** Origin of every change that a member makes in a widget; the editor's undo tracks it. */
export const widgetOrigin = 'widget';

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
  return {
    set: (key, value) => change(() => map.set(key, value)),
    remove: (key) => change(() => map.delete(key)),
    tick: (key, on) => change(() => (on ? map.set(key, { by: member, at: now() }) : map.delete(key))),
  };
}
