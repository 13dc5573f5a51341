/**
 * Hostile frames: most at a server without a network, the rest through sockets at one in a process of its own, while somebody works on
 * that very page.
 *
 *   npm run soak -- frames [count] [seed]
 */

import { rmSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { livePath, schemaVersion } from '@/lib/live/protocol';
import { startPostgres } from '@/lib/store/postgres';
import { RawSocket, random } from '../live/helpers';
import { mutate, seedsOfFrames } from '../live/hostile-frames';
import { fuzz } from '../live/hostile-run';
import { makePages, readPages } from './log-check';
import { startNode } from './node';
import { openFolder } from './stage';
import { allSaved, comes, openWindow, sleep } from './window';

const framesOfPage = 20_000;
const socketsShare = 50; // one frame in so many goes through a socket
const mostGrowthMb = 40;
const graceMs = 2500; // a closed socket is held for two seconds, so that its other end may answer
const members = 8; // who takes turns: each has an allowance of frames

setFlagsFromString('--expose_gc');
const collect = runInNewContext('gc') as () => void;
function heapMb() {
  collect();
  return process.memoryUsage().heapUsed / 2 ** 20;
}

/** At a server without a network. */
async function onPaper(frames: number, seed: number): Promise<boolean> {
  await fuzz(seed, framesOfPage); // everything is compiled and warm
  await sleep(graceMs);
  const heapBefore = heapMb();
  const began = performance.now();
  let slowestMs = 0;
  let refused = 0;
  const faults: string[] = [];
  for (let done = 0; done < frames && faults.length === 0; done += framesOfPage) {
    const figures = await fuzz(seed + 1 + done / framesOfPage, Math.min(framesOfPage, frames - done));
    slowestMs = Math.max(slowestMs, figures.slowestMs);
    refused += figures.refused;
    faults.push(...figures.faults);
  }
  const perSecond = Math.round(frames / ((performance.now() - began) / 1000));
  await sleep(graceMs);
  const heapGrowthMb = Math.round((heapMb() - heapBefore) * 10) / 10;
  if (heapGrowthMb > mostGrowthMb) faults.push(`the heap grew by ${heapGrowthMb} MB`);
  console.log(JSON.stringify({ part: 'without a network', frames, refused, perSecond, slowestMs, heapGrowthMb, faults: faults.length }));
  for (const fault of faults) console.error(fault);
  return faults.length === 0;
}

/** Through sockets at a server in a process of its own. */
async function throughSockets(frames: number, seed: number): Promise<boolean> {
  const folder = openFolder();
  const { connection, stop } = await startPostgres(folder);
  const node = await startNode({ dataDir: folder });
  const faults: string[] = [];
  try {
    const names = Array.from({ length: members }, (_, i) => `hostile${i}`);
    await makePages(connection, ['page'], ['honest', ...names]);
    const window = openWindow(node.url, 'page', 'honest');
    const r = random(seed);
    const seeds = seedsOfFrames();
    const honest = window.doc.getMap<number>('widget:honest');
    if (!(await comes(() => allSaved(window), 10_000))) faults.push('the page did not open');
    const before = await node.counts();
    let lost = 0;
    window.provider.on('connection-close', () => {
      lost++;
    });
    const began = performance.now();
    let sent = 0;
    let slowestSaveMs = 0;
    for (let turn = 0; sent < frames && node.running() && faults.length === 0; turn++) {
      const raw = new RawSocket(`${node.url}${livePath}page?schema=${schemaVersion}`, { cookie: `member=${r.pick(names)}` });
      if (!(await comes(() => raw.received.length > 0 || raw.closed !== null || raw.refused !== null, 10_000))) {
        faults.push('the server does not answer at the door');
      }
      for (let n = 0; n < 40 && raw.open && sent < frames; n++, sent++) raw.send(mutate(r, seeds));
      if (turn % 20 === 0) {
        const asked = performance.now();
        honest.set(String(turn), sent);
        if (!(await comes(() => allSaved(window), 10_000))) faults.push('an honest change was not saved in 10 s');
        slowestSaveMs = Math.max(slowestSaveMs, performance.now() - asked);
      }
      raw.socket.terminate();
    }
    const perSecond = Math.round(sent / ((performance.now() - began) / 1000));
    if (!node.running()) faults.push(`the server ended:\n${node.output().slice(-3000)}`);
    else {
      const after = await node.counts();
      const heapGrowthMb = Math.round((after.heapBytes - before.heapBytes) / 2 ** 20);
      if (heapGrowthMb > 2 * mostGrowthMb) faults.push(`the server’s heap grew by ${heapGrowthMb} MB`);
      if (lost) faults.push(`the honest window lost its socket ${lost} times`);
      const { doc, faults: gaps } = (await readPages(connection, ['page'])).get('page')!;
      faults.push(...gaps);
      if (!isDeepStrictEqual(doc.getMap('widget:honest').toJSON(), honest.toJSON())) faults.push('honest work is lost');
      console.log(
        JSON.stringify({
          part: 'through sockets',
          frames: sent,
          perSecond,
          slowestSaveMs: Math.round(slowestSaveMs),
          heapGrowthMb,
          rssMb: Math.round(after.rssBytes / 2 ** 20),
          faults: faults.length,
        }),
      );
    }
    window.close();
  } finally {
    await node.stop();
    await stop();
    rmSync(folder, { recursive: true, force: true });
  }
  for (const fault of faults) console.error(fault);
  return faults.length === 0;
}

export async function main([count = '1000000', seed = '1']: string[]): Promise<boolean> {
  const viaSockets = Math.ceil(Number(count) / socketsShare);
  const paper = await onPaper(Number(count) - viaSockets, Number(seed));
  return (await throughSockets(viaSockets, Number(seed))) && paper;
}
