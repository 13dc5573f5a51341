/** Brings the tables up to date: forward only, in order of file name, each file in its own transaction. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type pg from 'pg';

export interface Migration {
  name: string; // 0001-start
  sql: string;
}
interface Applied {
  name: string;
  hash: string;
}

const lockKey = 7_305_001; // any number that nobody else uses in this database

const hashOf = (sql: string) => createHash('sha256').update(sql).digest('hex');

/** The migrations of this version, in order. */
export function ownMigrations(): Migration[] {
  const folder = join(import.meta.dirname, 'migrations'); // inside the function: a bundle that never migrates has no such folder
  return readdirSync(folder)
    .filter((file) => file.endsWith('.sql'))
    .sort()
    .map((file) => ({ name: file.slice(0, -'.sql'.length), sql: readFileSync(join(folder, file), 'utf8') }));
}

/** What keeps these files from being applied to a database with that history; null when nothing does. */
export function drift(migrations: Migration[], applied: Applied[]): string | null {
  for (const [at, done] of applied.entries()) {
    const known = migrations.find((m) => m.name === done.name);
    if (!known) {
      return `The database has the change ${done.name}, which this version of Fettlebook does not know: it is newer. Install the version that made it, or restore the backup from before.`;
    }
    if (hashOf(known.sql) !== done.hash) {
      return `The file of the database change ${done.name} is not the one that was applied. Put the original file back; write a new one for a new change.`;
    }
    const expected = migrations[at];
    if (expected && expected.name !== done.name) {
      return `The database change ${expected.name} was never applied, but the later ${done.name} was. Give it a name that sorts after the last one.`;
    }
  }
  return null;
}

/** Applies what is missing and returns the names of it. Throws, with nothing changed, when the database's history is not the one of the files. */
export async function migrate(pool: pg.Pool, migrations = ownMigrations()): Promise<string[]> {
  const client = await pool.connect();
  try {
    await client.query('select pg_advisory_lock($1)', [lockKey]);
    await client.query(
      'create table if not exists migration (name text primary key, hash text not null, at timestamptz not null default now())',
    );
    const { rows: applied } = await client.query<Applied>('select name, hash from migration order by name collate "C"');
    const problem = drift(migrations, applied);
    if (problem) throw new Error(problem);
    const missing = migrations.slice(applied.length);
    for (const { name, sql } of missing) await apply(client, name, sql);
    return missing.map((m) => m.name);
  } finally {
    await client.query('select pg_advisory_unlock($1)', [lockKey]).catch(() => {}); // a broken connection has let go already
    client.release();
  }
}

async function apply(client: pg.PoolClient, name: string, sql: string) {
  await client.query('begin');
  try {
    await client.query(sql);
    await client.query('insert into migration (name, hash) values ($1, $2)', [name, hashOf(sql)]);
    await client.query('commit');
  } catch (error) {
    await client.query('rollback').catch(() => {});
    throw new Error(`The database change ${name} failed and was taken back.`, { cause: error });
  }
}
