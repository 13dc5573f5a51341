/**
 * A real PostgreSQL for tests: one cluster a test file, started at the first call, stopped after the file's last test.
 *
 *   let db: TestDatabase;
 *   beforeEach(async () => { db = await testDatabase(); });
 *   afterEach(() => db?.close());
 *
 * `testDatabase()` gives an empty, migrated database and makes it the one that `database()` returns.
 */
import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll } from 'vitest';
import { closeDatabase, type Database, openDatabase } from '@/lib/store/database';
import { migrate } from '@/lib/store/migrate';
import { type RunningPostgres, startPostgres } from '@/lib/store/postgres';

export interface TestDatabase {
  database: Database;
  connection: pg.PoolConfig;
  close(): Promise<void>;
}

const template = 'fettlebook_template';
let started: Promise<{ server: RunningPostgres; folder: string }> | undefined;
let count = 0;

/** A new folder in the system's temporary folder that every user may pass through. */
export function openTempFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'fettlebook-test-'));
  chmodSync(folder, 0o755);
  return folder;
}

async function start() {
  const folder = openTempFolder();
  const server = await startPostgres(folder);
  const pool = new pg.Pool({ ...server.connection, database: template });
  try {
    // Nothing here has to outlive a power cut.
    await statement(server.connection, 'alter system set fsync = off');
    await statement(server.connection, 'select pg_reload_conf()');
    await statement(server.connection, `create database ${template}`);
    await migrate(pool);
    return { server, folder };
  } catch (error) {
    await server.stop();
    throw error;
  } finally {
    await pool.end();
  }
}

async function statement(connection: pg.PoolConfig, text: string) {
  const client = new pg.Client(connection);
  await client.connect();
  try {
    await client.query(text);
  } finally {
    await client.end();
  }
}

export async function testDatabase(): Promise<TestDatabase> {
  started ??= start();
  const { server } = await started;
  count += 1;
  const name = `test_${count}`;
  await closeDatabase();
  await statement(server.connection, `create database ${name} template ${template}`);
  const connection = { ...server.connection, database: name };
  const database = await openDatabase(connection);
  return { database, connection, close: closeDatabase };
}

afterAll(async () => {
  if (!started) return;
  const { server, folder } = await started;
  await closeDatabase();
  await server.stop();
  rmSync(folder, { recursive: true, force: true });
});
