/** The stock ledger on a real PostgreSQL: sums, two people at the last bag, stale screens, counter-entries, and the stock of earlier versions. */
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { migrate, ownMigrations } from '@/lib/store/migrate';
import { createPage, removePage } from '@/lib/store/pages';
import { stock } from '@/lib/store/parts';
import { user } from '@/lib/store/schema';
import { balances, holdersOf, ledger, lows, reservedFor, setLow, sourcesOf, takeBack, writeEntry, writeForJob } from '@/lib/store/stock';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
  for (const id of ['ines', 'tomas'])
    await db.database.insert(user).values({ id, name: id === 'ines' ? 'Ines' : 'Tomas', email: `${id}@club.example`, role: 'editor' });
});
afterEach(() => db.close());

const by = (member: string, more: object = {}) => ({ part: 'T-1', member, ...more });
const page = async () => (await createPage({ machineId: null, member: null, update: Uint8Array.of(0, 0) })).id;
const received = (pieces: number, more: object = {}) => writeEntry({ kind: 'received', pieces }, by('ines', more));
const now = async (part = 'T-1') => {
  const held = (await balances())[part];
  return held && [held.onHand, held.reserved];
};

describe('entries', () => {
  test('sum to what is on hand and what is reserved; using takes the job’s own reservation first', async () => {
    const job = await page();
    await received(100, { packs: 1, supplier: 'Gullwick Components', price: 420 });
    expect(await writeEntry({ kind: 'reserved', pieces: 30 }, by('ines', { page: job }))).toMatchObject({ ok: true });
    expect(await now()).toEqual([100, 30]);
    expect(await holdersOf('T-1')).toEqual([{ page: job, title: 'Untitled', held: 30 }]);
    await writeEntry({ kind: 'used', pieces: 12 }, by('tomas', { page: job }));
    expect(await now()).toEqual([88, 18]);
    await writeEntry({ kind: 'released', pieces: 18 }, by('tomas', { page: job }));
    expect(await now()).toEqual([88, 0]);
    expect(await reservedFor(job)).toEqual({ here: {}, elsewhere: {}, holders: {}, used: { 'T-1': 12 } });
    await writeEntry({ kind: 'counted', pieces: 85 }, by('tomas'));
    expect(await stock()).toEqual({ 'T-1': 85 });
    expect((await ledger()).map((e) => [e.kind, e.quantity, e.held, e.member])).toEqual([
      ['counted', -3, 0, 'Tomas'],
      ['released', 0, -18, 'Tomas'],
      ['used', -12, -12, 'Tomas'],
      ['reserved', 0, 30, 'Ines'],
      ['received', 100, 0, 'Ines'],
    ]);
  });

  test('are never changed nor deleted, whoever asks the database', async () => {
    await received(5);
    const { $client } = db.database;
    await expect($client.query('update stock_move set quantity = 500')).rejects.toThrow('only ever added to');
    await expect($client.query('delete from stock_move')).rejects.toThrow('only ever added to');
    await $client.query(`delete from "user" where id = 'ines'`); // a member that goes takes no pieces along
    expect(await now()).toEqual([5, 0]);
  });

  test('what others reserved cannot be used; a removed page holds nothing', async () => {
    const [one, two] = [await page(), await page()];
    await received(10);
    await writeEntry({ kind: 'reserved', pieces: 7 }, by('ines', { page: one }));
    expect(await writeEntry({ kind: 'used', pieces: 4 }, by('tomas', { page: two }))).toEqual({
      ok: false,
      message:
        'Ines reserved 7: 3 are left, 7 more are reserved for other jobs. Nothing was written. If the drawer holds more, count it first.',
    });
    const holders = { 'T-1': [{ page: one, title: 'Untitled', pieces: 7 }] };
    expect(await reservedFor(one)).toEqual({ here: { 'T-1': 7 }, elsewhere: {}, holders: {}, used: {} });
    for (const page of [two, null]) expect(await reservedFor(page)).toEqual({ here: {}, elsewhere: { 'T-1': 7 }, holders, used: {} });
    expect(await writeEntry({ kind: 'released', pieces: 8 }, by('ines', { page: one }))).toMatchObject({ ok: false });
    await removePage(one, 'ines');
    expect(await now()).toEqual([10, 0]);
    expect(await reservedFor(two)).toEqual({ here: {}, elsewhere: {}, holders: {}, used: {} });
    expect(await writeEntry({ kind: 'used', pieces: 4 }, by('tomas', { page: two }))).toMatchObject({ ok: true });
  });

  test('the same form sent twice is written once', async () => {
    await received(10);
    const take = () => writeEntry({ kind: 'used', pieces: 2 }, by('tomas', { token: 'form-1' }));
    const both = await Promise.all([take(), take()]);
    expect(both.map((w) => w.ok && w.again).sort()).toEqual([false, true]);
    expect(await now()).toEqual([8, 0]);
  });

  test('suppliers and packs are those of the deliveries, the newest price of each', async () => {
    await received(100, { packs: 1, supplier: 'Gullwick Components', price: 420 });
    await received(200, { packs: 2, supplier: 'Gullwick Components', price: 900 });
    await received(1000, { packs: 1, supplier: 'Dray & Sons' });
    expect((await sourcesOf('T-1')).map(({ at, ...s }) => s)).toEqual([
      { supplier: 'Dray & Sons', pack: 1000, price: null },
      { supplier: 'Gullwick Components', pack: 100, price: 450 },
    ]);
  });

  test('a mark for low stock is kept by part and can be taken away', async () => {
    await setLow('T-1', 50);
    expect(await lows()).toEqual({ 'T-1': 50 });
    await setLow('T-1', null);
    expect(await lows()).toEqual({});
  });
});

