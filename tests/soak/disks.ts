/** Disks without room: a small one of memory where this user may mount one, and a limit on the size of files, which works for anybody. */
import { spawnSync } from 'node:child_process';
import { appendFileSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import pg from 'pg';
import { databaseOn } from '@/lib/store/database';
import { pageLog } from '@/lib/store/log';
import { workersIn } from '@/lib/store/postgres-process';
import { makePages } from './log-check';
import { openFolder } from './stage';

export interface Disk {
  readonly name: string;
  readonly folder: string;
  /** Before the database's server writes: what must be there for `fillTables`. */
  prepare(connection: pg.PoolConfig): Promise<void>;
  /** Tables can't grow from now on; the write-ahead log can. */
  fillTables(connection: pg.PoolConfig): Promise<void>;
  /** The write-ahead log can't be written on; a database that needs to has to stop. */
  fillLog(connection: pg.PoolConfig): Promise<void>;
  /** There is room again. */
  free(): void;
  /** The database must be stopped by then. */
  close(): void;
}

const mebibyte = 1 << 20;
const run = (command: string, ...args: string[]) => spawnSync(command, args, { encoding: 'utf8' }).status === 0;
const clusterIn = (folder: string) => join(folder, 'postgres');

async function ask(connection: pg.PoolConfig, text: string) {
  const client = new pg.Client({ ...connection });
  client.on('error', () => {});
  await client.connect();
  try {
    return (await client.query<Record<string, string>>(text)).rows[0] ?? {};
  } finally {
    await client.end();
  }
}
/** Goes on to the log's next file, and writes into it. */
async function freshLogFile(connection: pg.PoolConfig) {
  await ask(connection, "select pg_logical_emit_message(false, 'soak', 'x'), pg_switch_wal()::text");
  return ask(connection, "select pg_logical_emit_message(true, 'soak', 'x')");
}

/** A disk of memory of 128 MB, which a file of ballast fills; null where this user may not mount one. */
export function smallDisk(): Disk | null {
  const folder = openFolder();
  if (!run('mount', '-t', 'tmpfs', '-o', 'size=128m,mode=755', 'tmpfs', folder)) {
    rmSync(folder, { recursive: true });
    return null;
  }
  const ballast = join(folder, 'ballast');
  const fill = () => {
    for (const size of [mebibyte, 4096]) {
      try {
        for (;;) appendFileSync(ballast, Buffer.alloc(size));
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code !== 'ENOSPC') throw error;
      }
    }
  };
  return {
    name: 'a full disk',
    folder,
    async prepare() {},
    async fillTables(connection) {
      await freshLogFile(connection); // so that it has room in its newest file
      fill();
    },
    async fillLog(connection) {
      fill();
      // Files of the log that were made before are used up first.
      for (let n = 0; n < 50; n++) if (!(await freshLogFile(connection).catch(() => null))) return;
      throw new Error('the database went on although its log had no room');
    },
    free: () => rmSync(ballast, { force: true }),
    close() {
      run('umount', folder);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Files may not grow beyond a size: what the kernel answers then is treated like a full disk. */
export function limitedFiles(): Disk {
  const folder = openFolder();
  const limit = (bytes: number | 'unlimited') => {
    const workers = () => workersIn(clusterIn(folder));
    // By the user that the processes run as: root may lack the right in a container.
    const { uid, gid } = statSync(clusterIn(folder));
    const set = (pid: number) => spawnSync('prlimit', [`--pid=${pid}`, `--fsize=${bytes}:`], { uid, gid, encoding: 'utf8' });
    for (const pid of workers()) {
      const { status, stderr } = set(pid);
      if (status !== 0 && workers().includes(pid)) throw new Error(`no limit for process ${pid}: ${stderr}`);
    }
  };
  const toast = (connection: pg.PoolConfig) =>
    ask(connection, "select pg_relation_size(reltoastrelid) as size from pg_class where relname = 'page_update'");
  return {
    name: 'a limit on files',
    folder,
    async prepare(connection) {
      // The log's files have 16 MB from the beginning; the table must be bigger, so that the limit meets it alone.
      await makePages(connection, ['bulk'], []);
      const pool = new pg.Pool({ ...connection, max: 1 });
      const update = Buffer.alloc(mebibyte);
      for (let at = 0; at < update.length; at += 4) update.writeUInt32LE(Math.imul(at + 1, 2_654_435_761) >>> 0, at);
      const log = pageLog(databaseOn(pool));
      for (let n = 0; n < 20; n++) await log.append([{ page: 'bulk', update, member: null }]);
      await pool.end();
    },
    async fillTables(connection) {
      const size = Number((await toast(connection)).size);
      if (size <= 16 * mebibyte) throw new Error(`the table has only ${size} bytes`);
      limit(size + 64 * 1024);
    },
    async fillLog() {
      limit(1);
    },
    free: () => limit('unlimited'),
    close: () => rmSync(folder, { recursive: true, force: true }),
  };
}
