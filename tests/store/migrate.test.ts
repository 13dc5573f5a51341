import { getAuthTables } from 'better-auth/db';
import { getTableColumns, getTableName, is } from 'drizzle-orm';
import { PgTable } from 'drizzle-orm/pg-core';
import type pg from 'pg';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { drift, type Migration, migrate, ownMigrations } from '@/lib/store/migrate';
import * as schema from '@/lib/store/schema';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
let pool: pg.Pool;
beforeEach(async () => {
  db = await testDatabase();
  pool = db.database.$client;
});
afterEach(() => db.close());

const own = ownMigrations();
const next: Migration = { name: '9001-next', sql: 'create table extra (id int primary key)' };
const tables = async () =>
  (await pool.query("select table_name as name from information_schema.tables where table_schema = 'public' order by 1")).rows;

test('a second run does nothing', async () => {
  const before = await pool.query('select name, hash, at from migration order by name');
  expect(before.rows.map((r) => r.name)).toEqual(own.map((m) => m.name));
  expect(await migrate(pool)).toEqual([]);
  expect((await pool.query('select name, hash, at from migration order by name')).rows).toEqual(before.rows);
});

test('of many starts at once, one applies', async () => {
  const runs = await Promise.all(Array.from({ length: 5 }, () => migrate(pool, [...own, next])));
  expect(runs.flat()).toEqual([next.name]);
});

test('a changed file is refused and nothing is applied', async () => {
  const changed = own.map((m, at) => (at === 0 ? { ...m, sql: `${m.sql}\n-- later thought` } : m));
  await expect(migrate(pool, [...changed, next])).rejects.toThrow(
    /0001-start is not the one that was applied\. Put the original file back/,
  );
  expect(await tables()).not.toContainEqual({ name: 'extra' });
});

test('a database that is newer is refused', async () => {
  await migrate(pool, [...own, next]);
  await expect(migrate(pool, own)).rejects.toThrow(/9001-next, which this version of Fettlebook does not know.*restore the backup/);
});

test('a change slipped in before an applied one is refused', async () => {
  await migrate(pool, [...own, next]);
  const early = { name: '9000-early', sql: 'select 1' };
  await expect(migrate(pool, [...own, early, next])).rejects.toThrow(/9000-early was never applied, but the later 9001-next was/);
});

test('a failing change leaves nothing behind, those before it stay', async () => {
  const broken = { name: '9002-broken', sql: 'create table half (id int); select no_such_function()' };
  await expect(migrate(pool, [...own, next, broken])).rejects.toThrow('The database change 9002-broken failed and was taken back.');
  expect(await tables()).toContainEqual({ name: 'extra' });
  expect(await tables()).not.toContainEqual({ name: 'half' });
  expect(await migrate(pool, [...own, next])).toEqual([]);
});

test('drift: an empty history fits, whatever the files', () => {
  expect(drift([], [])).toBeNull();
  expect(drift([next], [])).toBeNull();
});

test('the tables of the migrations are those of the schema, column by column', async () => {
  const { rows } = await pool.query<{ place: string; optional: boolean; type: string }>(
    `select table_name || '.' || column_name as place, is_nullable = 'YES' as optional, format_type(a.atttypid, null) as type
     from information_schema.columns c join pg_attribute a on a.attrelid = ('public.' || quote_ident(c.table_name))::regclass and a.attname = c.column_name
     where table_schema = 'public' and table_name <> 'migration' order by 1`,
  );
  const said = Object.values(schema)
    .filter((table) => is(table, PgTable))
    .flatMap((table) =>
      Object.values(getTableColumns(table)).map((c) => ({
        place: `${getTableName(table)}.${c.name}`,
        optional: !c.notNull,
        type: c.getSQLType().replace('bigserial', 'bigint'),
      })),
    );
  const sorted = (list: typeof rows) => [...list].sort((a, b) => (a.place < b.place ? -1 : 1));
  expect(sorted(said)).toEqual(sorted(rows));
});

test('the account tables have every field that the account library asks for', () => {
  // Source: getAuthTables of better-auth, its own description of its tables.
  const types: Record<string, string> = { string: 'text', boolean: 'boolean', date: 'timestamp with time zone' };
  const { user, session, account, verification } = schema;
  const tables: Record<string, PgTable> = { user, session, account, verification };
  for (const { modelName, fields } of Object.values(getAuthTables({}))) {
    const table = tables[modelName];
    if (!table) throw new Error(`there is no table ${modelName}`);
    const columns = getTableColumns(table);
    const ours = Object.fromEntries(Object.entries(columns).map(([field, c]) => [field, { type: c.getSQLType(), required: c.notNull }]));
    const theirs = Object.fromEntries(
      Object.entries(fields).map(([field, f]) => [field, { type: types[String(f.type)], required: f.required !== false }]),
    );
    expect(ours).toMatchObject({ id: { type: 'text', required: true }, ...theirs });
  }
});
