/** Servers and their database, to be killed and started again. */
import { chmodSync, mkdtempSync, readFileSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { migrate } from '@/lib/store/migrate';
import { type RunningPostgres, startPostgres } from '@/lib/store/postgres';
import { workersIn } from '@/lib/store/postgres-process';
import { type NodeOptions, type SoakNode, startNode } from './node';

const noticeMs = 10_000; // a server with the built-in database notices its death long before

export interface Stage {
  readonly name: string;
  readonly nodes: SoakNode[];
  /** To the database, for reading what it has. */
  connection(): pg.PoolConfig;
  /** Whether the database itself can be killed here. */
  readonly mortal: boolean;
  /** Kills the postmaster, or all processes of the database; resolves when they are gone. */
  killDatabase(all: boolean): Promise<void>;
  /** Starts what is not running: the database and nodes, on the ports they had. Each start may itself be cut short. */
  revive(cutShortMs?: number): Promise<void>;
  close(): Promise<void>;
}

export function openFolder(): string {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'fettlebook-soak-')));
  chmodSync(folder, 0o755); // another user than root may have to pass through
  return folder;
}

function killProcesses(pids: number[]) {
  for (const pid of pids) {
    try {
      process.kill(pid, 'SIGKILL');
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ESRCH') throw error;
    }
  }
}

async function killCluster(data: string, all: boolean) {
  const postmaster = Number(readFileSync(join(data, 'postmaster.pid'), 'utf8').split('\n')[0]);
  const workers = workersIn(data);
  if (!workers.includes(postmaster)) throw new Error('the postmaster to be killed is not running');
  killProcesses(all ? workers : [postmaster]);
  while (workersIn(data).includes(postmaster)) await new Promise((resolve) => setTimeout(resolve, 5));
}

/** A start that may be cut short by a kill, then a whole one. */
async function startAgain(options: NodeOptions, cutShortMs: number | undefined): Promise<SoakNode> {
  if (cutShortMs !== undefined)
    await startNode({ ...options, killAfterMs: cutShortMs }).then(
      (node) => node.kill(),
      () => {},
    );
  return startNode(options);
}

/** One server with the built-in database: it starts the database, and ends when the database does. */
export async function builtInStage(): Promise<Stage> {
  const dataDir = openFolder();
  const data = join(dataDir, 'postgres');
  const nodes = [await startNode({ dataDir })];
  const port = nodes[0]!.port;
  const first = await startPostgres(dataDir); // adopts: only to learn how to reach it
  const { connection } = first;
  return {
    name: 'built-in database, one server',
    nodes,
    connection: () => connection,
    mortal: true,
    async killDatabase(all) {
      await killCluster(data, all);
      if (!nodes[0]!.running()) return;
      const limit = AbortSignal.timeout(noticeMs);
      const late = new Promise<'late'>((resolve) => limit.addEventListener('abort', () => resolve('late')));
      if ((await Promise.race([nodes[0]!.ended, late])) === 'late') throw new Error('the server runs on although its database was killed');
    },
    async revive(cutShortMs) {
      if (nodes[0]!.running()) return;
      nodes[0] = await startAgain({ dataDir, port }, cutShortMs);
    },
    async close() {
      for (const node of nodes) await node.stop();
      const left = await startPostgres(dataDir);
      await left.stop();
      rmSync(dataDir, { recursive: true, force: true });
    },
  };
}

/** Two servers on one database: that of `url`, or one started here, which can then be killed too. */
export async function sharedStage(url?: string): Promise<Stage> {
  const dataDir = url ? null : openFolder();
  let postgres: RunningPostgres | null = dataDir ? await startPostgres(dataDir) : null;
  const server: pg.PoolConfig = postgres?.connection ?? { connectionString: url };
  const { connection, drop } = url ? await ownDatabase(url) : { connection: server, drop: async () => {} };
  const pool = new pg.Pool(connection);
  await migrate(pool);
  await pool.end();
  const nodes = await Promise.all([startNode({ connection }), startNode({ connection })]);
  const ports = nodes.map((node) => node.port);
  return {
    name: `${url ? 'database at a URL' : 'a database of its own'}, two servers`,
    nodes,
    connection: () => connection,
    mortal: dataDir !== null,
    async killDatabase(all) {
      if (!dataDir) throw new Error('a database that was not started here is not killed');
      await killCluster(join(dataDir, 'postgres'), all);
      postgres = null;
    },
    async revive(cutShortMs) {
      if (dataDir) postgres ??= await startPostgres(dataDir);
      for (const [i, node] of nodes.entries())
        if (!node.running()) nodes[i] = await startAgain({ connection, port: ports[i] ?? 0 }, cutShortMs);
    },
    async close() {
      for (const node of nodes) await node.stop();
      await drop();
      await postgres?.stop();
      if (dataDir) rmSync(dataDir, { recursive: true, force: true });
    },
  };
}

/** A database of our own beside the one that the URL names, which may hold somebody's notebook. */
async function ownDatabase(url: string) {
  const name = `fettlebook_soak_${process.pid}_${Date.now()}`;
  const run = async (text: string) => {
    const client = new pg.Client({ connectionString: url });
    await client.connect();
    await client.query(text).finally(() => client.end());
  };
  await run(`create database ${name}`);
  const own = new URL(url);
  own.pathname = `/${name}`;
  return { connection: { connectionString: own.href }, drop: () => run(`drop database ${name} with (force)`) };
}
