import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { closeDatabase, openDatabase } from '@/lib/store/database';
import { pageLog } from '@/lib/store/log';
import { createPage } from '@/lib/store/pages';
import { type RunningPostgres, startPostgres } from '@/lib/store/postgres';
import { installedBinaries, placeBinaries } from '@/lib/store/postgres-place';
import { workersIn } from '@/lib/store/postgres-process';
import { openTempFolder } from './cluster';

const asRoot = process.getuid?.() === 0;
const nobody = { uid: 65534, gid: 65534 };
let folder: string;
let running: RunningPostgres[];
const elsewhere: string[] = [];

beforeEach(() => {
  folder = realpathSync(openTempFolder());
  running = [];
});
afterEach(async () => {
  vi.restoreAllMocks();
  await closeDatabase();
  for (const server of running) await server.stop();
  for (const path of [folder, ...elsewhere.splice(0)]) rmSync(path, { recursive: true, force: true });
});

const start = async (dataDir = folder) => {
  const server = await startPostgres(dataDir);
  running.push(server);
  return server;
};
const ask = async (server: RunningPostgres, text: string): Promise<unknown[]> => {
  const client = new pg.Client(server.connection);
  await client.connect();
  try {
    return (await client.query(text)).rows;
  } finally {
    await client.end();
  }
};
const data = () => join(folder, 'postgres');
const postmaster = (of = data()) => Number(readFileSync(join(of, 'postmaster.pid'), 'utf8').split('\n')[0]);

test('starts, listens on no network, keeps what was written, and leaves no process', async () => {
  const first = await start();
  expect(first.notice).toBeUndefined();
  expect(await ask(first, 'show listen_addresses')).toEqual([{ listen_addresses: '' }]);
  expect(await ask(first, 'show fsync')).toEqual([{ fsync: 'on' }]);
  expect(statSync(join(folder, 'run')).mode & 0o777).toBe(0o700);
  expect(statSync(data()).mode & 0o777).toBe(0o700);
  expect(statSync(data()).uid).toBe(asRoot ? 65534 : process.getuid?.());
  await ask(first, 'create table kept as select 1 as one');
  await first.stop();
  await first.stop();
  expect(workersIn(data())).toEqual([]);
  expect(await ask(await start(), 'select * from kept')).toEqual([{ one: 1 }]);
});

test('a second start adopts the server that runs, and its stop ends it', async () => {
  await start();
  const pid = postmaster();
  const second = await start();
  expect(postmaster()).toBe(pid);
  expect(await ask(second, 'select 1 as one')).toEqual([{ one: 1 }]);
  await second.stop();
  expect(workersIn(data())).toEqual([]);
});

test('three starts at once share one server', async () => {
  const servers = await Promise.all([start(), start(), start()]);
  for (const server of servers) expect(await ask(server, 'select 1 as one')).toEqual([{ one: 1 }]);
  expect(new Set(servers.map((s) => s.connection.host)).size).toBe(1);
});

test.each(['the postmaster', 'all its processes'])('kill -9 of %s loses nothing that was acknowledged', async (whom) => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
  const log = pageLog(await openDatabase((await start()).connection));
  const { id } = await createPage({ machineId: null, member: null, update: Uint8Array.of(0) });
  const acknowledged = [0];
  let next = 1;
  const writer = async () => {
    for (;;) {
      const n = next;
      next += 1;
      await log.append([{ page: id, update: Uint8Array.of(n >> 8, n & 255), member: null }]);
      acknowledged.push(n);
      if (acknowledged.length === 200)
        for (const pid of whom === 'the postmaster' ? [postmaster()] : workersIn(data())) process.kill(pid, 'SIGKILL');
    }
  };
  await Promise.allSettled(Array.from({ length: 4 }, writer)); // each ends by the failure of its last append
  await closeDatabase();
  expect(existsSync(join(data(), 'postmaster.pid'))).toBe(true);

  const again = pageLog(await openDatabase((await start()).connection));
  const kept = new Set((await again.load(id)).tail.map((u) => u.reduce((n, byte) => n * 256 + byte, 0)));
  expect(acknowledged.length).toBeGreaterThanOrEqual(200);
  expect(acknowledged.filter((n) => !kept.has(n))).toEqual([]);
  await again.append([{ page: id, update: Uint8Array.of(1), member: null }]);
});

test('a lock file that names a living process which is no PostgreSQL of this folder is cleared away', async () => {
  await (await start()).stop();
  writeFileSync(join(data(), 'postmaster.pid'), `${process.pid}\n${data()}\n1\n5432\n${join(folder, 'run')}\n\n`);
  expect(await ask(await start(), 'select 1 as one')).toEqual([{ one: 1 }]);
  expect(postmaster()).not.toBe(process.pid);
});

test('a cluster that was half made by a killed start is made again, and one that others occupy is left alone', async () => {
  const dead = spawnSync(process.execPath, ['--version']).pid;
  mkdirSync(`${data()}.new-${dead}`);
  const server = await start();
  expect(readdirSync(folder).filter((name) => name.includes('.new-'))).toEqual([]);
  await server.stop();
  rmSync(join(data(), 'PG_VERSION'));
  await expect(startPostgres(folder)).rejects.toThrow(
    `The database can't be kept in ${data()}. Move away what is there, then start again.`,
  );
  expect(existsSync(join(data(), 'global', 'pg_control'))).toBe(true);
});

