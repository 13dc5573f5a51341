/** Script weight of reading and writing a page, time to start, memory. Measured in Debian's chromium against the production build. */
import { readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { chromium } from '@playwright/test';
import { buildWhenNeeded } from '../../scripts/build';
import { openPage, signIn, startWriting } from '../browser/fixtures';
import { newDataDir, startServer } from '../browser/server';
import { figure } from './figure';

const story = 'Spinner misses counts when warm';
const bare = 'Bench rules'; // no widget on it
const kB = 1000;
const seconds = (from: number) => (performance.now() - from) / 1000;

buildWhenNeeded();
const dataDir = newDataDir();
let began = performance.now();
let server = await startServer({ demo: true, dataDir });
figure('page', 'first start with the demo club', seconds(began), 's');
await server.stop();
began = performance.now();
server = await startServer({ demo: true, dataDir });
figure('page', 'start again', seconds(began), 's');

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
});
try {
  const page = await (await browser.newContext()).newPage();
  const scripts = new Map<string, number>();
  page.on('response', async (response) => {
    if (!/\.js(\?|$)/.test(response.url())) return;
    const body = await response.body().catch(() => null);
    if (body) scripts.set(response.url(), gzipSync(body, { level: 9 }).length);
  });
  const weight = () => [...scripts.values()].reduce((sum, n) => sum + n, 0) / kB;

  await signIn(page, server.url, 'ines');
  await openPage(page, server.url, story);
  scripts.clear();
  await page.reload({ waitUntil: 'networkidle' });
  const reading = weight();
  figure('page', 'scripts to read a page', reading, 'kB gzip', 110);
  const timing = await page.evaluate(
    () => performance.getEntriesByType('navigation')[0]?.toJSON() as { responseStart: number; domContentLoadedEventEnd: number },
  );
  figure('page', 'reading, first byte', timing.responseStart, 'ms', 800);

  await openPage(page, server.url, bare);
  scripts.clear();
  await startWriting(page);
  await page.waitForLoadState('networkidle');
  // Reading loads no framework at all here, so the two budgets (110 to read, 260 more to write) are held together.
  figure('page', 'scripts to write a page', weight(), 'kB gzip', 370);
  await openPage(page, server.url, story);
  await startWriting(page);
  await page.waitForLoadState('networkidle');
  figure('page', 'scripts to write a page with every kind of widget', weight(), 'kB gzip');
  const status = readFileSync(`/proc/${server.process.pid}/status`, 'utf8');
  figure('page', 'memory of the server, two pages opened', Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1024, 'MiB', 600);
} finally {
  await browser.close();
  await server.stop();
}
