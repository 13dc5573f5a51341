/** Folds by two servers at once, and folds of which a statement fails. */
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyLoaded } from '@/lib/live/loaded';
import { type Database, databaseOn } from '@/lib/store/database';
import { foldStep } from '@/lib/store/fold-page';
import { foldEntries } from '@/lib/store/fold-work';
import { listStretches, pageAt } from '@/lib/store/history';
import { pageLog } from '@/lib/store/log';
import { type TestDatabase, testDatabase } from './cluster';
import { makeMembers, makePage, reference, said, type Written, writeEntries } from './past';

let db: TestDatabase;
let page: string;
const pools: pg.Pool[] = [];
beforeEach(async () => {
  db = await testDatabase();
  await makeMembers(db.database, 'ines', 'tomas');
  page = await makePage(db.database);
});
afterEach(async () => {
  await Promise.all(pools.splice(0).map((pool) => pool.end()));
  await db.close();
});

/** A database as another server has it: over a pool of its own. */
function another(pool = new pg.Pool({ ...db.connection, max: 5 })): Database {
  pools.push(pool);
  return databaseOn(pool);
}
const append = (on: Database, part: Written[]) => pageLog(on).append(part.map((e) => ({ page, ...e })));
async function loaded() {
  const doc = new Y.Doc();
  applyLoaded(doc, await pageLog(db.database).load(page));
  return doc;
}
async function expectWhole(entries: Written[]) {
  const expected = reference(entries);
  expect(said(await loaded())).toEqual(expected.at(-1));
  const stretches = await listStretches(page);
  expect(stretches[0]?.number).toBe(entries.length);
  expect(stretches.map((s) => s.from)).toEqual([...stretches.slice(1).map((s) => s.number + 1), 1]);
  for (const { number } of stretches) expect(said((await pageAt(page, number))!.doc)).toEqual(expected[number]);
}

test('two servers fold and append the same page at once: nothing is lost, doubled or out of order', async () => {
  const servers = [another(), another()];
  const entries = writeEntries(['ines', 'tomas', null], 240, 21);
  const outcomes = { done: 0, nothing: 0, lost: 0 };
  let left = true;
  const folder = async (on: Database) => {
    do {
      outcomes[await foldStep(on, page, foldEntries)]++;
    } while (left);
  };
  const folding = servers.map(folder);
  for (let at = 0; at < entries.length; at += 3) await append(servers[(at / 3) % 2]!, entries.slice(at, at + 3));
  left = false;
  await Promise.all(folding);
  expect(outcomes.done).toBeGreaterThan(5);
  await expectWhole(entries);
});

test('of two servers that computed the same fold one wins, and the other changes nothing', async () => {
  const entries = writeEntries(['ines', 'tomas'], 30, 22);
  await append(db.database, entries);
  let computed = 0;
  let both = () => {};
  const meeting = new Promise<void>((resolve) => {
    both = resolve;
  });
  const outcomes = await Promise.all(
    [another(), another()].map((on) =>
      foldStep(on, page, async (work) => {
        if (++computed === 2) both();
        await meeting;
        return foldEntries(work);
      }),
    ),
  );
  expect(outcomes.sort()).toEqual(['done', 'lost']);
  await expectWhole(entries);
});

test('appends of two servers at once: numbers have no gap and follow the order of the commits', async () => {
  const servers = [another(), another()];
  const other = await makePage(db.database);
  const numbers: number[] = [];
  const heads: number[] = [];
  await Promise.all(
    servers.map(async (on, server) => {
      for (let n = 0; n < 60; n++) {
        const mine = await pageLog(on).append(
          // Both pages, in another order each time: two appends must not wait for each other.
          (n % 2 === server ? [page, other] : [other, page]).map((id) => ({ page: id, update: Uint8Array.of(server, n), member: null })),
        );
        numbers.push(mine[n % 2 === server ? 0 : 1]!);
        // What is committed is seen whole: a reader who knows a number finds all entries before it.
        const { tail, number } = await pageLog(on).load(page);
        expect(tail.length).toBe(number);
        heads.push(number);
      }
    }),
  );
  expect(numbers.sort((a, b) => a - b)).toEqual(Array.from({ length: 120 }, (_, n) => n + 1));
  const { tail } = await pageLog(db.database).load(page);
  for (const server of [0, 1])
    expect(tail.filter((u) => u[0] === server).map((u) => u[1])).toEqual(Array.from({ length: 60 }, (_, n) => n));
});

/** A pool that answers statement number `failAt` (and all later ones, where it is `forEver`) by breaking the connection. */
class FailingPool extends pg.Pool {
  statements = 0;
  failAt = Number.POSITIVE_INFINITY;
  forEver = false;
  constructor(connection: pg.PoolConfig) {
    super({ ...connection, max: 1 });
    this.on('error', () => {});
    this.on('connect', (client) => {
      const query = client.query.bind(client) as (...given: unknown[]) => unknown;
      const failing = (...given: unknown[]) => {
        this.statements++;
        const fails = this.forEver ? this.statements >= this.failAt : this.statements === this.failAt;
        return fails ? query('select pg_terminate_backend(pg_backend_pid())') : query(...given);
      };
      Object.assign(client, { query: failing });
    });
  }
}

describe.each([
  ['once', false],
  ['for ever', true],
])('a fold of which statement after statement fails, %s', (_, forEver) => {
  test('leaves the old or the new, and can be done again', async () => {
    const entries = writeEntries(['ines', 'tomas'], 24, 23);
    await append(db.database, entries.slice(0, 12));
    expect(await foldStep(db.database, page, foldEntries)).toBe('done');
    await append(db.database, entries.slice(12));
    const state = async () => (await db.database.$client.query(everything, [page])).rows;
    const old = await state();
    let failed = 0;
    for (let n = 1; ; n++) {
      const pool = new FailingPool(db.connection);
      pool.failAt = n;
      pool.forEver = forEver;
      const outcome = await foldStep(another(pool), page, foldEntries).catch(() => 'failed');
      if (outcome === 'failed') {
        failed++;
        expect(await state()).toEqual(old);
        await expectWhole(entries);
        continue;
      }
      expect(outcome).toBe('done');
      expect(pool.statements).toBe(n - 1); // all of them have been tried
      break;
    }
    expect(failed).toBeGreaterThan(10);
    expect(await state()).not.toEqual(old);
    await expectWhole(entries);
    expect(await foldStep(db.database, page, foldEntries)).toBe('nothing');
  });
});

const everything = `
  select 'base' as what, number, bytes from page_base where page = $1
  union all select 'stretch', number, bytes from page_stretch where page = $1
  union all select 'entry', number, bytes from page_update where page = $1 order by 1, 2`;
