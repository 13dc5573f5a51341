import { sql } from 'drizzle-orm';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { Live } from '@/lib/live/server';
import { newPageDoc } from '@/lib/notebook/content';
import { startIndexer } from '@/lib/search/indexer';
import { setSetting } from '@/lib/store/club';
import { databaseTime, writeIndex } from '@/lib/store/facts';
import { createPage, getPage } from '@/lib/store/pages';
import { type TestDatabase, testDatabase } from '../store/cluster';
import { contentFrom, openHouse } from './club';

let db: TestDatabase;
let house: Live;
let indexer: ReturnType<typeof startIndexer>;
beforeEach(async () => {
  db = await testDatabase();
  house = openHouse(db.database);
  indexer = startIndexer();
});
afterEach(async () => {
  await indexer.close();
  await house.close();
  await db.close();
});

const newPage = async (title: string) =>
  (await createPage({ machineId: null, member: null, update: newPageDoc(contentFrom(`# ${title}\n\nWords.\n`)) })).id;
const indexedAt = async (page: string) =>
  (await db.database.execute<{ at: string }>(sql`select indexed_at::text as at from page_index where page = ${page}`)).rows[0]?.at;
/** Puts a page's last change and its index so many seconds into the past. */
const age = (page: string, changed: number, indexed: number) =>
  db.database.execute(sql`with p as (update page set changed_at = now() - make_interval(secs => ${changed}) where id = ${page})
    update page_index set indexed_at = now() - make_interval(secs => ${indexed}) where page = ${page}`);
const empty = { title: 'As it was', body: '', state: 'open' as const, record: {}, facts: [], machine: null, design: null };

test('a page that a server committed and did not live to index is indexed by another', async () => {
  const page = await newPage('Spinner dead');
  await indexer.catchUp();
  expect((await getPage(page))?.title).toBe('Spinner dead');
  await writeIndex(page, empty);
  await age(page, 100, 101); // changed after it was indexed
  await indexer.catchUp();
  expect((await getPage(page))?.title).toBe('Spinner dead');
  await age(page, 100, 80); // indexed well after its last change: left alone
  const at = await indexedAt(page);
  await indexer.catchUp();
  expect(await indexedAt(page)).toBe(at);
  await age(page, 100, 95); // so soon after it that the change may not have been seen
  await indexer.catchUp();
  expect(await indexedAt(page)).not.toBe(at);
});

test('one server at a time catches up; the others leave it to that one', async () => {
  const page = await newPage('Spinner dead');
  await db.database.transaction(async (tx) => {
    await tx.execute(sql`select pg_advisory_xact_lock(7305003)`);
    await indexer.catchUp();
    expect(await indexedAt(page)).toBeUndefined();
  });
  const other = startIndexer();
  await Promise.all([indexer.catchUp(), other.catchUp()]);
  await other.close();
  expect((await getPage(page))?.title).toBe('Spinner dead');
});

test('an index made by other rules is made again', async () => {
  const page = await newPage('Spinner dead');
  await indexer.catchUp();
  await writeIndex(page, empty);
  await age(page, 100, 50);
  await setSetting('index.version', 'another');
  await indexer.catchUp();
  expect((await getPage(page))?.title).toBe('Spinner dead');
});

test('a page that cannot be indexed is reported once and holds up no other', async () => {
  const report = vi.spyOn(console, 'error').mockImplementation(() => {});
  const [bad, good] = [await newPage('Bad'), await newPage('Good')];
  await db.database.execute(sql`update page_update set bytes = '\\x0909' where page = ${bad}`);
  await indexer.catchUp();
  await indexer.catchUp();
  expect((await getPage(good))?.title).toBe('Good');
  expect(report.mock.calls.map(([text]) => text)).toEqual([expect.stringContaining(`Page ${bad} could not be indexed`)]);
  report.mockRestore();
});

test('what was read later stays, in whatever order two servers write', async () => {
  const page = await newPage('Spinner dead');
  const [early, late] = [await databaseTime(), await databaseTime()];
  await writeIndex(page, { ...empty, title: 'Late' }, late);
  await writeIndex(page, { ...empty, title: 'Early' }, early);
  expect((await getPage(page))?.title).toBe('Late');
});
