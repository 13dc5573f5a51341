/**
 * Past fixes by symptom: how good the answers are, how quick with many repairs, how quick in the browser.
 * `npm run bench -- search [part …]`: quality, tune (the same on the questions for tuning), scale, browser; none named: quality, scale and
 * browser. `REPAIRS=10000` makes the scale another one than 100,000.
 */
import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { closeDatabase, type Database, openDatabase } from '@/lib/store/database';
import { startPostgres } from '@/lib/store/postgres';
import { benchBrowser } from './search-browser';
import { benchQuality } from './search-quality';
import { benchScale } from './search-scale';

const parts: Record<string, () => Promise<void>> = {
  quality: () => withDatabase((database) => benchQuality(database, 'hold')),
  tune: () => withDatabase((database) => benchQuality(database, 'tune')),
  scale: () => withDatabase((database) => benchScale(database, Number(process.env.REPAIRS ?? 100_000))),
  browser: benchBrowser,
};

/** A database of its own for each part. */
async function withDatabase(run: (database: Database) => Promise<void>) {
  const folder = mkdtempSync(join(tmpdir(), 'bench-search-'));
  chmodSync(folder, 0o755); // PostgreSQL runs as another user when we are root
  const postgres = await startPostgres(folder);
  try {
    await run(await openDatabase(postgres.connection));
  } finally {
    await closeDatabase();
    await postgres.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

const asked = process.argv.slice(3);
const load = () =>
  loadavg()
    .map((l) => l.toFixed(1))
    .join(' ');
console.log(`Load of the machine before: ${load()}`);
for (const name of asked.length > 0 ? asked : ['quality', 'scale', 'browser']) {
  const part = parts[name];
  if (!part) throw new Error(`There is no part ${name}; name ${Object.keys(parts).join(', ')}`);
  await part();
}
console.log(`Load of the machine after: ${load()}`);
