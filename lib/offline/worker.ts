/**
 * The service worker: what was opened before opens again without network. Bundled by itself (scripts/build.ts); `BUILD` and `FILES` are
 * filled in there.
 */
import { copyOf, fetchCopy, letBareGo, noter, picture, shown } from './copies';
import { answerBy, isWriting, mayKeep, pagesCache, stale, staticCache, unreachable } from './policy';

declare const BUILD: string;
declare const FILES: string[];
declare const self: WorkerScope;
/** The few things of a service worker that are used here; the types of browser and worker do not go together in one project. */
interface WorkerScope {
  location: Location;
  clients: { claim(): Promise<void>; matchAll(of: { type: 'window'; includeUncontrolled: true }): Promise<{ url: string }[]> };
  skipWaiting(): Promise<void>;
  addEventListener(kind: 'install' | 'activate', listener: (event: LifeEvent) => void): void;
  addEventListener(kind: 'fetch', listener: (event: AskEvent) => void): void;
  addEventListener(kind: 'message', listener: (event: LifeEvent & { data: unknown }) => void): void;
}
interface LifeEvent {
  waitUntil(promise: Promise<unknown>): void;
}
interface AskEvent extends LifeEvent {
  request: Request;
  respondWith(response: Promise<Response>): void;
}

const patienceMs = 3000; // then a copy is better than waiting on
const shellPatienceMs = 1000; // for a file of the shell, which a screen waits for
const loose = { ignoreVary: true };
const openPaths = async () =>
  (await self.clients.matchAll({ type: 'window', includeUncontrolled: true })).map(({ url }) => new URL(url).pathname);

self.addEventListener('install', (event) => {
  const fill = async () => {
    await (await caches.open(staticCache(BUILD))).addAll(FILES);
    await self.skipWaiting();
  };
  event.waitUntil(fill());
});
self.addEventListener('activate', (event) => {
  const begin = async () => {
    await self.clients.claim();
    await sweep();
    if (await caches.has(pagesCache)) return;
    // The first time on this device: what stands open was fetched before there was anyone to keep it.
    for (const path of new Set(await openPaths())) if (mayKeep(path)) await fetchCopy(path);
  };
  event.waitUntil(begin());
});
self.addEventListener('message', (event) => {
  if (event.data === 'take') event.waitUntil(self.clients.claim());
});
self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  const { method, mode } = request;
  const by = answerBy({ method, mode, ours: url.origin === self.location.origin, path: url.pathname }, FILES);
  if (by === 'static') event.respondWith(keptFirst(request));
  else if (by === 'picture') event.respondWith(picture(request, (work) => event.waitUntil(work)));
  else if (by === 'screen') event.respondWith(screen(event, url));
  else if (by === 'shell') event.respondWith(shellFile(request, url.pathname));
});

/** Of any build: a window of the one before may still be open. */
const keptFirst = async (request: Request) => (await caches.match(request, loose)) ?? fetch(request);
const late = (ms: number) => new Promise<null>((resolve) => setTimeout(resolve, ms, null));
const ofThisBuild = async (path: string) => (await caches.open(staticCache(BUILD))).match(path, loose);

async function shellFile(request: Request, path: string): Promise<Response> {
  const fresh = fetch(request);
  const answer = await Promise.race([fresh, late(shellPatienceMs)]).catch(() => null);
  return answer?.ok ? answer : ((await ofThisBuild(path)) ?? fresh);
}

/** A screen from the network; from this device when there is none, or none in time. */
async function screen(event: AskEvent, url: URL): Promise<Response> {
  const path = url.pathname;
  const plain = url.search === '';
  const note = noter(path);
  const fresh = fetch(event.request).then((response) => {
    if (plain || !mayKeep(path)) event.waitUntil(note(response.clone()));
    event.waitUntil(sweep());
    return response;
  });
  const copy = mayKeep(path) ? await copyOf(path) : undefined;
  if (!copy) return fresh.catch(async () => (await ofThisBuild('/offline')) ?? Response.error());
  event.waitUntil(fresh.catch(() => {}));
  // A copy is of the screen without a question (a clue, a filter): it stands in only when nothing else comes.
  const answer = await (plain ? Promise.race([fresh, late(patienceMs)]) : fresh).catch(() => null);
  return answer && !unreachable(answer.status) ? answer : shown(copy);
}

/** Old builds' files go, unless somebody is writing: that screen may still ask for files of its own build. */
async function sweep(): Promise<void> {
  const old = stale(await caches.keys(), BUILD);
  if (old.length === 0 || (await openPaths()).some(isWriting)) return;
  await Promise.all(old.map((name) => caches.delete(name)));
  await letBareGo();
}
