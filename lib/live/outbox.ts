/**
 * Pictures that this device has and the server has not: kept in the browser's database with a list in its storage, sent when there is
 * network, from any page.
 */
import * as idb from 'lib0/indexeddb';
import * as z from 'zod/mini';

const place = 'fettlebook.pictures'; // read by lib/ui/enhance.js too
const databaseName = 'fettlebook.pictures';
const listed = z.object({
  member: z.string(),
  title: z.string(), // of the page
  at: z.number(), // ms since 1970
  refused: z.optional(z.string()), // why the server will never take it
});
type Listed = z.infer<typeof listed>;
export interface WaitingPicture extends Listed {
  page: string;
  hash: string;
}
interface Kept {
  key: string;
  blob: Blob;
  title: string; // as in the list
  at: number;
}

const keyOf = (page: string, member: string, hash: string) => `${page} ${member} ${hash}`;

function readList(): Record<string, Listed> {
  try {
    const list = z.record(z.string(), z.unknown()).parse(JSON.parse(localStorage.getItem(place) ?? '{}'));
    return Object.fromEntries(
      Object.entries(list).flatMap(([key, value]) => {
        const found = listed.safeParse(value);
        return found.success ? [[key, found.data]] : [];
      }),
    );
  } catch {
    return {};
  }
}
function writeList(list: Record<string, Listed>) {
  try {
    if (Object.keys(list).length) localStorage.setItem(place, JSON.stringify(list));
    else localStorage.removeItem(place);
  } catch {
    // The browser's database knows them too: see `recallPictures`.
  }
}
function note(key: string, entry: Listed | undefined) {
  const list = readList();
  if (entry) list[key] = entry;
  else delete list[key];
  writeList(list);
}

/** Pictures of a member that wait to be sent, the oldest first. */
export const waitingPictures = (member: string): WaitingPicture[] =>
  Object.entries(readList())
    .flatMap(([key, entry]) => {
      const [page = '', , hash = ''] = key.split(' ');
      return entry.member === member ? [{ ...entry, page, hash }] : [];
    })
    .sort((a, b) => a.at - b.at);

let opened: Promise<IDBDatabase> | undefined;
function database(): Promise<IDBDatabase> {
  opened ??= idb.openDB(databaseName, (db) => idb.createStores(db, [['pictures', { keyPath: 'key' }]]));
  return opened;
}
const request = idb.rtop as <T>(asked: IDBRequest<T>) => Promise<T>;
async function inStore<T>(access: 'readonly' | 'readwrite', work: (store: IDBObjectStore) => Promise<T>): Promise<T> {
  const [store] = idb.transact(await database(), ['pictures'], access);
  if (!store) throw new Error('the store of pictures is not there');
  return work(store);
}

/** What is going on with a picture in this window. */
export interface Sending {
  state: 'waiting' | 'sending' | 'sent' | 'refused';
  share: number; // sent so far, 0 to 1
  message: string; // what to do; empty while nothing need be done
  url: string; // of the picture on this device
  kept: boolean; // it outlives this window
}
const now = new Map<string, Sending>();
const blobs = new Map<string, Blob>(); // where the browser keeps nothing, this window does
const listeners = new Set<() => void>();

function become(key: string, change: Partial<Sending>) {
  const before = now.get(key) ?? { state: 'waiting', share: 0, message: '', url: '', kept: true };
  now.set(key, { ...before, ...change });
  for (const listener of listeners) listener();
}
export function onSending(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}
/** Undefined for a picture that this window has not seen leave. */
export const sendingOf = (page: string, member: string, hash: string): Sending | undefined => now.get(keyOf(page, member, hash));

/** Keeps a picture on this device until the server has it. */
export async function keepToSend({
  page,
  member,
  title,
  hash,
  blob,
}: Omit<WaitingPicture, 'at' | 'refused'> & { blob: Blob }): Promise<void> {
  const key = keyOf(page, member, hash);
  blobs.set(key, blob);
  const at = Date.now();
  become(key, { state: 'waiting', share: 0, message: '', url: URL.createObjectURL(blob) });
  try {
    await inStore('readwrite', (store) => request(store.put({ key, blob, title, at } satisfies Kept)));
  } catch {
    become(key, { kept: false });
  }
  note(key, { member, title, at });
}

/** Puts back on the list what it has lost, as the browser's database knows it; whoever's they are. */
export async function recallPictures(): Promise<void> {
  const kept = await inStore('readonly', (store) => request<Kept[]>(store.getAll())).catch(() => []);
  const list = readList();
  for (const { key, title, at } of kept) list[key] ??= { member: key.split(' ')[1] ?? '', title, at };
  if (kept.length) writeList(list);
}

