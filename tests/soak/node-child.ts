/** A server of live pages only, in a process of its own: `{ connection } or { dataDir } as JSON, port`. Started by node.ts. */
import { createServer } from 'node:http';
import type { AddressInfo, Socket } from 'node:net';
import type pg from 'pg';
import { createLive } from '@/lib/live/server';
import { openBus } from '@/lib/store/bus';
import { closeDatabase, openDatabase } from '@/lib/store/database';
import { logThatFolds, startFolding } from '@/lib/store/folding';
import { holdLock } from '@/lib/store/lock';
import { pageLog } from '@/lib/store/log';
import { getPage } from '@/lib/store/pages';
import { startPostgres } from '@/lib/store/postgres';

const { connection, dataDir } = JSON.parse(process.argv[2] ?? '{}') as { connection?: pg.PoolConfig; dataDir?: string };
const port = Number(process.argv[3] ?? 0);

// As scripts/server.ts: the built-in database belongs to one server, which ends when its lock is lost.
const postgres = connection ? null : await startPostgres(dataDir ?? '');
const to = connection ?? postgres?.connection ?? {};
const releaseLock = postgres
  ? await holdLock(to, {
      place: `the data folder ${dataDir}`,
      onLost: () => {
        console.error('The lock was lost; stopping.');
        process.exit(1);
      },
    })
  : null;
const database = await openDatabase(to);
const bus = postgres ? null : await openBus(to);
const folding = startFolding(database);
const live = createLive({
  log: logThatFolds(pageLog(database, bus?.node), folding),
  authorize: async (request, page) => {
    const id = /(?:^|;\s*)member=([\w-]+)/.exec(request.headers.cookie ?? '')?.[1];
    if (!id) return 401;
    return (await getPage(page)) ? { member: { id, name: id }, write: true } : 404;
  },
  sameOrigin: () => true,
  onCommitted: () => {},
  onRest: (page) => folding.rested(page),
  ...(bus && { bus }),
});
const server = createServer();
const sockets = new Set<Socket>();
server.on('connection', (socket: Socket) => {
  sockets.add(socket);
  socket.on('close', () => sockets.delete(socket));
});
server.on('upgrade', async (request, socket, head) => {
  if (!(await live.upgrade(request, socket, head))) socket.destroy();
});
await new Promise<void>((resolve, reject) => {
  server.once('error', reject);
  server.listen(port, '127.0.0.1', resolve);
});
process.send?.({ port: (server.address() as AddressInfo).port });

process.on('message', () => {
  const { heapUsed, external, rss } = process.memoryUsage();
  process.send?.({ heapBytes: heapUsed + external, rssBytes: rss, ...live.counts() });
});
process.on('disconnect', () => process.exit(0)); // whoever started it is gone
process.once('SIGTERM', async () => {
  server.close();
  await live.close();
  for (const socket of sockets) socket.destroySoon();
  await Promise.all([folding.close(), bus?.close()]);
  await closeDatabase();
  await releaseLock?.();
  await postgres?.stop();
  process.exit(0);
});
