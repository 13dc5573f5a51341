/**
 * From the first keystroke in the search box of the demo club to results on the screen, in Debian's chromium: by the page's own clock, from
 * the moment the key goes down to the frame after the one that has the results. What drives the browser is not counted.
 */
import { chromium, type Page } from '@playwright/test';
import { buildWhenNeeded } from '../../scripts/build';
import { signIn } from '../browser/fixtures';
import { newDataDir, startServer } from '../browser/server';
import { figure, median } from './figure';

const questions = ['spinner', 'grey-orange', 'trough', 'outlane dead', 'weak', 'A3J4-7', 'sw 46', 'flickers', 'row', 'hot'];
const typed = 2; // letters, from which on the screen answers

/** Has the page note when the first key went down, and when a frame with results was shown. In words of the page: as text. */
const watch = `
  globalThis.noted = {};
  addEventListener('keydown', () => (noted.from ??= performance.now()), true);
  (function look() {
    if (!document.querySelector('main article.result, main .clue-answer')) return requestAnimationFrame(look);
    requestAnimationFrame(() => (noted.to = performance.now()));
  })();`;

async function tookMs(page: Page): Promise<number> {
  const took = await page.waitForFunction(() => {
    const { from, to } = (globalThis as unknown as { noted: { from: number; to?: number } }).noted;
    return to && to - from;
  });
  return Number(await took.jsonValue());
}

export async function benchBrowser() {
  buildWhenNeeded();
  const server = await startServer({ demo: true, dataDir: newDataDir() });
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
  });
  try {
    const page = await (await browser.newContext()).newPage();
    await signIn(page, server.url, 'ines');
    const times: number[] = [];
    for (const question of [questions[0] ?? '', ...questions]) {
      await page.goto(`${server.url}/search`, { waitUntil: 'networkidle' });
      await page.evaluate(watch);
      await page.locator('#fixes').pressSequentially(question.slice(0, typed));
      times.push(await tookMs(page));
    }
    times.shift(); // the first search reads the notebook
    times.sort((a, b) => a - b);
    figure('search', 'first keystroke to results in the browser, middle', median(times), 'ms', 150);
    figure('search', `first keystroke to results in the browser, longest of ${times.length}`, times.at(-1) ?? Number.NaN, 'ms', 150);
  } finally {
    await browser.close();
    await server.stop();
  }
}
