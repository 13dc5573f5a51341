/** From the first keystroke in the search box of the demo club to results on the screen, in Debian's chromium. */
import { chromium } from '@playwright/test';
import { buildWhenNeeded } from '../../scripts/build';
import { signIn } from '../browser/fixtures';
import { newDataDir, startServer } from '../browser/server';
import { figure, median } from './figure';

const questions = ['spinner', 'grey-orange', 'trough', 'outlane dead', 'weak', 'A3J4-7', 'sw 46', 'flickers', 'row', 'hot'];
const patience = 3000; // ms that the screen is given to answer while one types; one that waits for Enter is asked that way

/** Types the first letter and waits for a result; a screen that answers only to Enter is measured from Enter, and said to be so. */
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
    const result = page.locator('main article.result, main .clue-answer').first();
    const open = () => page.goto(`${server.url}/search`, { waitUntil: 'networkidle' });

    await open();
    await page.locator('#fixes').pressSequentially('sp');
    const typing = await result.waitFor({ timeout: patience }).then(
      () => true,
      () => false,
    );
    figure('search', 'results come while one types (1: yes, 0: after Enter only)', typing ? 1 : 0, 'yes', 1, 'at least');
    const times: number[] = [];
    for (const question of questions) {
      await open();
      const box = page.locator('#fixes');
      if (!typing) await box.fill(question);
      const began = performance.now();
      if (typing) await box.pressSequentially(question.slice(0, 2));
      else await box.press('Enter');
      await result.waitFor();
      times.push(performance.now() - began);
    }
    times.sort((a, b) => a - b);
    const from = typing ? 'first keystroke' : 'Enter';
    figure('search', `${from} to results in the browser, middle`, median(times), 'ms', 150);
    figure('search', `${from} to results in the browser, longest of ${times.length}`, times.at(-1) ?? Number.NaN, 'ms');
  } finally {
    await browser.close();
    await server.stop();
  }
}
