/**
 * A real PostgreSQL for tests: one cluster a test file, started at the first call, stopped after the file's last test; or, where
 * TEST_DATABASE_URL names a server (see scripts/test-postgres.ts), databases on that one, dropped after the file's last test.
 *
 *   let db: TestDatabase;
 *   beforeEach(async () => { db = await testDatabase(); });
 *   afterEach(() => db?.close());
 *
 * `testDatabase()` gives an empty, migrated database and makes it the one that `database()` returns.
 */
import { randomBytes } from 'node:crypto';
import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll } from 'vitest';
import { closeDatabase, type Database, openDatabase } from '@/lib/store/database';
import { migrate } from '@/lib/store/migrate';
import { startPostgres } from '@/lib/store/postgres';

export interface TestDatabase {
  database: Database;
  connection: pg.PoolConfig;
  close(): Promise<void>;
}

/** The server of a test file, and how to leave it. */
interface Cluster {
  server: pg.PoolConfig;
  leave(databases: string[]): Promise<void>;
}

const own = randomBytes(4).toString('hex'); // test files share a server that is named by TEST_DATABASE_URL
const template = `fettlebook_template_${own}`;
let started: Promise<Cluster> | undefined;
const made: string[] = [];

/** A new folder in the system's temporary folder that every user may pass through. */
export function openTempFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'fettlebook-test-'));
  chmodSync(folder, 0o755);
  return folder;
}

async function start(): Promise<Cluster> {
  const url = process.env.TEST_DATABASE_URL;
  const cluster = url ? named(url) : await startOwn();
  const { server, leave } = cluster;
  const pool = new pg.Pool({ ...server, database: template });
  try {
    await statement(server, `create database ${template}`);
    await migrate(pool);
    return cluster;
  } catch (error) {
    await leave([]);
    throw error;
  } finally {
    await pool.end();
  }
}

async function startOwn(): Promise<Cluster> {
  const folder = openTempFolder();
  const { connection, stop } = await startPostgres(folder);
  // Nothing here has to outlive a power cut.
  await statement(connection, 'alter system set fsync = off');
  await statement(connection, 'select pg_reload_conf()');
  return {
    server: connection,
    async leave() {
      await stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function named(url: string): Cluster {
  const { hostname, port, username, password, pathname } = new URL(url);
  const server = {
    host: hostname,
    port: Number(port || 5432),
    user: decodeURIComponent(username),
    password: decodeURIComponent(password),
    database: pathname.slice(1),
  };
  return {
    server,
    async leave(databases) {
      for (const name of databases) await statement(server, `drop database if exists ${name} with (force)`);
    },
  };
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
  const name = `test_${own}_${made.length + 1}`;
  made.push(name);
  await closeDatabase();
  await statement(server, `create database ${name} template ${template}`);
  const connection = { ...server, database: name };
  const database = await openDatabase(connection);
  return { database, connection, close: closeDatabase };
}

afterAll(async () => {
  if (!started) return;
  const { leave } = await started;
  await closeDatabase();
  await leave([...made, template]);
});