describe('two people', () => {
  test('who take the last bag at the same time: one has it, the other reads who and what is left', async () => {
    for (let turn = 0; turn < 20; turn++) {
      const part = `BAG-${turn}`;
      await writeEntry({ kind: 'received', pieces: 10 }, { part, member: 'ines' });
      const seen = (await balances())[part]?.last;
      const both = await Promise.all(['ines', 'tomas'].map((member) => writeEntry({ kind: 'used', pieces: 10 }, { part, member, seen })));
      expect(both.filter((w) => w.ok)).toHaveLength(1);
      const winner = both[0]?.ok ? 'Ines' : 'Tomas';
      expect(both.find((w) => !w.ok)).toEqual({
        ok: false,
        message: `${winner} took 10: none is left. Nothing was written. If the drawer holds more, count it first.`,
      });
      expect(await now(part)).toEqual([0, 0]);
    }
  });

  test('many at once never take more than there was', async () => {
    await received(25);
    const takes = await Promise.all(
      Array.from({ length: 40 }, (_, n) => writeEntry({ kind: 'used', pieces: 2 }, by(n % 2 ? 'ines' : 'tomas'))),
    );
    expect(takes.filter((w) => w.ok)).toHaveLength(12);
    expect(await now()).toEqual([1, 0]);
  });

  test('whose jobs reserve the same parts in opposite order both come to an end', async () => {
    const [one, two] = [await page(), await page()];
    const parts = ['A-1', 'B-1', 'C-1'];
    for (const part of parts) await writeEntry({ kind: 'received', pieces: 100 }, { part, member: 'ines' });
    const wishes = parts.map((part) => ({ part, wish: { kind: 'reserved' as const, pieces: 5 } }));
    const all = await Promise.all(
      Array.from({ length: 8 }, (_, n) => writeForJob(n % 2 ? wishes : [...wishes].reverse(), { page: n % 2 ? one : two, member: 'ines' })),
    );
    expect(all.every((w) => w.ok)).toBe(true);
    for (const part of parts) expect(await now(part)).toEqual([100, 40]);
  });

  test('a job gets all its parts or none', async () => {
    const job = await page();
    await writeEntry({ kind: 'received', pieces: 5 }, { part: 'A-1', member: 'ines' });
    const wish = { kind: 'reserved' as const, pieces: 5 };
    const done = await writeForJob(
      ['A-1', 'B-1'].map((part) => ({ part, wish })),
      { page: job, member: 'ines' },
    );
    expect(done).toMatchObject({ ok: false, part: 'B-1' });
    expect(await now('A-1')).toEqual([5, 0]);
  });
});

