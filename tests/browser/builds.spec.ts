/** Fettlebook is updated while windows are open: two builds in one browser, and changes that only the old window has. */
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test as base, expect, type Page } from '@playwright/test';
import { openPage, saved, signIn, startWriting } from './fixtures';
import { laterBuild } from './later-build';
import { newDataDir, startServer } from './server';

const title = 'How we crimp';
const sign = (page: Page) => page.locator('.saved');
const write = async (page: Page, words: string) => {
  await page.locator('.ProseMirror').click();
  await page.keyboard.press('Control+End');
  await page.keyboard.type(words);
};
/** On the reading page; a server that has just begun may be so slow that the device shows its copy first. */
const read = (page: Page, address: string) =>
  expect.poll(async () => {
    await page.goto(address);
    return page.locator('.prose').textContent();
  });
const controlled = (page: Page) => page.waitForFunction(() => navigator.serviceWorker.controller !== null);
const staticCaches = (page: Page) => page.evaluate(async () => (await caches.keys()).filter((name) => name.startsWith('static ')));

base('an old window and a new one side by side: nothing that either kept is lost', async ({ browser }) => {
  base.setTimeout(240_000);
  const dataDir = newDataDir();
  let server = await startServer({ demo: true, dataDir });
  const later = laterBuild();
  try {
    const context = await browser.newContext();
    const old = await context.newPage();
    await signIn(old, server.url, 'ines');
    await controlled(old);
    await openPage(old, server.url, title);
    const path = new URL(old.url()).pathname;
    await startWriting(old);
    await write(old, ' Saved before the update.');
    await saved(old);

    await server.stop();
    await expect(sign(old)).toContainText('Offline');
    await write(old, ' Kept while it was away.');
    await expect(sign(old)).toContainText('Offline: 24 changes kept on this device');

    server = await startServer({ demo: true, dataDir, port: server.port, build: later });
    await expect(sign(old)).toContainText('Fettlebook has been updated. Reload the page to go on.');
    await write(old, ' And after it.');

    // A new window brings the new worker, which takes the old window along, and sends what the old one kept. The server has just begun and
    // answers late: so the window shows its copy, and the sender that it has first is the old build's, which the server refuses.
    const fresh = await context.newPage();
    server.process.kill('SIGSTOP');
    const oldSender = fresh.waitForResponse((response) => new URL(response.url()).pathname === '/send.js');
    await fresh.goto(`${server.url}/`);
    await expect(fresh.locator('body')).toHaveAttribute('data-copy-of', /\d\d:\d\d/);
    await oldSender;
    server.process.kill('SIGCONT');
    await expect(fresh.getByText('Everything that was written here without network has been sent.')).toBeVisible();
    await expect.poll(() => staticCaches(fresh)).toHaveLength(2); // the old window may still ask for files of its own
    await read(fresh, `${server.url}${path}`).toContain('Saved before the update. Kept while it was away. And after it.');

    // What the old window has not loaded yet comes from the device; the server has it no longer.
    const file = await old.evaluate(() => document.querySelector<HTMLScriptElement>('script[src*="/_next/static/chunks/"]')?.src ?? '');
    expect((await old.request.get(file)).status()).toBe(404);
    expect(await old.evaluate(async (url) => (await fetch(url, { cache: 'no-store' })).status, file)).toBe(200);

    // The old window still works from what is on the device, and what it writes is listed again.
    await write(old, ' Written with the old build.');
    await fresh.goto(`${server.url}/`);
    await expect(fresh.getByText('Everything that was written here without network has been sent.')).toBeVisible();

    // Both write now.
    await read(fresh, `${server.url}${path}`).toContain('Written with the old build.');
    await startWriting(fresh);
    await saved(fresh);
    await write(old, ' Last words of the old.');
    await write(fresh, ' First words of the new.');
    await saved(fresh);
    await old.reload();
    await saved(old);
    const all = ['Saved before the update.', 'Kept while it was away.', 'And after it.', 'Written with the old build.'];
    for (const page of [old, fresh])
      for (const words of [...all, 'Last words of the old.', 'First words of the new.'])
        await expect(page.locator('.ProseMirror')).toContainText(words);

    const stranger = await (await browser.newContext()).newPage();
    await signIn(stranger, server.url, 'tomas');
    for (const words of [...all, 'Last words of the old.', 'First words of the new.'])
      await read(stranger, `${server.url}${path}`).toContain(words);

    // The club goes back to the build before: the newer window is sent away, and what it kept arrives with the older build.
    await server.stop();
    await write(fresh, ' Kept by the newer build.');
    await expect(sign(fresh)).toContainText('Offline: 25 changes kept on this device');
    server = await startServer({ demo: true, dataDir, port: server.port });
    await expect(sign(fresh)).toContainText('Fettlebook has been updated. Reload the page to go on.');
    await expect(async () => {
      await fresh.reload(); // again where the server was late, and the device showed its copy of the newer build's screen
      await expect(sign(fresh)).toContainText(/^(Saved \d\d:\d\d|All saved)$/, { timeout: 5_000 });
    }).toPass();
    await write(fresh, ' Gone back.');
    await saved(fresh);
    for (const words of [...all, 'Kept by the newer build. Gone back.']) await read(stranger, `${server.url}${path}`).toContain(words);

    // A build that changes the database can't be gone back from: the older one says so, and leaves no database running.
    await server.stop();
    writeFileSync(join(later, 'lib', 'store', 'migrations', '9999-later.sql'), 'select 1;');
    server = await startServer({ demo: true, dataDir, port: server.port, build: later });
    await server.stop();
    await expect(startServer({ demo: true, dataDir, port: server.port })).rejects.toThrow(
      'The database has the change 9999-later, which this version of Fettlebook does not know: it is newer. Install the version that made it, or restore the backup from before.',
    );
    expect(existsSync(join(dataDir, 'postgres', 'postmaster.pid'))).toBe(false);
  } finally {
    await server.stop();
  }
});
