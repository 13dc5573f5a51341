/** A page's document on this device, one store for each member and page. */
import * as idb from 'lib0/indexeddb';
import { clearDocument, IndexeddbPersistence } from 'y-indexeddb';
import * as Y from 'yjs';
import * as z from 'zod/mini';
import { keptPages, noteKept } from './kept';

const prefix = 'fettlebook:';
const nameOf = (member: string, page: string) => `${prefix}${member}:${page}`;
const mostPages = 150; // of one device; the longest unopened go first
const openLimitMs = 2000;
const list = 'fettlebook.shelf';
/** In each store beside its document: what the list of kept pages says of it, which a browser that is killed loses (`recallKept`). */
const mark = z.object({ title: z.string(), changes: z.number() });
const markKey = 'kept';

export type ShelfState = 'opening' | 'keeping' | 'failed';
export interface Shelf {
  state(): ShelfState;
  /** Resolves when the document has what this device kept, or when that cannot be; never rejects. */
  loaded: Promise<void>;
  /** How many of its changes only this device has, as an earlier visit wrote beside it; known when it is loaded. */
  marked(): number;
  /** Writes beside the document how many of its changes only this device has. A device that cannot write says so here. */
  mark(kept: z.infer<typeof mark>): void;
  /** Changes of the document that this device has not finished writing. */
  unwritten(): number;
  /** Whether a change of the document came from this device's store. */
  gave(origin: unknown): boolean;
}

interface Ward {
  /** The state has changed. */
  onChange(): void;
  /** Whether what the device kept (one update, V1) may come into the document, asked when it has been read. */
  mayCome(update: Uint8Array): boolean;
}

