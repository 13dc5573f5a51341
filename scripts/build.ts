/** Builds the app when its sources have changed since the last build. */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const root = join(import.meta.dirname, '..');
const mark = join(root, '.next', 'fettlebook-build');

/** Hash of everything the build reads. */
function sourceHash(): string {
  const hash = createHash('sha256');
  const walk = (path: string) => {
    if (statSync(path).isDirectory()) for (const name of readdirSync(path).sort()) walk(join(path, name));
    else hash.update(path.slice(root.length)).update(readFileSync(path));
  };
  for (const name of ['app', 'lib', 'content', 'next.config.ts', 'tsconfig.json', 'package-lock.json']) walk(join(root, name));
  return hash.digest('hex');
}

export function buildWhenNeeded() {
  const hash = sourceHash();
  if (existsSync(mark) && readFileSync(mark, 'utf8') === hash) return;
  console.log('Building, about half a minute. The next start skips this.');
  const env = { ...process.env, NEXT_TELEMETRY_DISABLED: '1', NODE_ENV: 'production' as const };
  const built = spawnSync(process.execPath, [join(root, 'node_modules', 'next', 'dist', 'bin', 'next'), 'build'], {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
    env,
  });
  if (built.status !== 0) process.exit(built.status ?? 1);
  writeFileSync(mark, hash);
}
