/** The copies of screens on this device: kept, looked up, let go. Runs in the service worker. */
import {
  aboutCache,
  asCopy,
  filesOf,
  isDoor,
  mayKeep,
  mayKeepAnswer,
  memberOf,
  mostPictures,
  overflow,
  pagesCache,
  pictureFolder,
  picturesCache,
  writingOf,
} from './policy';

const freshMs = 10 * 60_000; // a writing screen fetched this recently is not fetched again beside its page
const loose = { ignoreVary: true };

/** Rises whenever all copies are let go: an answer that was asked for before that is not kept after it. */
let turn = 0;

export async function copyOf(path: string): Promise<Response | undefined> {
  return (await caches.open(pagesCache)).match(path, loose);
}

/** Takes note of a screen that is being fetched; the function it answers does with the answer what is to be done. */
export function noter(path: string): (response: Response) => Promise<void> {
  const asked = turn;
  return async (response) => {
    if (isDoor(path) && response.status === 200) await letGo();
    else if (mayKeep(path)) await keep(path, response, asked);
  };
}

/** Fetches a screen again, to have a copy of it. Never rejects. */
export async function fetchCopy(path: string): Promise<void> {
  const note = noter(path);
  const response = await fetch(path).catch(() => null);
  if (response && !response.redirected) await note(response);
}

async function keep(path: string, response: Response, asked: number): Promise<void> {
  const { status, redirected } = response;
  if (!mayKeepAnswer({ status, redirected, type: response.headers.get('content-type') })) return;
  const member = memberOf(await response.clone().text());
  if (!member || asked !== turn) return;
  await onlyOf(member);
  const cache = await caches.open(pagesCache);
  await cache.put(path, response);
  for (const old of overflow(await cache.keys())) await cache.delete(old, loose);
  const writing = writingOf(path);
  if (writing && (await wanted(writing))) await fetchCopy(writing);
}

/**
 * A picture: from this device when it has it, since what is under a hash never changes; else from the network, and kept. One that was
 * removed, or may not be seen any more, goes from here as soon as the server says so.
 */
export async function picture(request: Request, later: (work: Promise<unknown>) => void): Promise<Response> {
  const asked = turn;
  const cache = await caches.open(picturesCache);
  const known = await cache.match(request, loose);
  if (known) {
    later(letGoIfGone(cache, request));
    return known;
  }
  const response = await fetch(request);
  if (response.status === 200 && asked === turn) {
    await cache.put(request, response.clone());
    for (const old of overflow(await cache.keys(), mostPictures)) await cache.delete(old, loose);
  } else later(letGoIfGone(cache, request, response.status));
  return response;
}

/** All sizes of a picture that the server has no longer, or not for this member. */
async function letGoIfGone(cache: Cache, request: Request, status?: number): Promise<void> {
  const now = status ?? (await fetch(request).catch(() => null))?.status ?? 0;
  if (now !== 404 && now !== 410) return;
  const folder = pictureFolder(request.url);
  for (const key of await cache.keys()) if (pictureFolder(key.url) === folder) await cache.delete(key, loose);
}

/** So that a page that was only read can be written in the shed; not where data is dear. */
async function wanted(writing: string): Promise<boolean> {
  const { connection } = navigator as { connection?: { saveData?: boolean } };
  if (connection?.saveData) return false;
  const copy = await copyOf(writing);
  return !copy || Date.now() - madeAt(copy) > freshMs;
}

/** Another member on this device sees nothing of the one before. */
async function onlyOf(member: string): Promise<void> {
  const before = await (await (await caches.open(aboutCache)).match('/member'))?.text();
  if (before === member) return;
  if (before !== undefined) await letGo();
  await (await caches.open(aboutCache)).put('/member', new Response(member));
}

async function letGo(): Promise<void> {
  turn++;
  await Promise.all([pagesCache, picturesCache, aboutCache].map((name) => caches.delete(name)));
}

/** Lets copies go whose styles or scripts this device has no longer. */
export async function letBareGo(): Promise<void> {
  const cache = await caches.open(pagesCache);
  for (const request of await cache.keys()) {
    const html = (await (await cache.match(request, loose))?.text()) ?? '';
    const files = await Promise.all(filesOf(html).map((file) => caches.match(file, loose)));
    if (files.includes(undefined)) await cache.delete(request, loose);
  }
}

const madeAt = (response: Response) => Date.parse(response.headers.get('date') ?? '') || 0;

/** The copy as it is shown, with its own security policy and the time when it was made. */
export async function shown(copy: Response): Promise<Response> {
  const headers = new Headers(copy.headers);
  headers.delete('content-encoding'); // the copy is plain
  headers.delete('content-length');
  const when = new Date(madeAt(copy)).toLocaleString('en-GB', { day: 'numeric', month: 'long', hour: '2-digit', minute: '2-digit' });
  return new Response(asCopy(await copy.text(), when), { status: 200, headers });
}
