/**
 * The live server beside a bare in-memory y-websocket server under the same load, in turns, and what only ours does.
 * `npm run bench -- live [part …]`: delivery, throughput, save, idle, return, servers, trace; none named: all of them.
 *
 * Clients run in this process, servers each in one of their own, all on one machine: ratios count, not records.
 */
import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { closeDatabase, openDatabase } from '@/lib/store/database';
import { startPostgres } from '@/lib/store/postgres';
import { benchDelivery, benchThroughput } from './live-beside';
import { benchIdle, benchReturn, benchSave, benchServers } from './live-only';
import { benchTrace } from './live-trace';

const folder = mkdtempSync(join(tmpdir(), 'bench-live-'));
chmodSync(folder, 0o755); // PostgreSQL runs as another user when we are root
const postgres = await startPostgres(folder);
const database = await openDatabase(postgres.connection);
// The log keeps who wrote what, so the writers are members.
await database.$client.query(
  `insert into "user" (id, name, email) select id, id, id || '@club.example'
   from (select 'm' || n as id from generate_series(0, 999) n union select 'writer' || n from generate_series(0, 49) n union select unnest(array['watcher', 'writer', 'warm'])) them`,
);
const connection = JSON.stringify(postgres.connection);
const asked = process.argv.slice(3);
const parts: Record<string, () => Promise<void>> = {
  delivery: () => benchDelivery(connection),
  throughput: () => benchThroughput(connection),
  save: () => benchSave(connection),
  servers: () => benchServers(connection),
  idle: () => benchIdle(connection),
  return: () => benchReturn(connection),
  trace: () => benchTrace(database),
};
console.log(
  `Load of the machine before: ${loadavg()
    .map((l) => l.toFixed(1))
    .join(' ')}`,
);
try {
  for (const [name, run] of Object.entries(parts)) if (asked.length === 0 || asked.includes(name)) await run();
} finally {
  await closeDatabase();
  await postgres.stop();
  rmSync(folder, { recursive: true, force: true });
}
