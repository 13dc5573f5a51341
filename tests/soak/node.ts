/**
 * Servers of live pages as processes that can be killed. Any member may write: a client names itself in the cookie `member=<id>`.
 *
 *   const node = await startNode({ connection });   // one of several on that database
 *   const node = await startNode({ dataDir });      // with the built-in database, as the product starts it
 *
 * A child ends with the process that started it.
 */
import { fork } from 'node:child_process';
import { join } from 'node:path';
import type pg from 'pg';

export interface NodeOptions {
  /** The database to serve; pages must be there already. */
  connection?: pg.PoolConfig;
  /** Instead: a folder whose built-in database the child starts or adopts, and whose lock it holds. */
  dataDir?: string;
  /** 0 or absent: any free one. */
  port?: number;
  env?: Record<string, string>;
  /** Kills it this long after its start, whether it listens by then or not, ms. */
  killAfterMs?: number;
}
export interface NodeCounts {
  heapBytes: number;
  rssBytes: number;
  rooms: number;
  awake: number;
  sockets: number;
  unsavedBytes: number;
}
export interface SoakNode {
  url: string; // ws://127.0.0.1:<port>
  port: number;
  pid: number;
  /** Ends the process with SIGKILL; resolves when it is gone. */
  kill(): Promise<void>;
  /** Ends it in good order; resolves when it is gone. */
  stop(): Promise<void>;
  /** What it has printed so far. */
  output(): string;
  /** Its memory and what it has open. */
  counts(): Promise<NodeCounts>;
  /** Resolves when the process has ended, by whatever cause. */
  ended: Promise<void>;
  running(): boolean;
}

const startLimitMs = 60_000;
const stopLimitMs = 20_000;
const mostOutput = 200_000; // characters

/** Starts a server and waits until it listens. Rejects with what it printed when it ends before that. */
export async function startNode({ connection, dataDir, port = 0, env, killAfterMs }: NodeOptions): Promise<SoakNode> {
  const child = fork(join(import.meta.dirname, 'node-child.ts'), [JSON.stringify({ connection, dataDir }), String(port)], {
    execArgv: ['--import', 'tsx'],
    env: { ...process.env, ...env },
    silent: true,
  });
  let printed = '';
  const keep = (part: Buffer) => {
    printed = (printed + part).slice(-mostOutput);
  };
  child.stdout?.on('data', keep);
  child.stderr?.on('data', keep);
  const running = () => child.exitCode === null && child.signalCode === null;
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  if (killAfterMs !== undefined) setTimeout(() => child.kill('SIGKILL'), killAfterMs);

  const listening = new Promise<number>((resolve) => child.once('message', (message) => resolve((message as { port: number }).port)));
  let late: NodeJS.Timeout | undefined;
  const tooLate = new Promise<null>((resolve) => {
    late = setTimeout(() => resolve(null), startLimitMs);
  });
  const got = await Promise.race([listening, ended.then(() => null), tooLate]);
  clearTimeout(late);
  if (got === null) {
    child.kill('SIGKILL');
    throw new Error(`The server did not start. It printed:\n${printed}`);
  }

  const end = async (signal: NodeJS.Signals) => {
    if (running()) child.kill(signal);
    const hard = setTimeout(() => child.kill('SIGKILL'), stopLimitMs);
    await ended;
    clearTimeout(hard);
  };
  return {
    url: `ws://127.0.0.1:${got}`,
    port: got,
    pid: child.pid ?? 0,
    kill: () => end('SIGKILL'),
    stop: () => end('SIGTERM'),
    output: () => printed,
    counts: () =>
      new Promise((resolve) => {
        child.once('message', (message) => resolve(message as NodeCounts));
        child.send('counts');
      }),
    ended,
    running,
  };
}
