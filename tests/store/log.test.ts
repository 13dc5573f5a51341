import { afterEach, beforeEach, expect, test } from 'vitest';
import { newId } from '@/lib/notebook/ids';
import { pageLog } from '@/lib/store/log';
import { createPage, removePage } from '@/lib/store/pages';
import { page } from '@/lib/store/schema';
import { registerLogContract } from '../live/log-contract';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
});
afterEach(() => db.close());

const bytes = (n: number) => Uint8Array.of(n, n + 1, 0, 255);

test('a page begins with its first entry and loads in the order of appending', async () => {
  const page = await createPage({ machineId: null, member: null, on: '2025-11-08', update: bytes(1) });
  const other = await createPage({ machineId: null, member: null, update: bytes(9) });
  expect(page).toMatchObject({ title: 'Untitled', state: 'open', on: '2025-11-08', machineId: null });
  const log = pageLog(db.database);
  await log.append([
    { page: page.id, update: bytes(2), member: null },
    { page: other.id, update: bytes(8), member: null },
    { page: page.id, update: bytes(3), member: null },
  ]);
  await log.append([]);
  expect((await log.load(page.id)).tail.map((u) => [...u])).toEqual([1, 2, 3].map((n) => [...bytes(n)]));
  expect((await log.load(other.id)).tail.map((u) => [...u])).toEqual([9, 8].map((n) => [...bytes(n)]));
});

test('a log of a page that does not exist is refused, also when it was removed', async () => {
  const log = pageLog(db.database);
  await expect(log.load('nowhere')).rejects.toThrow('there is no page nowhere');
  await expect(log.append([{ page: 'nowhere', update: bytes(1), member: null }])).rejects.toThrow();
  const page = await createPage({ machineId: null, member: null, update: bytes(1) });
  expect(await removePage(page.id, null)).toBe(true);
  await expect(log.load(page.id)).rejects.toThrow('there is no page');
});

registerLogContract('PostgreSQL', async () => {
  const { database, close } = await testDatabase();
  const newPage = async () => {
    const id = newId();
    await database.insert(page).values({ id, day: '2025-11-08' });
    return id;
  };
  return { log: pageLog(database), newPage, member: null, close };
});

test('one append takes more entries than a statement takes parameters', async () => {
  const page = await createPage({ machineId: null, member: null, update: bytes(0) });
  const many = Array.from({ length: 70_000 }, (_, n) => ({ page: page.id, update: Uint8Array.of(n >> 16, n >> 8, n), member: null }));
  const log = pageLog(db.database);
  await log.append(many);
  const kept = (await log.load(page.id)).tail.slice(1);
  expect(kept.length).toBe(many.length);
  expect(kept.every((u, n) => u[0] === n >> 16 && u[1] === ((n >> 8) & 255) && u[2] === (n & 255))).toBe(true);
});
