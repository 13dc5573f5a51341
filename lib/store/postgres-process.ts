/** What can be seen of a PostgreSQL that works on a data folder: its lock file, its processes, whether it answers. */
import { readdirSync, readFileSync, readlinkSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import pg from 'pg';

export const connectionAt = (socket: string) =>
  ({ host: socket, port: 5432, user: 'fettlebook', database: 'postgres', ssl: false }) satisfies pg.PoolConfig;

export interface Postmaster {
  pid: number;
  socket: string;
}
const lockFile = (data: string) => join(data, 'postmaster.pid');

function readLock(data: string): (Postmaster & { text: string }) | null {
  try {
    const text = readFileSync(lockFile(data), 'utf8');
    const lines = text.split('\n'); // pid, data folder, start time, port, socket folder, …
    return { text, pid: Number(lines[0]), socket: lines[4]?.trim() ?? '' };
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

/** Processes whose working directory is the data folder: a postmaster and all its children. */
export function workersIn(data: string): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .filter((pid) => {
      try {
        return readlinkSync(`/proc/${pid}/cwd`) === data;
      } catch {
        return false; // gone meanwhile, or not ours to see
      }
    })
    .map(Number);
}

/** True when a PostgreSQL on that very folder takes queries at the socket. */
export async function answers(socket: string, data: string): Promise<boolean> {
  const client = new pg.Client({ ...connectionAt(socket), connectionTimeoutMillis: 5000 });
  client.on('error', () => {});
  try {
    await client.connect();
    const { rows } = await client.query<{ data_directory: string }>('show data_directory');
    return rows[0]?.data_directory === data;
  } catch {
    return false; // starting, stopping or not there: the caller asks again
  } finally {
    await client.end().catch(() => {});
  }
}

/**
 * The postmaster that runs on the folder, once it answers; null when none does. A lock file whose server is dead is removed: only when
 * no living process works in the folder, since the children of a killed postmaster outlive it a moment. Throws after a minute of silence.
 */
export async function runningPostmaster(data: string): Promise<Postmaster | null> {
  const deadline = performance.now() + 60_000;
  for (;;) {
    const lock = readLock(data);
    if (!lock) return null;
    if (lock.socket && (await answers(lock.socket, data))) return { pid: lock.pid, socket: lock.socket };
    const workers = workersIn(data);
    if (workers.length === 0 && readLock(data)?.text === lock.text) {
      rmSync(lockFile(data), { force: true });
      if (lock.socket) rmSync(join(lock.socket, '.s.PGSQL.5432.lock'), { force: true });
      return null;
    }
    if (performance.now() > deadline)
      throw new Error(`PostgreSQL (process ${workers[0] ?? lock.pid}) works on ${data} but does not answer. End it, then start again.`);
    await pause(50);
  }
}
