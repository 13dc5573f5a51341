/** What was shown as saved is there after the server was killed; a second server on the same data folder refuses. */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { test as base, expect } from '@playwright/test';
import { openPage, saved, signIn, startWriting } from './fixtures';
import { freePort, newDataDir, spawnServer, startServer } from './server';

base('kill -9 after "saved" loses nothing, and a second server refuses', async ({ browser }) => {
  base.setTimeout(300_000);
  const dataDir = newDataDir();
  let server = await startServer({ demo: true, dataDir });
  try {
    const page = await (await browser.newContext()).newPage();
    await signIn(page, server.url, 'ines');
    await openPage(page, server.url, 'How we crimp');
    await startWriting(page);
    for (let round = 1; round <= 3; round += 1) {
      await page.locator('.ProseMirror > p').last().click();
      await page.keyboard.press('End');
      await page.keyboard.type(` kept in round ${round}`);
      await saved(page);
      await server.kill();
      await expect(page.locator('.saved')).toContainText('Offline');
      server = await startServer({ demo: true, dataDir, port: server.port });
      const fresh = await (await browser.newContext()).newPage();
      await signIn(fresh, server.url, 'tomas');
      await openPage(fresh, server.url, 'How we crimp');
      await expect(fresh.locator('.prose')).toContainText(`kept in round ${round}`);
      await fresh.context().close();
      await saved(page); // the open page comes back by itself
    }

    const second = spawnSync(process.execPath, ['--import', 'tsx', 'scripts/start.ts', '--built', '--demo'], {
      cwd: join(import.meta.dirname, '..', '..'),
      env: {
        ...process.env,
        NODE_ENV: 'production',
        PORT: String(await freePort()),
        HOST: '127.0.0.1',
        DATA_DIR: dataDir,
        DATABASE_URL: '',
      },
      encoding: 'utf8',
      timeout: 30_000,
    });
    expect(second.status).toBe(1);
    expect(second.stderr).toMatch(new RegExp(`process ${server.process.pid}`));
    expect(second.stderr).toMatch(/data folder/);
  } finally {
    await server.stop();
  }
});

base('a server whose log nobody reads answers, and stops when it is told', async () => {
  const { child, url } = await spawnServer();
  const ended = new Promise((resolve) => child.once('exit', resolve));
  try {
    child.stdout.destroy(); // as where the reader of a pipe has ended: what it says at its start fails already
    child.stderr.destroy();
    await expect
      .poll(
        () =>
          fetch(url).then(
            ({ ok }) => ok,
            () => false,
          ),
        { timeout: 60_000 },
      )
      .toBe(true);
    child.kill('SIGTERM');
    expect(await ended).toBe(0);
  } finally {
    child.kill('SIGKILL');
  }
});
