import { sql } from 'drizzle-orm';
import fc from 'fast-check';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { forgetAttempts, giveBackAttempt, takeAttempt } from '@/lib/store/attempts';
import { attempt } from '@/lib/store/schema';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
});
afterEach(() => db?.close());

const minute = 60_000;
/** Time goes by: all that was taken is so much older. */
const pass = (ms: number) =>
  db.database.execute(
    sql`update attempt set taken = array(select t - ${ms} * interval '1 millisecond' from unnest(taken) with ordinality u (t, n) order by n)`,
  );
const keys = async () => (await db.database.select().from(attempt).orderBy(attempt.key)).map((row) => row.key);
const takeAll = async (key: string, times: number, limit: number) => {
  const taken: boolean[] = [];
  for (let i = 0; i < times; i++) taken.push(await takeAttempt(key, limit));
  return taken;
};

describe('attempts', () => {
  test('so many a minute for each key, and more when the minute is over', async () => {
    expect(await takeAll('ines', 4, 3)).toEqual([true, true, true, false]);
    expect(await takeAttempt('tomas', 3)).toBe(true);
    await pass(minute / 2);
    expect(await takeAttempt('ines', 3)).toBe(false);
    await pass(minute / 2);
    expect(await takeAttempt('ines', 3)).toBe(true);
  });

  test('of many at once only so many pass, through however many connections', async () => {
    const all = await Promise.all(Array.from({ length: 40 }, () => takeAttempt('ines', 5)));
    expect(all.filter(Boolean)).toHaveLength(5);
  });

  test('a right one is given back, and giving back what was never taken changes nothing', async () => {
    for (let i = 0; i < 5; i++) {
      expect(await takeAttempt('ines', 1)).toBe(true);
      await giveBackAttempt('ines');
    }
    await giveBackAttempt('ines');
    await giveBackAttempt('nobody');
    await forgetAttempts();
    expect(await keys()).toEqual([]);
  });

  test('forgets keys whose minute is over, and no others', async () => {
    await takeAttempt('old', 2);
    await takeAttempt('again', 2);
    await pass(minute);
    await takeAttempt('again', 2);
    await takeAttempt('new', 2);
    await forgetAttempts();
    expect(await keys()).toEqual(['again', 'new']);
  });

  test('holds no more than so many keys: the oldest go', async () => {
    for (const key of ['a', 'b', 'c', 'd', 'e']) await takeAttempt(key, 2);
    await takeAttempt('a', 2);
    await forgetAttempts(3);
    expect(await keys()).toEqual(['a', 'd', 'e']);
  });

  test('a key that another server is at just now is left for the next time, without waiting', async () => {
    await takeAll('busy', 1, 2);
    await takeAll('idle', 1, 2);
    await pass(minute);
    const other = new pg.Client(db.connection);
    await other.connect();
    await other.query('begin');
    await other.query("select from attempt where key = 'busy' for update");
    await forgetAttempts();
    expect(await keys()).toEqual(['busy']);
    await other.query('rollback');
    await other.end();
    await forgetAttempts();
    expect(await keys()).toEqual([]);
  });

  test('never more than the limit within any minute, whatever comes', async () => {
    const step = fc.record({ wait: fc.integer({ min: 0, max: 3 }).map((n) => n * 10_000), key: fc.constantFrom('a', 'b') });
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 4 }), fc.array(step, { maxLength: 25 }), async (limit, steps) => {
        await db.database.delete(attempt);
        let now = 0;
        const passed: { key: string; at: number }[] = [];
        for (const { wait, key } of steps) {
          now += wait;
          await pass(wait);
          const before = passed.filter((p) => p.key === key && p.at > now - minute).length;
          const took = await takeAttempt(key, limit);
          expect(took).toBe(before < limit);
          if (took) passed.push({ key, at: now });
        }
      }),
      { numRuns: 15 },
    );
  });
});
