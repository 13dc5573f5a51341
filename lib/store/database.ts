/** The one open database of this process. The framework's bundle holds its own copy of this file, so the handle lives on `globalThis`. */
import { drizzle, type NodePgDatabase } from 'drizzle-orm/node-postgres';
import pg from 'pg';
import { migrate } from './migrate';
import * as schema from './schema';

/** A drizzle database; its pool is `$client`. */
export type Database = NodePgDatabase<typeof schema> & { $client: pg.Pool };

const place = Symbol.for('fettlebook.database');
const house = globalThis as typeof globalThis & { [place]?: Database };

/** A database over a pool. */
export function databaseOn(pool: pg.Pool): Database {
  // Nobody listens to a connection that is in use: one that breaks would end the process. Its running query is rejected all the same.
  pool.on('connect', (client) => client.on('error', () => {}));
  const db = drizzle(pool, { schema });
  // The library's own transaction never gives a connection back whose `begin` fails: ten of those, and the server would wait for ever.
  const clients = new WeakMap<pg.PoolClient, ReturnType<typeof drizzle<typeof schema, pg.PoolClient>>>();
  db.transaction = async (work, config) => {
    const client = await pool.connect();
    try {
      const own = clients.get(client) ?? drizzle(client, { schema });
      clients.set(client, own);
      return await own.transaction(work, config);
    } finally {
      client.release(); // the pool drops a broken one
    }
  };
  return db;
}

/** For whoever starts the server. */
export function unreachable(error: unknown): Error {
  const { code, message } = error as NodeJS.ErrnoException;
  return new Error(`The database can't be reached (${message || code}). Is it running, and is DATABASE_URL right?`, { cause: error });
}

/** Opens the database, brings its tables up to date and makes it the one of this process. Throws when one is open already. */
export async function openDatabase(connection: pg.PoolConfig): Promise<Database> {
  if (house[place]) throw new Error('a database is open already; close it first');
  const pool = new pg.Pool({ max: 10, ...connection });
  // An idle connection that breaks would otherwise end the process; the next query reports the fault to whoever asks.
  pool.on('error', (error) => console.error(`An idle database connection broke: ${error.message}`));
  const db = databaseOn(pool);
  try {
    await pool.query('select 1').catch((error: unknown) => {
      throw unreachable(error);
    });
    await migrate(pool);
  } catch (error) {
    await pool.end();
    throw error;
  }
  house[place] = db;
  return db;
}

/** The open database. Throws when there is none: only the server, a script or a test opens it. */
export function database(): Database {
  if (!house[place]) throw new Error('no database is open; call openDatabase first');
  return house[place];
}

/** Waits for running queries and closes all connections. */
export async function closeDatabase(): Promise<void> {
  const open = house[place];
  delete house[place];
  await open?.$client.end();
}
