/** A disk without room, and one that takes no writing: the truth is told, nothing acknowledged is lost, and all goes on when there is room. */

import { spawnSync } from 'node:child_process';
import { afterEach, expect, it, vi } from 'vitest';
import type { LivePage } from '@/lib/live/client';
import { startPostgres } from '@/lib/store/postgres';
import { random, until } from '../live/helpers';
import { type Disk, limitedFiles, smallDisk } from './disks';
import { Hand } from './hand';
import { makePages, readPages } from './log-check';
import { type SoakNode, startNode } from './node';
import { Marks, marksIn } from './tokens';
import { allSaved, openWindow } from './window';

vi.setConfig({ testTimeout: 60_000 });

const page = 'page';
/** Where no disk can be mounted the limit on files has to do. */
const disks: [name: string, make: () => Disk][] = [['a limit on files', limitedFiles]];
const probe = smallDisk();
probe?.close();
if (probe) disks.push(['a full disk', () => smallDisk() ?? limitedFiles()]);
let node: SoakNode | null = null;
let disk: Disk | null = null;
let window: LivePage | null = null;
afterEach(async () => {
  window?.close();
  disk?.free();
  await node?.stop();
  if (disk) await (await startPostgres(disk.folder)).stop(); // where the server was not stopped in good order
  disk?.close();
  node = disk = window = null;
});

/** A server with the built-in database on that disk, and somebody who writes on a page. */
async function open(make: () => Disk) {
  disk = make();
  node = await startNode({ dataDir: disk.folder });
  const { connection } = await startPostgres(disk.folder); // adopts what runs: only to learn how to reach it
  await makePages(connection, [page], ['ada']);
  await disk.prepare(connection);
  const marks = new Marks();
  const opened = openWindow(node.url, page, 'ada');
  window = opened;
  const r = random(5);
  const hand = new Hand('ada', opened, marks, r, () => {});
  hand.write();
  await until('saved', () => allSaved(opened));
  return {
    disk,
    connection,
    marks,
    window: opened,
    hand,
    /** 100 kB that cannot be packed. */
    bulk: (key: string) =>
      opened.doc.getMap('bulk').set(
        key,
        Uint8Array.from({ length: 100_000 }, () => r.below(256)),
      ),
    async faults() {
      const { doc, faults } = (await readPages(connection, [page])).get(page)!;
      return [...faults, ...marks.faults(marksIn(doc))];
    },
  };
}

it.each(disks)('%s: tables can not grow; the writer is told "saving", and "saved" as soon as there is room', async (_name, make) => {
  const { disk, connection, marks, window, hand, bulk, faults } = await open(make);
  await disk.fillTables(connection);
  for (let n = 0; !node!.output().includes('did not take changes'); n++) {
    expect(n).toBeLessThan(200);
    hand.write();
    bulk(String(n % 3));
    await until('saved or refused', () => allSaved(window) || node!.output().includes('did not take changes'));
  }
  const waits = hand.write();
  expect(window.saved.getSnapshot()).toMatchObject({ state: 'saving' });
  expect(window.saved.getSnapshot().kept).toBeGreaterThan(0);
  expect(node!.output()).toMatch(/No space left on device|File too large/);
  expect(node!.running()).toBe(true);
  expect(marks.fates.get(waits)).toBe('written');
  expect(await faults()).toEqual([]);
  disk.free();
  await until('saved', () => allSaved(window), 20_000);
  expect(marks.fates.get(waits)).toBe('saved');
  expect(await faults()).toEqual([]);
});

it.each(disks)(
  '%s: the database’s own log can not be written; server and database stop, and go on when there is room',
  async (_name, make) => {
    const { disk, connection, marks, window, hand, faults } = await open(make);
    await disk.fillLog(connection);
    const waits = hand.write();
    await until('the server has stopped', () => !node!.running(), 30_000);
    await until('offline', () => window.saved.getSnapshot().state === 'offline');
    expect(window.saved.getSnapshot().kept).toBe(1);
    expect(marks.fates.get(waits)).toBe('written');
    if (disk.name === 'a full disk') await expect(startNode({ dataDir: disk.folder })).rejects.toThrow(/No space left on device/);
    disk.free();
    const { port } = node!;
    node = await startNode({ dataDir: disk.folder, port });
    await until('saved', () => allSaved(window), 20_000);
    expect(marks.fates.get(waits)).toBe('saved');
    expect(await faults()).toEqual([]);
  },
);

it('a disk that takes no writing: the start says so and what to do, and the data is there when it is mounted for writing again', async () => {
  // Where nothing may be mounted: a file system of the kernel in which nobody makes folders.
  const shut = smallDisk();
  if (!shut) return expect(startPostgres('/sys/fettlebook')).rejects.toThrow(/^The data folder \/sys\/fettlebook can't be written: /);
  try {
    await (await startPostgres(shut.folder)).stop();
    expect(spawnSync('mount', ['-o', 'remount,ro', shut.folder]).status).toBe(0);
    await expect(startPostgres(shut.folder)).rejects.toThrow(
      `The data folder ${shut.folder} can't be written: its disk takes no writing. Mount it for writing, or name another folder in DATA_DIR.`,
    );
    expect(spawnSync('mount', ['-o', 'remount,rw', shut.folder]).status).toBe(0);
    await (await startPostgres(shut.folder)).stop();
  } finally {
    shut.close();
  }
});
