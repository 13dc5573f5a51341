import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { copyOf, fetchCopy, letBareGo, noter, picture, shown } from '@/lib/offline/copies';
import { FakeCaches } from './fake-caches';

let caches: FakeCaches;
let connection: { saveData?: boolean };
let network: (path: string) => Response | Promise<Response>;
let asked: string[];

const screenOf = (member: string | null, text = 'a page', head: Record<string, string> = {}) =>
  new Response(`<html><head>${member ? `<meta name="member" content="${member}"/>` : ''}</head><body><p>${text}</p></body></html>`, {
    headers: { 'content-type': 'text/html; charset=utf-8', date: 'Mon, 02 Nov 2026 14:05:00 GMT', ...head },
  });
const visit = async (path: string, answer = screenOf('ines')) => noter(path)(answer);
const kept = () => caches.paths('pages');

beforeEach(() => {
  caches = new FakeCaches();
  connection = {};
  asked = [];
  network = () => screenOf('ines');
  vi.stubGlobal('caches', caches);
  vi.stubGlobal('navigator', { connection });
  vi.stubGlobal('fetch', async (path: string) => {
    asked.push(path);
    return network(path);
  });
});
afterEach(() => {
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

test('a page that was read can be written, though its writing screen was never opened', async () => {
  await visit('/pages/p1');
  expect(kept()).toEqual(['/pages/p1', '/pages/p1/write']);
  expect(asked).toEqual(['/pages/p1/write']);
});

test('the writing screen is not fetched where data is dear, nor again within ten minutes', async () => {
  connection.saveData = true;
  await visit('/pages/p1');
  expect(kept()).toEqual(['/pages/p1']);
  connection.saveData = false;
  vi.useFakeTimers({ now: Date.parse('2026-11-02T14:10:00Z'), toFake: ['Date'] });
  await visit('/pages/p1');
  await visit('/pages/p1');
  expect(asked).toEqual(['/pages/p1/write']);
  vi.setSystemTime(Date.parse('2026-11-02T14:16:00Z'));
  await visit('/pages/p1');
  expect(asked).toEqual(['/pages/p1/write', '/pages/p1/write']);
});

test('no network for the writing screen leaves the page itself kept', async () => {
  network = () => Promise.reject(new TypeError('Failed to fetch'));
  await visit('/pages/p1');
  expect(kept()).toEqual(['/pages/p1']);
});

test('a screen that is not for a member is no copy: an answer of somebody else’s network is not ours', async () => {
  await visit('/machines');
  await visit('/machines', screenOf(null, 'Welcome to the hotel: accept the terms'));
  expect(await (await copyOf('/machines'))?.text()).toContain('a page');
});

test('a redirect that fetch followed is not kept', async () => {
  network = () => Object.defineProperty(screenOf('ines'), 'redirected', { value: true });
  await fetchCopy('/machines');
  expect(kept()).toEqual([]);
});

test('another member sees nothing of the one before', async () => {
  await visit('/machines');
  await visit('/parts');
  await visit('/', screenOf('tomas'));
  expect(kept()).toEqual(['/']);
});

test('where nobody is signed in, nothing stays', async () => {
  await visit('/machines');
  await visit('/sign-in', screenOf(null));
  expect(await caches.keys()).toEqual([]);
});

test('what was asked for before signing out is not kept after it', async () => {
  let answer: (response: Response) => void = () => {};
  network = () => new Promise((resolve) => (answer = resolve));
  const slow = visit('/pages/p1');
  await vi.waitFor(() => expect(asked).toEqual(['/pages/p1/write']));
  await visit('/sign-in', screenOf(null));
  answer(screenOf('ines'));
  await slow;
  expect(kept()).toEqual([]);
});

test('at most 150 screens, the longest unvisited go first', async () => {
  for (let i = 0; i < 150; i++) await visit(`/machines/m${i}`);
  await visit('/machines/m0');
  await visit('/machines/new');
  expect(kept().length).toBe(150);
  expect(kept()).toContain('/machines/m0');
  expect(kept()).not.toContain('/machines/m1');
});

test('a copy says that it is one and keeps the policy that its nonce belongs to', async () => {
  await visit('/machines', screenOf('ines', 'a', { 'content-security-policy': "script-src 'nonce-abc'", 'content-encoding': 'gzip' }));
  const copy = await copyOf('/machines');
  if (!copy) throw new Error('no copy');
  const answer = await shown(copy);
  expect(answer.headers.get('content-security-policy')).toBe("script-src 'nonce-abc'");
  expect(answer.headers.get('content-encoding')).toBeNull();
  expect(await answer.text()).toMatch(/<body data-copy-of="2 November[^"]*\d\d:\d\d">/);
});

test('copies whose files this device has no longer go', async () => {
  const styled = (file: string) => screenOf('ines', `<link href="/_next/static/${file}"/>`);
  await (await caches.open('static b')).put('/_next/static/b.css', new Response());
  await visit('/machines', styled('a.css'));
  await visit('/parts', styled('b.css'));
  await letBareGo();
  expect(kept()).toEqual(['/parts']);
});

test('a picture is shown from this device; when the server has it no longer, every size of it goes', async () => {
  const [one, two] = ['a'.repeat(64), 'b'.repeat(64)];
  const file = (hash: string, rest: string) => new Request(`https://club.example/files/${hash}/${rest}`);
  const waits: Promise<unknown>[] = [];
  const ask = async (request: Request) => {
    const answer = await picture(request, (work) => void waits.push(work));
    await Promise.all(waits.splice(0));
    return answer.status;
  };
  const pictures = () => caches.paths('pictures');
  network = () => new Response('bytes');
  for (const request of [file(one, '320'), file(one, '800'), file(two, '320')]) expect(await ask(request)).toBe(200);
  network = () => Promise.reject(new TypeError('Failed to fetch'));
  expect(await ask(file(one, '320'))).toBe(200);
  expect(pictures()).toHaveLength(3); // without network nothing goes
  network = () => new Response('', { status: 410 });
  expect(await ask(file(one, '800?removed'))).toBe(410); // a screen that knows it was removed
  expect(pictures()).toEqual([`/files/${two}/320`]);
  network = () => new Response('', { status: 404 });
  expect(await ask(file(two, '320'))).toBe(200); // one that does not know yet shows it once more
  expect(pictures()).toEqual([]);
  network = () => new Response('', { status: 503 });
  expect(await ask(file(two, '320'))).toBe(503);
});
