import pg from 'pg';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { holdLock } from '@/lib/store/lock';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
});
afterEach(() => db.close());

const place = 'the data folder ./data';

test('the second holder is refused with a sentence, in under a second, and let in when the first is gone', async () => {
  const onLost = vi.fn();
  const release = await holdLock(db.connection, { place, onLost, pid: 4711 });
  const began = performance.now();
  await expect(holdLock(db.connection, { place, onLost, pid: 4712 })).rejects.toThrow(
    /^Another Fettlebook, process 4711(?: on 127\.0\.0\.1)?, is using the data folder \.\/data\. Stop that one first, or give this one a DATA_DIR of its own\.$/,
  );
  expect(performance.now() - began).toBeLessThan(1000);
  await release();
  await (await holdLock(db.connection, { place, onLost, pid: 4712 }))();
  expect(onLost).not.toHaveBeenCalled();
});

test('a holder that lets go within the moment of patience is waited for', async () => {
  const release = await holdLock(db.connection, { place, onLost: () => {} });
  const second = holdLock(db.connection, { place, onLost: () => {} });
  await release();
  await (await second)();
});

test('losing the connection is told once', async () => {
  const lost = new Promise<number>((resolve) => {
    let told = 0;
    void holdLock(db.connection, {
      place,
      pid: 4713,
      onLost: () => {
        told += 1;
        setImmediate(() => resolve(told));
      },
    }).then(async () => {
      const other = new pg.Client(db.connection);
      await other.connect();
      await other.query("select pg_terminate_backend(pid) from pg_stat_activity where application_name = 'fettlebook 4713'");
      await other.end();
    });
  });
  expect(await lost).toBe(1);
});

test('a database that is not there is said in words', async () => {
  const nowhere = { host: '127.0.0.1', port: 1, user: 'x', database: 'x' }; // port 1: nothing listens
  await expect(holdLock(nowhere, { place, onLost: () => {} })).rejects.toThrow(
    /The database can't be reached \(.*ECONNREFUSED.*\)\. Is it running/,
  );
});
