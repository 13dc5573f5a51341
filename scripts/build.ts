/** Builds the app when its sources have changed since the last build. */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { buildSync } from 'esbuild';

const root = join(import.meta.dirname, '..');
const mark = join(root, '.next', 'fettlebook-build');

/** Hash of everything the build reads. */
function sourceHash(): string {
  const hash = createHash('sha256');
  const walk = (path: string) => {
    if (statSync(path).isDirectory()) for (const name of readdirSync(path).sort()) walk(join(path, name));
    else hash.update(path.slice(root.length)).update(readFileSync(path));
  };
  for (const name of ['app', 'lib', 'content', 'scripts/build.ts', 'next.config.ts', 'tsconfig.json', 'package-lock.json'])
    walk(join(root, name));
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
  buildOffline(hash);
  writeFileSync(mark, hash);
}

/** The service worker and the sender of kept changes, each one file. The worker knows the build and all its static files. */
function buildOffline(build: string) {
  const from = join(root, '.next', 'static');
  const files = readdirSync(from, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => `/_next/static/${join(entry.parentPath, entry.name).slice(from.length + 1)}`);
  const shell = ['/offline', '/enhance.js', '/send.js', '/manifest.webmanifest', '/icons/icon-192.png'];
  for (const name of ['worker', 'send']) {
    buildSync({
      entryPoints: [join(root, 'lib', 'offline', `${name}.ts`)],
      outfile: join(root, '.next', 'offline', `${name}.js`),
      bundle: true,
      minify: true,
      format: name === 'worker' ? 'iife' : 'esm',
      target: 'es2022',
      tsconfig: join(root, 'tsconfig.json'),
      define: { BUILD: JSON.stringify(build.slice(0, 16)), FILES: JSON.stringify([...shell, ...files].map(encodeURI)) },
    });
  }
}
