/** A browser that is killed while its member writes without network, as phones do it. */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { chromium, type LaunchOptions } from '@playwright/test';
import { expect, openPage, saved, signIn, startWriting, test } from './fixtures';

/** Starts a browser on a profile that lasts, so that it can be killed and started again. */
async function startBrowser(profile: string, { executablePath = '', args = [] }: LaunchOptions) {
  const child = spawn(executablePath, ['--headless', '--remote-debugging-port=0', `--user-data-dir=${profile}`, ...args], {
    stdio: ['ignore', 'ignore', 'pipe'],
    detached: true, // a group of its own, with all the browser's processes
  });
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  let address = '';
  for await (const line of createInterface({ input: child.stderr })) {
    address = line.match(/^DevTools listening on (ws:\S+)$/)?.[1] ?? '';
    if (address) break;
  }
  const browser = await chromium.connectOverCDP(address);
  const context = browser.contexts()[0];
  if (!context || !child.pid) throw new Error('the browser did not start');
  const group = -child.pid;
  return {
    page: await context.newPage(),
    async kill() {
      if (child.exitCode === null && child.signalCode === null) process.kill(group, 'SIGKILL');
      await gone;
    },
  };
}

test('a browser that is killed has every change that it called kept, and sends it for its member', async ({ server, launchOptions }) => {
  const profile = mkdtempSync(join(tmpdir(), 'fettlebook-profile-'));
  let device = await startBrowser(profile, launchOptions);
  try {
    await signIn(device.page, server.url, 'tomas');
    await openPage(device.page, server.url, 'Bench rules');
    const path = new URL(device.page.url()).pathname;
    await startWriting(device.page);
    await saved(device.page);
    await device.page.context().setOffline(true);
    await device.page.locator('.ProseMirror').click();
    await device.page.keyboard.press('Control+End');
    await device.page.keyboard.type(' Before the kill.');
    await expect(device.page.locator('.saved')).toContainText('Offline: 17 changes kept on this device');
    await device.kill();

    device = await startBrowser(profile, launchOptions);
    // The session may be gone with the browser; the sign-in screen lets go of what was sent, and of that alone.
    await signIn(device.page, server.url, 'ines');
    await signIn(device.page, server.url, 'tomas');
    await expect(device.page.getByText('Everything that was written here without network has been sent.')).toBeVisible();
    await device.page.goto(`${server.url}${path}`);
    await expect(device.page.getByText('Before the kill.')).toBeVisible();
  } finally {
    await device.kill();
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 }); // its processes may write for a moment yet
  }
});