describe('a screen that is old', () => {
  test('says what happened since when there is still enough, and refuses a count', async () => {
    await received(10);
    const seen = (await balances())['T-1']?.last;
    await writeEntry({ kind: 'used', pieces: 3 }, by('tomas'));
    expect(await writeEntry({ kind: 'counted', pieces: 10 }, by('ines', { seen }))).toEqual({
      ok: false,
      message: 'Tomas took 3 while you were counting. Nothing was written: look at the drawer once more.',
    });
    expect(await writeEntry({ kind: 'used', pieces: 5 }, by('ines', { seen }))).toMatchObject({ ok: true, news: 'Tomas took 3' });
    expect(await writeEntry({ kind: 'used', pieces: 5 }, by('ines', { seen }))).toMatchObject({ ok: false });
    expect(await now()).toEqual([2, 0]);
  });
});

describe('a mistaken entry', () => {
  const last = async () => (await ledger({ limit: 1 }))[0]?.id ?? 0;

  test('is taken back by another entry, once, also when two do it together', async () => {
    const job = await page();
    await received(10);
    await writeEntry({ kind: 'reserved', pieces: 6 }, by('ines', { page: job }));
    await writeEntry({ kind: 'used', pieces: 6 }, by('ines', { page: job }));
    const used = await last();
    const both = await Promise.all([takeBack(used, 'tomas'), takeBack(used, 'ines')]);
    expect(both.filter((b) => b.ok)).toHaveLength(1);
    expect(both.find((b) => !b.ok)).toEqual({ ok: false, message: 'It was taken back before.' });
    expect(await now()).toEqual([10, 6]);
    expect((await ledger()).map((e) => [e.kind, e.undone])).toEqual([
      ['corrected', false],
      ['used', true],
      ['reserved', false],
      ['received', false],
    ]);
    expect(await takeBack(await last(), 'ines')).toMatchObject({ ok: false });
  });

  test('stays when fewer than none would be left', async () => {
    await received(10);
    const delivery = await last();
    await writeEntry({ kind: 'used', pieces: 6 }, by('tomas'));
    expect(await takeBack(delivery, 'ines')).toEqual({ ok: false, message: 'Only 4 are left of those 10. Count the drawer instead.' });
    expect(await takeBack(987_654, 'ines')).toEqual({ ok: false, message: 'There is no such entry.' });
  });
});

test('the stock of the version before comes along: every piece, and why as it was written', async () => {
  const name = `stock_${process.pid}`;
  await db.database.$client.query(`create database ${name}`);
  const pool = new pg.Pool({ ...db.connection, database: name, max: 2 });
  try {
    const own = ownMigrations();
    await migrate(
      pool,
      own.filter((m) => m.name < '0008'),
    );
    await pool.query(`insert into "user" (id, name, email) values ('ines', 'Ines', 'ines@club.example');
      insert into page (id, day) values ('spinner', '2025-11-08');
      insert into stock_move (part, quantity, reason, page, member) values
        ('T-1', 100, 'counted', null, 'ines'), ('T-1', -17, 'plan A3J4', 'spinner', 'ines'), ('T-1', 2, 'found two', null, null), ('K-1', -1, 'counted', null, null);`);
    await migrate(pool);
    const { rows } = await pool.query('select part, quantity, held, kind, reason, page, member from stock_move order by id');
    expect(rows).toEqual([
      { part: 'T-1', quantity: 100, held: 0, kind: 'counted', reason: '', page: null, member: 'ines' },
      { part: 'T-1', quantity: -17, held: 0, kind: 'used', reason: 'plan A3J4', page: 'spinner', member: 'ines' },
      { part: 'T-1', quantity: 2, held: 0, kind: 'corrected', reason: 'found two', page: null, member: null },
      { part: 'K-1', quantity: -1, held: 0, kind: 'counted', reason: '', page: null, member: null },
    ]);
  } finally {
    await pool.end();
    await db.database.$client.query(`drop database ${name}`);
  }
});
