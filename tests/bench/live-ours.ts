/** Our live server on a database, without the screens: `connection as JSON, port, restMs`. Prints its port; says its memory when asked. */
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { createLive } from '@/lib/live/server';
import { openBus } from '@/lib/store/bus';
import { openDatabase } from '@/lib/store/database';
import { logThatFolds, startFolding } from '@/lib/store/folding';
import { pageLog } from '@/lib/store/log';
import { getPage } from '@/lib/store/pages';

const [connection = '{}', port = '0', restMs = '30000'] = process.argv.slice(2);
const database = await openDatabase(JSON.parse(connection));
const bus = await openBus(JSON.parse(connection));
const folding = startFolding(database);
const live = createLive({
  log: logThatFolds(pageLog(database, bus.node), folding),
  // As the product: a query at the door and at each check.
  authorize: async (request, page) => {
    const id = /member=(\w+)/.exec(request.headers.cookie ?? '')?.[1];
    if (!id) return 401;
    return (await getPage(page)) ? { member: { id, name: id }, write: true } : 404;
  },
  sameOrigin: () => true,
  onCommitted: () => {},
  onRest: (page) => folding.rested(page),
  restMs: Number(restMs),
  bus,
});
const server = createServer();
server.on('upgrade', async (request, socket, head) => {
  if (!(await live.upgrade(request, socket, head))) socket.destroy();
});
server.listen(Number(port), '127.0.0.1', () => process.send?.({ port: (server.address() as AddressInfo).port }));
process.on('message', () => {
  globalThis.gc?.();
  const { heapUsed, external } = process.memoryUsage();
  process.send?.({ bytes: heapUsed + external, ...live.counts() });
});
process.on('disconnect', () => process.exit(0));
