/** Databases of earlier versions are brought to the newest, with what was in them; also when that is cut off at any statement. */
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { databaseOn } from '@/lib/store/database';
import { pageLog } from '@/lib/store/log';
import { type Migration, migrate, ownMigrations } from '@/lib/store/migrate';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
const pools: pg.Pool[] = [];
let made = 0;
beforeEach(async () => {
  db = await testDatabase();
});
afterEach(async () => {
  await Promise.all(pools.splice(0).map((pool) => pool.end()));
  await db.close();
});

const own = ownMigrations();

/** A database of its own, in which nothing has been done. */
async function empty(template = 'template1'): Promise<{ name: string; pool: pg.Pool }> {
  const name = `upgrade_${process.pid}_${made++}`;
  await db.database.$client.query(`create database ${name} template ${template}`);
  const pool = new pg.Pool({ ...db.connection, database: name, max: 2 });
  pools.push(pool);
  pool.on('error', () => {}); // connections are cut on purpose
  return { name, pool };
}

/** What a club had with the first version: pages whose entries were numbered all together. */
const firstClub = `
  insert into "user" (id, name, email, role) values ('ines', 'Ines', 'ines@club.example', 'owner'), ('tomas', 'Tomas', 'tomas@club.example', 'editor');
  insert into page (id, day, created_by, created_at) values
    ('spinner', '2025-11-08', 'ines', '2025-11-08 10:00Z'), ('ramp', '2025-11-09', 'tomas', '2025-11-09 10:00Z'), ('blank', '2025-11-10', null, '2025-11-10 10:00Z');
  insert into page (id, day, removed_at) values ('gone', '2025-11-01', '2025-11-02 10:00Z');
  insert into page_update (page, member, at, bytes) values
    ('spinner', 'ines', '2025-11-08 10:00Z', '\\x01'), ('ramp', 'tomas', '2025-11-09 10:00Z', '\\x11'), ('spinner', null, '2025-11-09 11:00Z', '\\x02'),
    ('gone', 'ines', '2025-11-01 10:00Z', '\\x21'), ('ramp', 'ines', '2025-11-09 12:00Z', '\\x12'), ('spinner', 'ines', '2025-11-12 09:00Z', '\\x03');
  delete from page_update where bytes = '\\x12';
  insert into page_update (page, member, at, bytes) values ('ramp', null, '2025-11-13 12:00Z', '\\x13');
  insert into page_index (page, title, body, state, record) values ('spinner', 'Spinner dead', 'A cracked joint', 'mended', '{}');
  insert into report_link (id, page, hash) values ('report', 'spinner', 'h');
  insert into setting (key, value) values ('club.name', 'Saltmarsh Coin-Op Club');`;

/** The same club with the newest version. */
async function expectClub(pool: pg.Pool) {
  const { rows } = await pool.query('select page, number::int, member, at, bytes from page_update order by page, number');
  expect(rows.map((r) => [r.page, r.number, r.member, r.at.toISOString(), [...r.bytes]])).toEqual([
    ['gone', 1, 'ines', '2025-11-01T10:00:00.000Z', [0x21]],
    ['ramp', 1, 'tomas', '2025-11-09T10:00:00.000Z', [0x11]],
    ['ramp', 2, null, '2025-11-13T12:00:00.000Z', [0x13]],
    ['spinner', 1, 'ines', '2025-11-08T10:00:00.000Z', [1]],
    ['spinner', 2, null, '2025-11-09T11:00:00.000Z', [2]],
    ['spinner', 3, 'ines', '2025-11-12T09:00:00.000Z', [3]],
  ]);
  const pages = await pool.query('select id, head::int, changed_at from page order by id');
  expect(pages.rows.map((r) => [r.id, r.head, r.changed_at.toISOString().slice(0, 10)])).toEqual([
    ['blank', 0, '2025-11-10'],
    ['gone', 1, '2025-11-01'],
    ['ramp', 2, '2025-11-13'],
    ['spinner', 3, '2025-11-12'],
  ]);
  const rest = await pool.query(
    `select (select title from page_index) as title, (select hash from report_link) as hash, (select value from setting) as name`,
  );
  expect(rest.rows).toEqual([{ title: 'Spinner dead', hash: 'h', name: 'Saltmarsh Coin-Op Club' }]);
}

/** And it works: the log goes on where it was. */
async function expectWorks(pool: pg.Pool) {
  const log = pageLog(databaseOn(pool));
  expect(await log.append([{ page: 'spinner', update: Uint8Array.of(9), member: 'ines' }])).toEqual([4]);
  expect(await log.append([{ page: 'blank', update: Uint8Array.of(8), member: null }])).toEqual([1]);
  expect((await log.load('spinner', 1)).tail.map((u) => [...u])).toEqual([[2], [3], [9]]);
}

const statementsOf = (migration: Migration) =>
  migration.sql
    .replace(/--.*$/gm, '')
    .split(/;\s*$/m)
    .map((text) => text.trim())
    .filter(Boolean);

describe.each(own.slice(0, -1).map((m, at) => [m.name, at + 1] as const))('a club of the version that ended with %s', (_, count) => {
  /** Its database, as that version left it. */
  async function old() {
    const made = await empty();
    await migrate(made.pool, own.slice(0, 1));
    await made.pool.query(firstClub);
    await migrate(made.pool, own.slice(0, count));
    return made;
  }

  test('comes to the newest with all it had, and a second start changes nothing', async () => {
    const { pool } = await old();
    expect(await migrate(pool)).toEqual(own.slice(count).map((m) => m.name));
    await expectClub(pool);
    expect(await migrate(pool)).toEqual([]);
    await expectClub(pool);
    await expectWorks(pool);
  });

  test('that is cut off after any statement, by an error or by the end of the connection, goes on as if nothing had been', async () => {
    const { name, pool } = await old();
    await pool.end();
    pools.splice(pools.indexOf(pool), 1);
    const cuts = own.slice(count).flatMap((migration, at) => statementsOf(migration).map((__, n) => ({ at: count + at, n: n + 1 })));
    expect(cuts.length).toBeGreaterThan(0);
    for (const [turn, { at, n }] of cuts.entries()) {
      const { pool: copy } = await empty(name);
      databaseOn(copy); // listens to connections that break
      const end = turn % 2 === 0 ? 'select pg_terminate_backend(pg_backend_pid())' : 'select 1 / 0';
      const cut = { ...own[at]!, sql: [...statementsOf(own[at]!).slice(0, n), end].join(';\n') };
      await expect(migrate(copy, [...own.slice(0, at), cut])).rejects.toThrow(`${cut.name} failed and was taken back`);
      expect(await migrate(copy)).toEqual(own.slice(at).map((m) => m.name));
      await expectClub(copy);
      await expectWorks(copy);
      await copy.end(); // each turn of a long history leaves a server no connection otherwise
      pools.splice(pools.indexOf(copy), 1);
    }
  });
});

test('an empty database that is cut off after any statement of the first file is made whole by the next start', async () => {
  const first = statementsOf(own[0]!);
  for (const n of [0, 1, Math.floor(first.length / 2), first.length]) {
    const { pool } = await empty();
    databaseOn(pool);
    const cut = { ...own[0]!, sql: [...first.slice(0, n), 'select pg_terminate_backend(pg_backend_pid())'].join(';\n') };
    await expect(migrate(pool, [cut])).rejects.toThrow('failed and was taken back');
    expect(await migrate(pool)).toEqual(own.map((m) => m.name));
  }
});
