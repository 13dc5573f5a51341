/** The fault finder on an 8×8 matrix with pairs: one tick, one answer. In Node, and in Debian's chromium. */
import { readFileSync } from 'node:fs';
import { chromium } from '@playwright/test';
import { boardDesign, machine } from '@/lib/core/chart/schema';
import { catalogue, stockCount } from '@/lib/core/parts/schema';
import { bundle, callAlone } from './alone';
import type { timeRecompute } from './core-recompute';
import type { timeUpdates } from './core-updates';
import { figure, median } from './figure';

const content = (file: string): unknown => JSON.parse(readFileSync(new URL(`../../content/${file}`, import.meta.url), 'utf8'));
const rounds = 12;
const bar = 16; // ms, one frame

export async function benchDiagnosis() {
  const regatta = machine.parse(content('machines/lantern-regatta-3.json'));
  const design = boardDesign.parse(content('designs/sb-2.json'));
  const outfile = await bundle('core-updates');
  const node = callAlone<ReturnType<typeof timeUpdates>>(outfile, 'timeUpdates', [regatta, design, rounds]);
  figure('core', 'fault finder, one tick, median', median(node.times), 'ms', bar);
  figure('core', 'fault finder, first answer of a chart', node.first, 'ms');
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu'],
  });
  try {
    const page = await browser.newPage();
    await page.addScriptTag({ content: readFileSync(outfile, 'utf8').replace(/export \{[\s\S]*?\};\s*$/, ''), type: 'module' });
    await page.waitForFunction(() => 'timeUpdates' in globalThis);
    const there = await page.evaluate(
      ([m, d, n]) =>
        (globalThis as unknown as { timeUpdates: typeof timeUpdates }).timeUpdates(m as typeof regatta, d as typeof design, n as number),
      [regatta, design, rounds] as const,
    );
    figure('core', 'fault finder in the browser, one tick, median', median(there.times), 'ms', bar);
    figure('core', 'fault finder in the browser, first answer of a chart', there.first, 'ms');
  } finally {
    await browser.close();
  }
}

const pageBar = 100; // ms

export async function benchPageOfWidgets() {
  const regatta = machine.parse(content('machines/lantern-regatta-3.json'));
  const design = boardDesign.parse(content('designs/sb-2.json'));
  const parts = catalogue.parse(content('catalogue.json'));
  const stock = stockCount.parse(content('stock.json'));
  const outfile = await bundle('core-recompute');
  const { first, times } = callAlone<ReturnType<typeof timeRecompute>>(outfile, 'timeRecompute', [regatta, design, parts, stock, rounds]);
  figure('core', 'page of 200 widgets, one changed, computed again, median', median(times), 'ms', pageBar);
  figure('core', 'page of 200 widgets, computed the first time', first, 'ms');
}
