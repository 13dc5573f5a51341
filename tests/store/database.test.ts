import { sql } from 'drizzle-orm';
import pg from 'pg';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { closeDatabase, databaseOn, openDatabase } from '@/lib/store/database';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
});
afterEach(() => db.close());

test('connections that break at the begin of transactions are given back: the pool does not run dry', async () => {
  const pool = new pg.Pool({ ...db.connection, max: 2 });
  const on = databaseOn(pool);
  let cut = true;
  pool.on('acquire', (client) => {
    if (cut) (client as pg.PoolClient & { end(): Promise<void> }).end().catch(() => {});
  });
  for (let n = 0; n < 5; n++) await expect(on.transaction(async () => 'never')).rejects.toThrow();
  cut = false;
  expect(await on.transaction(async (tx) => (await tx.execute(sql`select 1 as one`)).rows)).toEqual([{ one: 1 }]);
  expect(pool.totalCount).toBeLessThanOrEqual(2);
  await pool.end();
});

test('a connection that is cut in the middle of a transaction rejects that one, and the next goes through', async () => {
  const cut = db.database.transaction(async (tx) => {
    await tx.execute(sql`insert into setting (key, value) values ('half', 'done')`);
    const { rows } = await tx.execute<{ pid: number }>(sql`select pg_backend_pid() as pid`);
    await db.database.execute(sql`select pg_terminate_backend(${rows[0]?.pid})`);
    await tx.execute(sql`select 1`);
  });
  await expect(cut).rejects.toThrow();
  const kept = await db.database.transaction((tx) => tx.execute(sql`select key from setting`));
  expect(kept.rows).toEqual([]);
});

test('transactions take the isolation that is asked for, nest, and take back what fails', async () => {
  const level = await db.database.transaction((tx) => tx.execute(sql`show transaction_isolation`), { isolationLevel: 'repeatable read' });
  expect(level.rows).toEqual([{ transaction_isolation: 'repeatable read' }]);
  await db.database.transaction(async (tx) => {
    await tx.execute(sql`insert into setting (key, value) values ('outer', '1')`);
    const inner = tx.transaction(async (deeper) => {
      await deeper.execute(sql`insert into setting (key, value) values ('inner', '1')`);
      throw new Error('no');
    });
    await expect(inner).rejects.toThrow('no');
  });
  expect((await db.database.execute(sql`select key from setting`)).rows).toEqual([{ key: 'outer' }]);
});

test('a database that is not there is said in words', async () => {
  await closeDatabase();
  await expect(openDatabase({ host: '127.0.0.1', port: 1, user: 'x', database: 'x' })).rejects.toThrow(
    /The database can't be reached \(.*ECONNREFUSED.*\)\. Is it running, and is DATABASE_URL right\?/,
  );
});
