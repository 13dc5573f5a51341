/**
 * The service worker: what was opened before opens again without network. Bundled by itself (scripts/build.ts); `BUILD` and `FILES` are
 * filled in there.
 */
import { asCopy, mayKeep, memberOf, mostCopies, pagesCache, stale, staticCache, writingOf } from './policy';

declare const BUILD: string;
declare const FILES: string[];
declare const self: WorkerScope;
/** The few things of a service worker that are used here; the types of browser and worker do not go together in one project. */
interface WorkerScope {
  location: Location;
  clients: { claim(): Promise<void> };
  skipWaiting(): Promise<void>;
  addEventListener(kind: 'install' | 'activate', listener: (event: LifeEvent) => void): void;
  addEventListener(kind: 'fetch', listener: (event: AskEvent) => void): void;
}
interface LifeEvent {
  waitUntil(promise: Promise<unknown>): void;
}
interface AskEvent extends LifeEvent {
  request: Request;
  respondWith(response: Promise<Response>): void;
}

const patienceMs = 3000; // then a copy is better than waiting on
const freshMs = 10 * 60_000; // a writing screen fetched this recently is not fetched again beside its page
const loose = { ignoreVary: true };

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(staticCache(BUILD))
      .then((cache) => cache.addAll(FILES))
      .then(() => self.skipWaiting()),
  );
});
self.addEventListener('activate', (event) => {
  const clean = async () => {
    for (const name of stale(await caches.keys(), BUILD)) await caches.delete(name);
    await self.clients.claim();
  };
  event.waitUntil(clean());
});
self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith('/_next/static/')) event.respondWith(keptFirst(request));
  else if (request.mode === 'navigate') event.respondWith(screen(event, url));
  else if (FILES.includes(url.pathname)) event.respondWith(fetch(request).catch(() => keptFirst(request)));
});

const keptFirst = async (request: Request) => (await caches.match(request, loose)) ?? fetch(request);

/** A screen from the network; from this device when there is none, or none in time. */
async function screen(event: AskEvent, url: URL): Promise<Response> {
  const path = url.pathname;
  const fresh = fetch(event.request).then(async (response) => {
    if (mayKeep(path) && url.search === '') event.waitUntil(keep(path, response.clone()));
    return response;
  });
  const copy = await copyOf(path);
  if (!copy) return fresh.catch(nothing);
  event.waitUntil(fresh.catch(() => {}));
  const late = new Promise<null>((resolve) => setTimeout(resolve, patienceMs, null));
  return (await Promise.race([fresh, late]).catch(() => null)) ?? marked(copy);
}

async function copyOf(path: string) {
  return (await caches.open(pagesCache)).match(path, loose);
}

async function keep(path: string, response: Response, alone = false): Promise<void> {
  if (response.status !== 200 || response.redirected || !response.headers.get('content-type')?.startsWith('text/html')) return;
  const member = memberOf(await response.clone().text());
  if (!member) return;
  await onlyOf(member);
  const cache = await caches.open(pagesCache);
  await cache.put(path, response);
  const all = await cache.keys();
  for (const old of all.slice(0, Math.max(0, all.length - mostCopies))) await cache.delete(old, loose);
  const writing = writingOf(path);
  if (writing && !alone) await fetchBeside(writing);
}

/** So that a page that was only read can be written in the shed. */
async function fetchBeside(path: string): Promise<void> {
  const { connection } = navigator as { connection?: { saveData?: boolean } };
  const copy = await copyOf(path);
  if (connection?.saveData || (copy && Date.now() - madeAt(copy) < freshMs)) return;
  const response = await fetch(path).catch(() => null);
  if (response) await keep(path, response, true);
}

/** Another member on this device sees nothing of the one before. */
async function onlyOf(member: string): Promise<void> {
  const about = await caches.open('about');
  const before = await (await about.match('/member'))?.text();
  if (before === member) return;
  if (before !== undefined) await caches.delete(pagesCache);
  await about.put('/member', new Response(member));
}

const madeAt = (response: Response) => Date.parse(response.headers.get('date') ?? '') || 0;

async function marked(copy: Response): Promise<Response> {
  const headers = new Headers(copy.headers);
  headers.delete('content-encoding'); // the copy is plain
  headers.delete('content-length');
  const when = new Date(madeAt(copy)).toLocaleString('en-GB', { day: 'numeric', month: 'long', hour: '2-digit', minute: '2-digit' });
  return new Response(asCopy(await copy.text(), when), { status: 200, headers });
}

const nothing = async () => (await caches.match('/offline', loose)) ?? Response.error();
