/** Starts the real server, as `npm start` does, on a port and a data folder of its own; another build's when its folder is given. */
import { type ChildProcess, spawn } from 'node:child_process';
import { chmodSync, mkdtempSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const root = join(import.meta.dirname, '..', '..');

export interface TestServer {
  url: string;
  dataDir: string;
  port: number;
  process: ChildProcess;
  output(): string;
  /** Ends it politely and waits until it is gone. */
  stop(): Promise<void>;
  /** Ends it at once, as `kill -9` does. Its database goes on for a moment and is adopted by the next start. */
  kill(): Promise<void>;
}

export const freePort = () =>
  new Promise<number>((resolve) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => resolve(typeof address === 'object' && address ? address.port : 0));
    });
  });

/** Open to the user that PostgreSQL runs as when the tests run as root. */
export function newDataDir() {
  const dir = mkdtempSync(join(tmpdir(), 'fettlebook-data-'));
  chmodSync(dir, 0o755);
  return dir;
}

interface Options {
  demo?: boolean;
  dataDir?: string;
  port?: number;
  build?: string;
}

/** The process alone, from its first moment. */
export async function spawnServer(options: Options = {}) {
  const port = options.port ?? (await freePort());
  const dataDir = options.dataDir ?? newDataDir();
  const child = spawn(process.execPath, ['--import', 'tsx', 'scripts/start.ts', '--built', ...(options.demo ? ['--demo'] : [])], {
    cwd: options.build ?? root,
    env: {
      ...process.env,
      NODE_ENV: 'production',
      PORT: String(port),
      HOST: '127.0.0.1',
      DATA_DIR: dataDir,
      DATABASE_URL: '',
      SIGN_IN_LIMIT: '1000',
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  return { child, port, dataDir, url: `http://127.0.0.1:${port}` };
}

export async function startServer(options: Options = {}): Promise<TestServer> {
  const { child, port, dataDir, url } = await spawnServer(options);
  let output = '';
  const exited = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  await new Promise<void>((resolve, reject) => {
    const hear = (chunk: Buffer) => {
      output += chunk.toString();
      if (output.includes('Stop with Ctrl-C')) resolve();
    };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    child.once('exit', (code) => reject(new Error(`the server stopped with ${code}:\n${output}`)));
  });
  const end = (signal: NodeJS.Signals) => async () => {
    if (child.exitCode === null && child.signalCode === null) child.kill(signal);
    await exited;
  };
  return {
    url,
    dataDir,
    port,
    process: child,
    output: () => output,
    stop: end('SIGTERM'),
    kill: end('SIGKILL'),
  };
}
