/** One server a data folder: a lock that lives and dies with a connection of its own. */
import { setTimeout as pause } from 'node:timers/promises';
import pg from 'pg';
import { unreachable } from './database';

const lockKey = 7_305_002; // beside the one of migrate.ts
const patienceMs = 500; // a killed server's connection takes a moment to be noticed

interface Options {
  place: string; // what the lock stands for, in words: "the data folder ./data"
  onLost(): void; // the connection broke: the lock is no longer ours
  pid?: number;
}

/**
 * Takes the lock and returns how to let it go. Rejects with a sentence that names the process that holds it. After `onLost` this
 * process must stop writing: another one may start at any moment.
 */
export async function holdLock(connection: pg.PoolConfig, { place, onLost, pid = process.pid }: Options): Promise<() => Promise<void>> {
  const client = new pg.Client({ ...connection, application_name: `fettlebook ${pid}`, keepAlive: true });
  let state: 'taking' | 'held' | 'over' = 'taking';
  const lost = () => {
    if (state === 'held') onLost();
    state = 'over';
  };
  client.on('error', lost);
  client.on('end', lost);
  try {
    await client.connect();
  } catch (error) {
    throw unreachable(error);
  }
  const deadline = performance.now() + patienceMs;
  while (!(await taken(client))) {
    if (performance.now() > deadline) {
      const holder = await holderOf(client);
      await client.end();
      throw new Error(`Another Fettlebook, ${holder}, is using ${place}. Stop that one first, or give this one a DATA_DIR of its own.`);
    }
    await pause(50);
  }
  state = 'held';
  return async () => {
    state = 'over';
    await client.end();
  };
}

async function taken(client: pg.Client): Promise<boolean> {
  const { rows } = await client.query<{ taken: boolean }>('select pg_try_advisory_lock($1) as taken', [lockKey]);
  return rows[0]?.taken === true;
}

/** "process 4711", as the holder's connection calls itself. */
async function holderOf(client: pg.Client): Promise<string> {
  const { rows } = await client.query<{ name: string; host: string | null }>(
    `select a.application_name as name, host(a.client_addr) as host
     from pg_locks l join pg_stat_activity a on a.pid = l.pid
     where l.locktype = 'advisory' and l.granted and l.objid = $1 and l.database = (select oid from pg_database where datname = current_database())`,
    [lockKey],
  );
  const pid = /^fettlebook (\d+)$/.exec(rows[0]?.name ?? '')?.[1];
  if (!pid) return 'whose process is unknown';
  return rows[0]?.host ? `process ${pid} on ${rows[0].host}` : `process ${pid}`;
}