test('a server that cannot start says why', async () => {
  await (await start()).stop();
  writeFileSync(join(data(), 'postgresql.auto.conf'), 'no_such_parameter = 1\n');
  await expect(startPostgres(folder)).rejects.toThrow(/PostgreSQL did not start[\s\S]*no_such_parameter/);
});

test('a path too long for a socket still works', async () => {
  const deep = join(folder, 'd'.repeat(100));
  const server = await start(deep);
  expect(await ask(server, 'select 1 as one')).toEqual([{ one: 1 }]);
  const socket = String(server.connection.host);
  expect(socket.startsWith(deep)).toBe(false);
  expect(statSync(socket).mode & 0o777).toBe(0o700);
  elsewhere.push(socket);
});

describe('a data folder that only its owner can enter', () => {
  const closed = () => {
    const dataDir = join(folder, 'closed', 'data');
    mkdirSync(dataDir, { recursive: true });
    chmodSync(dirname(dataDir), 0o700);
    return dataDir;
  };

  test('root keeps the cluster in an open folder and says so; anyone else keeps it inside', async () => {
    const dataDir = closed();
    const server = await start(dataDir);
    await ask(server, 'create table kept as select 1 as one');
    await server.stop();
    const pointer = join(dataDir, 'postgres.place');
    const place = asRoot ? readFileSync(pointer, 'utf8').trim() : dataDir;
    if (asRoot) elsewhere.push(place);
    expect(place).toMatch(asRoot ? /^\/var\/lib\/fettlebook\/[0-9a-f]{12}$/ : /closed\/data$/);
    expect(existsSync(join(place, 'postgres', 'PG_VERSION'))).toBe(true);
    expect(server.notice ?? '').toBe(
      asRoot
        ? `The database is in ${place}/postgres, because PostgreSQL may not run as root and no other user can get into ${dataDir}. Keep both folders; they belong together.`
        : '',
    );
    // Opened later, the folder still leads to the same data.
    chmodSync(dirname(dataDir), 0o755);
    expect(await ask(await start(dataDir), 'select * from kept')).toEqual([{ one: 1 }]);
    // A new data folder at the same path does not inherit the old one's data.
    if (asRoot) {
      rmSync(pointer);
      chmodSync(dirname(dataDir), 0o700);
      const fresh = await start(dataDir);
      elsewhere.push(readFileSync(pointer, 'utf8').trim());
      await expect(ask(fresh, 'select * from kept')).rejects.toThrow(/does not exist/);
    }
  });

  test('a cluster inside that was shut in later is never replaced by an empty one', async () => {
    const dataDir = join(folder, 'closed', 'data');
    await (await start(dataDir)).stop();
    chmodSync(dirname(dataDir), 0o700);
    if (asRoot)
      await expect(startPostgres(dataDir)).rejects.toThrow(/can no longer be reached by the user it runs as \(65534\).*chmod o\+x/);
    else expect(await ask(await start(dataDir), 'select 1 as one')).toEqual([{ one: 1 }]);
    expect(existsSync(join(dataDir, 'postgres.place'))).toBe(false);
  });

  test('programs that only root can reach are copied to an open folder', () => {
    const installed = installedBinaries();
    const native = join(folder, 'closed', 'native');
    cpSync(installed.native, native, { recursive: true, verbatimSymlinks: true });
    chmodSync(dirname(native), 0o700);
    const version = `test-${process.pid}`;
    elsewhere.push(`/var/lib/fettlebook/postgresql-${version}`);
    const placed = placeBinaries(asRoot ? nobody : null, { ...installed, native, version });
    expect(placed.native).toBe(asRoot ? `/var/lib/fettlebook/postgresql-${version}` : native);
    expect(placed.notice ?? '').toMatch(asRoot ? /^PostgreSQL runs from \/var\/lib\/fettlebook\/postgresql-test-/ : /^$/);
    const user = asRoot ? nobody : {};
    expect(spawnSync(join(placed.native, 'bin', 'postgres'), ['--version'], { ...user, cwd: '/', encoding: 'utf8' }).stdout).toMatch(
      /^postgres \(PostgreSQL\) \d+/,
    );
  });
});

describe('started by', () => {
  /** Runs the script as another user; only root can, anyone else runs it as themselves. */
  const startAs = (uid: number) => {
    const home = join(folder, 'home');
    mkdirSync(home, { mode: 0o700 });
    if (asRoot) chownSync(home, uid, uid);
    const script = join(import.meta.dirname, 'start-postgres.ts');
    return spawnSync(process.execPath, ['--import', 'tsx', script, join(home, 'data')], {
      ...(asRoot ? { uid, gid: uid } : {}),
      env: { ...process.env, HOME: home, TMPDIR: home },
      encoding: 'utf8',
    });
  };

  test('an ordinary user with a closed home: everything stays there', () => {
    const daemon = 1; // stands in every /etc/passwd
    const ran = startAs(daemon);
    expect(ran.stderr).toBe('');
    expect(JSON.parse(ran.stdout)).toEqual({ uid: asRoot ? daemon : process.getuid?.(), answer: 42, notice: null });
    expect(existsSync(join(folder, 'home', 'data', 'postgres', 'PG_VERSION'))).toBe(true);
  });

  test('a user without a name: PostgreSQL will not have it, and the mend is named', () => {
    const ran = startAs(3_456_789);
    if (asRoot) expect(ran.stderr).toMatch(/run as one that is in \/etc\/passwd, or set DATABASE_URL/);
    else expect(ran.stderr).toBe('');
  });
});