/** Shows what an earlier window left for this page. */
export async function reopen(page: string, member: string): Promise<void> {
  for (const waiting of waitingPictures(member)) {
    const key = keyOf(page, member, waiting.hash);
    if (waiting.page !== page || now.has(key)) continue;
    const blob = await blobOf(key);
    if (!blob) note(key, undefined);
    else become(key, { state: waiting.refused ? 'refused' : 'waiting', message: waiting.refused ?? '', url: URL.createObjectURL(blob) });
  }
}

async function blobOf(key: string): Promise<Blob | null> {
  const own = blobs.get(key);
  if (own) return own;
  const found = (await inStore('readonly', (store) => request(store.get(key))).catch(() => null)) as Kept | null | undefined;
  return found?.blob ?? null;
}

async function letGo(key: string): Promise<void> {
  blobs.delete(key);
  note(key, undefined);
  await inStore('readwrite', (store) => request(store.delete(key))).catch(() => {});
}

type Answer = { status: number; detail: string };
/** Sends bytes and tells how far it is. Status 0: there was no network, or it broke off. */
export type Carrier = (url: string, blob: Blob, progress: (share: number) => void) => Promise<Answer>;
const byBrowser: Carrier = (url, blob, progress) =>
  new Promise((resolve) => {
    const request = new XMLHttpRequest(); // the only one that tells how much has gone up
    request.open('POST', url);
    request.setRequestHeader('content-type', 'application/octet-stream');
    request.upload.onprogress = (event) => progress(event.lengthComputable ? event.loaded / event.total : 0);
    request.onload = () => {
      let detail = '';
      try {
        detail = String((JSON.parse(request.responseText) as { detail?: unknown }).detail ?? '');
      } catch {
        // a proxy's answer says nothing to members
      }
      resolve({ status: request.status, detail });
    };
    request.onerror = request.onabort = request.ontimeout = () => resolve({ status: 0, detail: '' });
    request.send(blob);
  });

const refuses = (status: number) => status === 413 || status === 415 || status === 422;
const waitWords = ({ status }: Answer): string =>
  status === 0 || status >= 500
    ? ''
    : status === 401
      ? 'Sign in again in another window, then send it again.'
      : status === 404
        ? 'The page was removed: the photo can’t be sent to it.'
        : 'You may not write on this page any more; ask an owner of the club.';

const running = new Map<string, Promise<void>>();
/** Sends one picture; twice at once is once. */
function send(waiting: WaitingPicture, member: string, carry: Carrier): Promise<void> {
  const key = keyOf(waiting.page, member, waiting.hash);
  const work = async () => {
    const blob = await blobOf(key);
    if (!blob) return letGo(key);
    become(key, { state: 'sending', share: 0, message: '' });
    const answer = await carry(`/api/pages/${waiting.page}/pictures?${new URLSearchParams({ member })}`, blob, (share) =>
      become(key, { share }),
    );
    if (answer.status === 200) {
      await letGo(key);
      become(key, { state: 'sent', share: 1 });
    } else if (refuses(answer.status)) {
      note(key, { ...listedOf(waiting), refused: answer.detail });
      become(key, { state: 'refused', message: answer.detail });
    } else become(key, { state: 'waiting', share: 0, message: waitWords(answer) });
  };
  const known = running.get(key) ?? work().finally(() => running.delete(key));
  running.set(key, known);
  return known;
}
const listedOf = ({ member, title, at }: Listed): Listed => ({ member, title, at });

/** Sends what waits, one after the other; of one page, or of all. Answers what could not be sent. */
export async function sendPictures(member: string, page?: string, carry: Carrier = byBrowser): Promise<WaitingPicture[]> {
  const mine = () => waitingPictures(member).filter((waiting) => page === undefined || waiting.page === page);
  for (const waiting of mine()) if (waiting.refused === undefined) await send(waiting, member, carry);
  return mine();
}

/** Lets go of a picture that was never sent. */
export async function dropPicture(page: string, member: string, hash: string): Promise<void> {
  const key = keyOf(page, member, hash);
  await letGo(key);
  now.delete(key);
}

/** Removes all pictures of a member from this device, sent or not. */
export async function forgetPictures(member: string): Promise<void> {
  for (const { page, hash } of waitingPictures(member)) await dropPicture(page, member, hash);
}