/** Keeps `doc` on this device from now on, with what the device kept already even where that may not come into `doc`. */
export function shelve(doc: Y.Doc, member: string, page: string, { onChange, mayCome }: Ward): Shelf {
  const name = nameOf(member, page);
  let state: ShelfState = 'opening';
  const become = (next: ShelfState) => {
    if (state === next || state === 'failed') return;
    state = next;
    onChange();
  };
  let store: IndexeddbPersistence | null = null;
  let marked: z.infer<typeof mark> | null = null;
  let made = 0;
  let written = 0;
  let asking = false;
  // The library puts what it finds into its document at once; an editor may be bound to ours by then, so it is looked at before.
  const kept = inStore(name, (db) => Promise.all([readUpdates(db), readMark(db)]));
  let found = 0;
  const open = async () => {
    const [updates, before] = await kept;
    found = before?.changes ?? 0;
    if (doc.isDestroyed) return;
    store = new IndexeddbPersistence(name, updates.length === 0 || mayCome(Y.mergeUpdates(updates)) ? doc : copyOf(doc));
    await store.whenSynced;
    for (const kind of ['versionchange', 'close']) store.db?.addEventListener(kind, letGo);
    writeMark();
    settle(); // what was written meanwhile went in with the opening
    become('keeping');
    void noteOnShelf(member, page);
  };
  // The library's writes tell nothing when they are done; what asks the same store after them is answered after them.
  const settle = () => {
    if (asking || !store?.db || doc.isDestroyed) return;
    asking = true;
    const upTo = made;
    const ask = store.db.transaction(['updates', 'custom'], 'readonly');
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
  const writeMark = () => {
    if (!store?.db || doc.isDestroyed || !marked) return;
    const write = store.db.transaction('custom', 'readwrite');
    write.objectStore('custom').put(marked, markKey);
    write.onabort = () => become('failed');
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
  const opened = open().catch(() => become('failed'));
  return {
    state: () => state,
    unwritten: () => made - written,
    // A device that is slow, or never answers, must not keep the page from opening; one that has answered is waited for.
    loaded: within(openLimitMs, kept).then((answered) => (answered ? opened : undefined)),
    marked: () => found,
    mark(kept) {
      marked = kept;
      writeMark();
    },
    gave: (origin) => store !== null && origin === store,
  };
}

/** Removes every document of a member from this device, and the list of them. */
export const clearShelf = async (member: string): Promise<void> =>
  remove((await storeNames()).filter((name) => name.startsWith(nameOf(member, ''))));

/** Removes the documents that the log has whole, whoever's they are. */
export const clearSent = async (): Promise<void> => remove(await sentOf(await storeNames()));

/** Puts back on the list of kept pages what it has lost, as their stores know it. */
export const recallDocuments = async (): Promise<void> => void (await sentOf(await storeNames()));

/** Of every document on this device; a browser that was killed may have lost our own list, and an old one knows no other. */
async function storeNames(): Promise<string[]> {
  const listed = Object.keys(shelfList());
  try {
    const found = (await indexedDB.databases()).flatMap(({ name }) => (name?.startsWith(prefix) ? [name] : []));
    return [...new Set([...found, ...listed])];
  } catch {
    return listed;
  }
}

async function remove(names: string[]): Promise<void> {
  await Promise.allSettled(names.map(clearDocument));
  saveList(Object.fromEntries(Object.entries(shelfList()).filter(([name]) => !names.includes(name))));
}

/** Those of the documents of which neither the list nor their own store, which must be readable, knows a change that only this device has. */
async function sentOf(names: string[]): Promise<string[]> {
  const listed = unsent();
  const asked = names.filter((name) => !listed.has(name));
  const answers = await Promise.allSettled(asked.map(recall));
  const needed = unsent();
  return asked.filter((name, i) => answers[i]?.status === 'fulfilled' && !needed.has(name));
}

async function recall(name: string): Promise<void> {
  const [member = '', page = ''] = name.slice(prefix.length).split(':');
  const found = await inStore(name, readMark);
  if (found && found.changes > 0) noteKept(page, { member, ...found, window: '' });
}

/** Names of the documents with changes that only this device has, as the list has it. */
const unsent = () => new Set(keptPages().map((kept) => nameOf(kept.member, kept.page)));

/**
 * Reads in a document's store. Rejects in a private window, on a full disk or in an old browser: the library does not tell.
 * Where there is no store, it is made as the library makes it.
 */
async function inStore<T>(name: string, read: (db: IDBDatabase) => Promise<T>): Promise<T> {
  const db = await idb.openDB(name, (made) => idb.createStores(made, [['updates', { autoIncrement: true }], ['custom']]));
  try {
    return await read(db);
  } finally {
    db.close();
  }
}

async function readUpdates(db: IDBDatabase): Promise<Uint8Array[]> {
  const [updates] = idb.transact(db, ['updates'], 'readonly');
  return updates ? ((await idb.getAll(updates)) as Uint8Array[]) : [];
}

async function readMark(db: IDBDatabase): Promise<z.infer<typeof mark> | null> {
  const [custom] = idb.transact(db, ['custom'], 'readonly');
  return (custom && mark.safeParse(await idb.get(custom, markKey)).data) ?? null;
}

/** A document that has, and will have, whatever `doc` has; what it is given beside that does not come into `doc`. */
function copyOf(doc: Y.Doc): Y.Doc {
  const copy = new Y.Doc();
  const take = (update: Uint8Array) => Y.applyUpdate(copy, update);
  take(Y.encodeStateAsUpdate(doc));
  doc.on('update', take);
  doc.on('destroy', () => copy.destroy());
  return copy;
}

/** Whether it has ended, well or badly, within that time. */
function within(ms: number, promise: Promise<unknown>): Promise<boolean> {
  return new Promise((resolve) => {
    const timer = setTimeout(() => resolve(false), ms);
    const end = () => {
      clearTimeout(timer);
      resolve(true);
    };
    promise.then(end, end);
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
async function noteOnShelf(member: string, page: string) {
  saveList({ ...shelfList(), [nameOf(member, page)]: Date.now() });
  const openedAt = shelfList();
  const all = (await storeNames()).sort((a, b) => (openedAt[a] ?? 0) - (openedAt[b] ?? 0));
  const needed = unsent();
  const spare = all.filter((name) => !needed.has(name));
  await remove(await sentOf(spare.slice(0, Math.max(0, all.length - mostPages))));
}
