/** The one open database of this process. The framework's bundle holds its own copy of this file, so the handle lives on `globalThis`. */
import { drizzle, type NodePgDatabase } from 'drizzle-orm/node-postgres';
import pg from 'pg';
import { migrate } from './migrate';
import * as schema from './schema';

/** A drizzle database; its pool is `$client`. */
export type Database = NodePgDatabase<typeof schema> & { $client: pg.Pool };

const place = Symbol.for('fettlebook.database');
const house = globalThis as typeof globalThis & { [place]?: Database };

/** Opens the database, brings its tables up to date and makes it the one of this process. Throws when one is open already. */
export async function openDatabase(connection: pg.PoolConfig): Promise<Database> {
  if (house[place]) throw new Error('a database is open already; close it first');
  const pool = new pg.Pool({ max: 10, ...connection });
  // An idle connection that breaks would otherwise end the process; the next query reports the fault to whoever asks.
  pool.on('error', (error) => console.error(`An idle database connection broke: ${error.message}`));
  // Nor may one that breaks in the middle of a transaction; its running query is rejected.
  pool.on('connect', (client) => client.on('error', () => {}));
  try {
    await migrate(pool);
  } catch (error) {
    await pool.end();
    throw error;
  }
  house[place] = drizzle(pool, { schema });
  return house[place];
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
