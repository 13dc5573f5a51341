/** A page's document on this device, one store for each member and page. */
import { clearDocument, IndexeddbPersistence } from 'y-indexeddb';
import type * as Y from 'yjs';
import { keptPages } from './kept';

const prefix = 'fettlebook:';
const nameOf = (member: string, page: string) => `${prefix}${member}:${page}`;
const mostPages = 150; // of one device; the longest unopened go first
const openLimitMs = 2000;
const list = 'fettlebook.shelf';

export type ShelfState = 'opening' | 'keeping' | 'failed';
export interface Shelf {
  state(): ShelfState;
  /** Resolves when the document has what this device kept, or when that cannot be; never rejects. */
  loaded: Promise<void>;
  /** Writes a mark beside the document. A device that cannot write says so here. */
  touch(): void;
  /** Changes of the document that this device has not finished writing. */
  unwritten(): number;
  /** Whether a change of the document came from this device's store. */
  gave(origin: unknown): boolean;
}

/** Keeps `doc` on this device from now on. `onChange` is called when its state has changed. */
export function shelve(doc: Y.Doc, member: string, page: string, onChange: () => void): Shelf {
  let state: ShelfState = 'opening';
  const become = (next: ShelfState) => {
    if (state === next || state === 'failed') return;
    state = next;
    onChange();
  };
  let store: IndexeddbPersistence | null = null;
  let made = 0;
  let written = 0;
  let asking = false;
  const open = async () => {
    if (!(await canKeep(nameOf(member, page)))) return become('failed');
    if (doc.isDestroyed) return;
    store = new IndexeddbPersistence(nameOf(member, page), doc);
    await store.whenSynced;
    for (const kind of ['versionchange', 'close']) store.db?.addEventListener(kind, letGo);
    settle(); // what was written meanwhile went in with the opening
    become('keeping');
    noteOnShelf(member, page);
  };
  // The library's writes tell nothing when they are done; what asks the same store after them is answered after them.
  const settle = () => {
    if (asking || !store?.db || doc.isDestroyed) return;
    asking = true;
    const upTo = made;
    const ask = store.db.transaction('updates', 'readonly');
    ask.objectStore('updates').count();
    ask.oncomplete = () => {
      asking = false;
      written = upTo;
      onChange();
      if (made > written) settle();
    };
    ask.onabort = () => {
      asking = false;
      become('failed');
    };
  };
  // Another window, or the browser, removes it, as at sign-out: what is written from now on has only this window.
  const letGo = () => {
    void store?.destroy();
    store = null;
    become('failed');
  };
  doc.on('update', (_update: Uint8Array, origin: unknown) => {
    if (origin === store && store) return;
    made++;
    queueMicrotask(settle); // after the library has begun to write
  });
  return {
    state: () => state,
    unwritten: () => made - written,
    // A device that is slow, or never answers, must not keep the page from opening.
    loaded: within(
      openLimitMs,
      open().catch(() => become('failed')),
    ),
    touch: () => void store?.set('at', Date.now()).catch(() => become('failed')),
    gave: (origin) => store !== null && origin === store,
  };
}

/** Removes every document of a member from this device, and the list of them. */
export const clearShelf = (member: string): Promise<void> => clear((name) => name.startsWith(nameOf(member, '')));

/** Removes the documents that the log has whole, whoever's they are. */
export function clearSent(): Promise<void> {
  const needed = unsent();
  return clear((name) => !needed.has(name));
}

async function clear(which: (name: string) => boolean): Promise<void> {
  const names = Object.keys(shelfList()).filter(which);
  await Promise.allSettled(names.map(clearDocument));
  saveList(Object.fromEntries(Object.entries(shelfList()).filter(([name]) => !names.includes(name))));
}

/** Names of the documents with changes that only this device has. */
const unsent = () => new Set(keptPages().map((kept) => nameOf(kept.member, kept.page)));

/** A private window, a full disk or an old browser: asked by opening, since the library does not tell. */
function canKeep(name: string): Promise<boolean> {
  return new Promise((resolve) => {
    try {
      const probe = indexedDB.open(`${name}:probe`);
      probe.onerror = () => resolve(false);
      probe.onsuccess = () => {
        probe.result.close();
        indexedDB.deleteDatabase(`${name}:probe`);
        resolve(true);
      };
    } catch {
      resolve(false);
    }
  });
}

function within(ms: number, promise: Promise<unknown>): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, ms);
    void promise.then(() => {
      clearTimeout(timer);
      resolve();
    });
  });
}

function shelfList(): Record<string, number> {
  try {
    return JSON.parse(localStorage.getItem(list) ?? '{}') as Record<string, number>;
  } catch {
    return {};
  }
}

function saveList(next: Record<string, number>) {
  try {
    localStorage.setItem(list, JSON.stringify(next));
  } catch {
    // The documents stay; only their order of opening is not known.
  }
}

/** Notes the opening and lets the longest unopened documents go, never one with changes that only this device has. */
function noteOnShelf(member: string, page: string) {
  const next = { ...shelfList(), [nameOf(member, page)]: Date.now() };
  const needed = unsent();
  const spare = Object.entries(next)
    .filter(([name]) => !needed.has(name))
    .sort((a, b) => a[1] - b[1])
    .slice(0, Math.max(0, Object.keys(next).length - mostPages));
  for (const [name] of spare) {
    delete next[name];
    void clearDocument(name).catch(() => {});
  }
  saveList(next);
}
