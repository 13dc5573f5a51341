import { afterEach, beforeEach, expect, test } from 'vitest';
import { pageLog } from '@/lib/store/log';
import { createPage, removePage } from '@/lib/store/pages';
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
  expect((await log.load(page.id)).map((u) => [...u])).toEqual([1, 2, 3].map((n) => [...bytes(n)]));
  expect((await log.load(other.id)).map((u) => [...u])).toEqual([9, 8].map((n) => [...bytes(n)]));
});

test('a log of a page that does not exist is refused, also when it was removed', async () => {
  const log = pageLog(db.database);
  await expect(log.load('nowhere')).rejects.toThrow('there is no page nowhere');
  await expect(log.append([{ page: 'nowhere', update: bytes(1), member: null }])).rejects.toThrow();
  const page = await createPage({ machineId: null, member: null, update: bytes(1) });
  expect(await removePage(page.id, null)).toBe(true);
  await expect(log.load(page.id)).rejects.toThrow('there is no page');
});
