/** The fault finder on an 8×8 matrix with pairs: one tick, one answer. In Node, and in Debian's chromium. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from '@playwright/test';
import { build } from 'esbuild';
import { boardDesign, machine } from '@/lib/core/chart/schema';
import type { timeUpdates } from './core-updates';
import { figure, median } from './figure';

const content = (file: string): unknown => JSON.parse(readFileSync(new URL(`../../content/${file}`, import.meta.url), 'utf8'));
const rounds = 12;
const bar = 16; // ms, one frame

export async function benchDiagnosis() {
  const regatta = machine.parse(content('machines/lantern-regatta-3.json'));
  const design = boardDesign.parse(content('designs/sb-2.json'));
  const outfile = join(mkdtempSync(join(tmpdir(), 'bench-')), 'updates.mjs');
  // Bundled as a browser gets it: the loader of scripts adds a cost to every closure.
  await build({
    entryPoints: [join(import.meta.dirname, 'core-updates.ts')],
    bundle: true,
    format: 'esm',
    outfile,
    tsconfig: join(import.meta.dirname, '../../tsconfig.json'),
  });
  // In a process of its own: the loader that runs this file would slow every closure.
  const code = `await import(${JSON.stringify(outfile)}); console.log(JSON.stringify(timeUpdates(...JSON.parse(process.argv[1]))));`;
  const args = ['--input-type=module', '-e', code, JSON.stringify([regatta, design, rounds])];
  const node = JSON.parse(execFileSync(process.execPath, args, { encoding: 'utf8' })) as ReturnType<typeof timeUpdates>;
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
