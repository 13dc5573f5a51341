/** `npm run bench -- NAME` runs tests/bench/NAME.ts: one JSON line a figure, `{bench, figure, value, unit, bar, holds}`. */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';

const dir = join(import.meta.dirname, '..', 'tests', 'bench');
const name = process.argv[2] ?? '';
const file = join(dir, `${name}.ts`);
const helpers = new Set(['figure', 'alone']);
if (!/^[a-z]+$/.test(name) || helpers.has(name) || !existsSync(file)) {
  const known = readdirSync(dir)
    .map((f) => f.replace(/\.ts$/, ''))
    .filter((f) => /^[a-z]+$/.test(f) && !helpers.has(f));
  console.error(`Name a bench: npm run bench -- ${known.join(' | ')}`);
  process.exit(2);
}
await import(file);
