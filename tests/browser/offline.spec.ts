/** Without network: what was opened opens, what is written is kept, says so, and arrives later. */
import type { Page } from '@playwright/test';
import { expect, openPage, saved, startWriting, test } from './fixtures';

const title = 'Bench rules';
const settled = async (page: Page) => {
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
};
const copies = (page: Page) =>
  page.evaluate(async () => (await (await caches.open('pages')).keys()).map((request) => new URL(request.url).pathname));
const kept = async (page: Page, path: string) => expect.poll(() => copies(page)).toContain(path);
/** Lets the page's own time pass, a few seconds at a time, until it is as expected. */
const passes = (page: Page, expected: () => Promise<void>) =>
  expect(async () => {
    await page.clock.runFor(5_000);
    await expected();
  }).toPass();

test('a page that was only read is written in the shed, kept through a reload, and sent from another page', async ({ as, server }) => {
  const ines = await as('ines');
  await ines.goto(`${server.url}/`);
  await settled(ines);
  await openPage(ines, server.url, title);
  const path = new URL(ines.url()).pathname;
  await kept(ines, `${path}/write`);

  await ines.context().setOffline(true);
  await ines.goto(`${server.url}${path}`);
  await expect(ines.getByRole('heading', { level: 1, name: title })).toBeVisible();
  await expect(ines.locator('body')).toHaveAttribute('data-copy-of', /\d\d:\d\d/);
  await startWriting(ines);
  await ines.locator('.ProseMirror').click();
  await ines.keyboard.press('Control+End');
  await ines.keyboard.type(' Written in the shed.');
  await expect(ines.locator('.saved')).toContainText('Offline: 21 changes kept on this device');
  await expect(ines.locator('.margin')).toContainText(/As of .*\d\d:\d\d; without network it is not looked up again\./);

  await ines.reload();
  await expect(ines.locator('.ProseMirror')).toContainText('Written in the shed.');
  await expect(ines.locator('.saved')).toContainText('Offline: 21 changes kept on this device');
  await ines.goto(`${server.url}/`);
  await expect(ines.getByText('1 page has changes that only this device has.')).toBeVisible();

  await ines.context().setOffline(false);
  await expect(ines.getByText('Everything that was written here without network has been sent.')).toBeVisible();
  const tomas = await as('tomas');
  await tomas.goto(`${server.url}${path}`);
  await expect(tomas.getByText('Written in the shed.')).toBeVisible();
});

test('what weak Wi-Fi did not let through is tried again by itself, and says meanwhile what to do', async ({ as, server }) => {
  const ines = await as('ines');
  await settled(ines);
  let weak = false;
  await ines.routeWebSocket('**/live/**', (line) => (weak ? line.close() : void line.connectToServer()));
  await openPage(ines, server.url, title);
  await startWriting(ines);
  await saved(ines);
  await ines.context().setOffline(true);
  weak = true; // before the window goes: one that goes is let onto the network for a moment
  await ines.locator('.ProseMirror').click();
  await ines.keyboard.press('Control+End');
  await ines.keyboard.type(' Weak.');
  await expect(ines.locator('.saved')).toContainText('Offline: 6 changes kept on this device');
  await ines.goto('about:blank');

  await ines.clock.install();
  await ines.context().setOffline(false);
  await ines.goto(`${server.url}/`);
  const line = ines.locator('.kept-line');
  await expect(line).toContainText('Sending.');
  const yet = '1 page has changes that only this device has. They could not be sent yet and will be tried again. To see why, open';
  await passes(ines, () => expect(line).toContainText(yet, { timeout: 100 }));
  await expect(line.getByRole('link', { name: title })).toBeVisible();
  weak = false;
  await passes(ines, () => expect(line).toHaveText('Everything that was written here without network has been sent.', { timeout: 100 }));
});

test('a screen that was never opened says what opens all the same', async ({ as, server }) => {
  const ines = await as('ines', { phone: true });
  await ines.goto(`${server.url}/`);
  await settled(ines);
  await ines.goto(`${server.url}/machines`);
  await kept(ines, '/machines');
  await ines.context().setOffline(true);
  await ines.goto(`${server.url}/search?q=never`);
  await expect(ines.getByRole('heading', { name: 'No network' })).toBeVisible();
  await ines.getByRole('link', { name: 'Machines' }).first().click();
  await expect(ines.locator('body')).toHaveAttribute('data-copy-of', /\d\d:\d\d/);
});

test('ticks made offline on two devices are both there afterwards', async ({ as, server }) => {
  const [ines, tomas] = [await as('ines'), await as('tomas')];
  let path = '';
  for (const page of [ines, tomas]) {
    await page.goto(`${server.url}/`);
    await settled(page);
    await openPage(page, server.url, title);
    path = new URL(page.url()).pathname;
    await startWriting(page);
    await saved(page);
  }
  for (const [page, words] of [
    [ines, 'From Ines. '],
    [tomas, 'From Tomas. '],
  ] as const) {
    await page.context().setOffline(true);
    await page.locator('.ProseMirror').click();
    await page.keyboard.press('Control+End');
    await page.keyboard.type(words);
    await expect(page.locator('.saved')).toContainText('kept on this device');
  }
  for (const page of [ines, tomas]) await page.context().setOffline(false);
  for (const page of [ines, tomas]) {
    await saved(page);
    await expect(page.locator('.ProseMirror')).toContainText('From Ines.');
    await expect(page.locator('.ProseMirror')).toContainText('From Tomas.');
  }
  await ines.goto(`${server.url}${path}`);
  await expect(ines.getByText('From Tomas.')).toBeVisible();
});

test('signing out leaves nothing of the member on the device', async ({ as, server }) => {
  const priya = await as('priya');
  await priya.goto(`${server.url}/`);
  await settled(priya);
  await openPage(priya, server.url, title);
  await kept(priya, new URL(priya.url()).pathname);
  await priya.goto(`${server.url}/club`);
  await priya.getByRole('button', { name: 'Sign out' }).click();
  await expect(priya.getByRole('button', { name: 'Sign in' })).toBeVisible();
  expect(await copies(priya)).toEqual([]);
  const databases = await priya.evaluate(async () => (await indexedDB.databases()).map((d) => d.name ?? ''));
  expect(databases.filter((name) => name.startsWith('fettlebook:'))).toEqual([]);
});

test('can be installed: manifest, icons and every file of the shell are there', async ({ page, server }) => {
  const manifest = await (await page.request.get(`${server.url}/manifest.webmanifest`)).json();
  expect(manifest).toMatchObject({ name: 'Fettlebook', start_url: '/', display: 'standalone' });
  for (const { src, sizes } of manifest.icons as { src: string; sizes: string }[]) {
    const answer = await page.request.get(`${server.url}${src}`);
    expect(answer.headers()['content-type']).toBe('image/png');
    const bytes = await answer.body();
    expect(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`).toBe(sizes); // PNG, IHDR: width and height
  }
  const worker = await (await page.request.get(`${server.url}/sw.js`)).text();
  const files = [
    ...new Set([...worker.matchAll(/"(\/(?:_next|offline|enhance|send|manifest|icons)[^"]*)"/g)].map((m) => m[1] ?? '')),
  ].filter((file) => !file.endsWith('/'));
  expect(files.length).toBeGreaterThan(20);
  for (const file of files) expect((await page.request.get(`${server.url}${file}`)).status(), file).toBe(200);
});
