/** The built-in PostgreSQL: a real server as a child of ours, reached through a Unix socket only. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import {
  chownSync,
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type pg from 'pg';
import { placeBinaries, placeCluster, placeSocket, type RunAs } from './postgres-place';
import { answers, connectionAt, runningPostmaster, workersIn } from './postgres-process';

export interface RunningPostgres {
  connection: pg.PoolConfig;
  /** Ends the server that was started or adopted, fast but in good order. */
  stop(): Promise<void>;
  /** What its owner should know, such as where the data really is. */
  notice?: string;
}

/**
 * Starts PostgreSQL on a data folder, making the cluster at the first start; a server that still runs on it is adopted.
 * Throws with a sentence when it cannot run here.
 */
export async function startPostgres(dataDir: string): Promise<RunningPostgres> {
  return start(dataDir).catch((error: NodeJS.ErrnoException) => {
    const mend = unwritable[error.code ?? ''];
    throw mend
      ? new Error(`The data folder ${dataDir} can't be written: ${mend}, or name another folder in DATA_DIR.`, { cause: error })
      : error;
  });
}

/** What to do when the system does not let files be made, by its code (errno(3)). */
const unwritable: Record<string, string> = {
  EROFS: 'its disk takes no writing. Mount it for writing',
  ENOSPC: 'its disk is full. Make room there',
  EDQUOT: 'the share of its disk is used up. Make room there',
  EACCES: 'it belongs to somebody else. Let this user write there',
  EPERM: 'the system does not allow it. Let this user write there',
};

async function start(dataDir: string): Promise<RunningPostgres> {
  mkdirSync(dataDir, { recursive: true });
  const place = placeCluster(realpathSync(dataDir));
  const binaries = placeBinaries(place.runAs);
  const { data, runAs } = place;
  const notice = [place.notice, binaries.notice].filter(Boolean).join('\n');
  const said = notice ? { notice } : {};
  if (!existsSync(join(data, 'PG_VERSION'))) makeCluster(binaries.native, data, runAs);

  const adopted = await runningPostmaster(data);
  if (adopted) return { connection: connectionAt(adopted.socket), stop: () => stopAdopted(adopted.pid, data), ...said };
  const socket = placeSocket(data, runAs);
  const child = launch(binaries.native, data, socket, runAs);
  while (!(await answers(socket, data))) {
    if (child.exitCode !== null || child.signalCode !== null) {
      const other = await runningPostmaster(data); // somebody else was quicker
      if (other) return { connection: connectionAt(other.socket), stop: () => stopAdopted(other.pid, data), ...said };
      throw new Error(`PostgreSQL did not start. The end of ${logFile(data)}:\n${readFileSync(logFile(data), 'utf8').slice(-1500)}`);
    }
    await pause(20);
  }
  return { connection: connectionAt(socket), stop: () => stopChild(child), ...said };
}

const environment = (native: string) => ({
  NODE_ENV: process.env.NODE_ENV,
  PATH: process.env.PATH,
  LC_ALL: 'C',
  LD_LIBRARY_PATH: join(native, 'lib'),
});
const logFile = (data: string) => join(dirname(data), 'postgres.log');

/** Makes the cluster beside its place and moves it there when complete, so that a half-made one is never opened. */
function makeCluster(native: string, data: string, runAs: RunAs) {
  const parent = dirname(data);
  for (const name of readdirSync(parent)) {
    const maker = new RegExp(`^${basename(data)}\\.new-(\\d+)$`).exec(name)?.[1];
    if (maker && !existsSync(`/proc/${maker}`)) rmSync(join(parent, name), { recursive: true, force: true });
  }
  const half = `${data}.new-${process.pid}`;
  rmSync(half, { recursive: true, force: true });
  mkdirSync(half, { mode: 0o700 });
  if (runAs) chownSync(half, runAs.uid, runAs.gid);
  const args = ['-D', half, '-U', 'fettlebook', '-A', 'trust', '-E', 'UTF8', '--locale=C.UTF-8', '--no-instructions'];
  const made = spawnSync(join(native, 'bin', 'initdb'), args, { ...runAs, cwd: '/', env: environment(native), encoding: 'utf8' });
  if (made.status !== 0) {
    rmSync(half, { recursive: true, force: true });
    const reason = made.error?.message ?? made.stderr.trim();
    const mend = /user does not exist/.test(reason)
      ? ' PostgreSQL wants a user that has a name: run as one that is in /etc/passwd, or set DATABASE_URL.'
      : '';
    throw new Error(`The database could not be made in ${parent}: ${reason}.${mend}`);
  }
  try {
    renameSync(half, data);
    syncFolder(parent);
  } catch (error) {
    rmSync(half, { recursive: true, force: true });
    if (existsSync(join(data, 'PG_VERSION'))) return; // another start was quicker
    throw new Error(`The database can't be kept in ${data}. Move away what is there, then start again.`, { cause: error });
  }
}

function syncFolder(path: string) {
  const folder = openSync(path, 'r');
  fsyncSync(folder);
  closeSync(folder);
}

const settings = {
  listen_addresses: '',
  unix_socket_permissions: '0700',
  max_connections: '40',
  shared_buffers: '64MB',
  timezone: 'UTC',
  log_timezone: 'UTC',
};

function launch(native: string, data: string, socket: string, runAs: RunAs): ChildProcess {
  const log = openSync(logFile(data), tooLong(logFile(data)) ? 'w' : 'a', 0o600);
  const options = Object.entries(settings).flatMap(([name, value]) => ['-c', `${name}=${value}`]);
  // A process group of its own: Ctrl-C in the terminal must reach us first, so that the last edits are still written.
  const child = spawn(join(native, 'bin', 'postgres'), ['-D', data, '-k', socket, ...options], {
    ...runAs,
    cwd: '/',
    env: environment(native),
    stdio: ['ignore', log, log],
    detached: true,
  });
  child.unref();
  closeSync(log);
  return child;
}

const tooLong = (file: string) => existsSync(file) && statSync(file).size > 1_000_000; // bytes

async function stopChild(child: ChildProcess) {
  if (child.exitCode !== null || child.signalCode !== null) return;
  child.ref();
  const gone = new Promise((resolve) => child.once('exit', resolve));
  child.kill('SIGINT'); // fast shutdown
  await gone;
}

/** An adopted server is not our child, so its end shows only by what it leaves. A number that is no longer its own is let be. */
async function stopAdopted(pid: number, data: string) {
  if (!workersIn(data).includes(pid)) return;
  process.kill(pid, 'SIGINT');
  while (workersIn(data).length > 0) await pause(20);
}
