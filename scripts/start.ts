/**
 * Starts Fettlebook: builds when the sources have changed, then serves.
 *
 *   npm start                first run asks for the owner's account
 *   npm run demo             the demo club, in a data folder of its own
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const root = join(import.meta.dirname, '..');
process.chdir(root);
process.env.NEXT_TELEMETRY_DISABLED = '1';
const dev = process.argv.includes('--dev');
Object.assign(process.env, { NODE_ENV: dev ? 'development' : 'production' });
if (process.argv.includes('--demo')) {
  process.env.DEMO = '1';
  process.env.DATA_DIR ??= './data/demo';
}

const mark = join(root, '.next', 'fettlebook-build');

/** Hash of everything the build reads. */
export function sourceHash(): string {
  const hash = createHash('sha256');
  const walk = (path: string) => {
    if (statSync(path).isDirectory()) for (const name of readdirSync(path).sort()) walk(join(path, name));
    else hash.update(path).update(readFileSync(path));
  };
  for (const name of ['app', 'lib', 'content', 'next.config.ts', 'tsconfig.json', 'package-lock.json']) walk(join(root, name));
  return hash.digest('hex');
}

/** Builds unless the last build was made from the same sources. */
export function buildWhenNeeded() {
  const hash = sourceHash();
  if (existsSync(mark) && readFileSync(mark, 'utf8') === hash) return;
  console.log('Building, about half a minute. The next start skips this.');
  const built = spawnSync(process.execPath, [join(root, 'node_modules', 'next', 'dist', 'bin', 'next'), 'build'], { stdio: 'inherit', env: process.env });
  if (built.status !== 0) process.exit(built.status ?? 1);
  writeFileSync(mark, hash);
}

if (!dev) buildWhenNeeded();
const { serve } = await import('./server');
try {
  const running = await serve({ dev });
  const { demoWelcome } = await import('./seed');
  console.log(`\nFettlebook is at ${running.url}  (ready in ${(running.startedMs / 1000).toFixed(1)} s)`);
  console.log(process.env.DEMO ? demoWelcome() : 'The first account that is made there becomes the owner.');
  console.log('Stop with Ctrl-C.\n');
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.once(signal, async () => {
      await running.close();
      process.exit(0);
    });
  }
} catch (error) {
  console.error(`\n${error instanceof Error ? error.message : String(error)}\n`);
  process.exit(1);
}
