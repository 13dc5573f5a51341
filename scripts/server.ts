/** One process: live pages and web pages on one port, and the database where it is the built-in one. */

import { randomBytes } from 'node:crypto';
import { EventEmitter } from 'node:events';
import { readdirSync, readFileSync } from 'node:fs';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import next from 'next';
import { authorizePage } from '@/lib/access/sockets';
import { noteClientAddress } from '@/lib/http/client-address';
import { contentSecurityPolicy, isReport, reportHeaders, securityHeaders } from '@/lib/http/csp';
import { sameOrigin } from '@/lib/http/origin';
import { isStill, keepStill, takesGzip } from '@/lib/http/still';
import { setLive } from '@/lib/live/house';
import { createLive } from '@/lib/live/server';
import { startIndexer } from '@/lib/search/indexer';
import { readyIndex } from '@/lib/search/kept-index';
import { openBus } from '@/lib/store/bus';
import { closeDatabase, openDatabase } from '@/lib/store/database';
import { logThatFolds, startFolding } from '@/lib/store/folding';
import { holdLock } from '@/lib/store/lock';
import { pageLog } from '@/lib/store/log';
import { keepSecret, shareSecret } from '@/lib/store/one-secret';
import { startPostgres } from '@/lib/store/postgres';
import { settings } from '@/lib/store/settings';
import { seedDemo } from './seed';

export interface Running {
  url: string;
  startedMs: number;
  close(): Promise<void>;
}

export async function serve({ dev = false } = {}): Promise<Running> {
  const began = performance.now();
  const set = settings();
  const postgres = set.databaseUrl ? null : await startPostgres(set.dataDir);
  if (postgres?.notice) console.log(postgres.notice);
  const connection = postgres?.connection ?? { connectionString: set.databaseUrl };
  // The built-in database belongs to one server. On one of its own there may be several, which hear of each other.
  const releaseLock = postgres
    ? await holdLock(connection, {
        place: `the data folder ${set.dataDir}`,
        onLost: () => {
          console.error('The database connection that marks this server as the only one was lost; stopping so that no edit is half kept.');
          process.exit(1);
        },
      })
    : null;
  const database = await openDatabase(connection).catch(async (error) => {
    // A newer database is refused, and whoever is told to restore a backup must not do so under one that runs.
    await releaseLock?.();
    await postgres?.stop();
    throw error;
  });
  await (postgres ? keepSecret(set.secret) : shareSecret(database, set.secret));
  const bus = postgres ? null : await openBus(connection);

  const indexer = startIndexer();
  const folding = startFolding(database);
  const live = createLive({
    log: logThatFolds(pageLog(database, bus?.node), folding),
    authorize: authorizePage,
    sameOrigin: (request) => sameOrigin(request.headers, set.baseUrl),
    onCommitted: (page) => indexer.changed(page),
    onRest: (page) => folding.rested(page),
    ...(bus && { bus }),
  });
  setLive(live);
  if (set.demo) await seedDemo(database);
  await indexer.catchUp();
  readyIndex().catch((error) => console.error('The search could not be made ready; the first search tries again.', error));

  // The framework attaches its own upgrade listener and would kill our sockets: it gets an emitter of its own, and we route.
  const app = next({ dev, hostname: set.host, port: set.port, httpServer: new EventEmitter() as never });
  await app.prepare();
  const handle = app.getRequestHandler();
  const assets = dev ? ownFiles([]) : ownFiles(['worker', 'send']);
  const headers = securityHeaders(set.baseUrl);
  const errorPages: Record<'missing' | 'broken' | 'ended', string | null> = { missing: null, broken: null, ended: null };

  const server = createServer((request, response) => {
    noteClientAddress(request, set.trustedProxies);
    for (const [name, value] of Object.entries(headers)) response.setHeader(name, value);
    const path = (request.url ?? '/').split('?')[0] ?? '/';
    if (isReport(path)) for (const [name, value] of Object.entries(reportHeaders)) response.setHeader(name, value);
    const asset = assets.get(path);
    if (asset) return asset(request, response);
    const still = !dev && isStill(path);
    const nonce = still ? undefined : randomBytes(16).toString('base64');
    const policy = contentSecurityPolicy({ nonce, dev, socket: set.baseUrl.replace(/^http/, 'ws') });
    response.setHeader('content-security-policy', policy);
    request.headers['content-security-policy'] = policy; // the framework takes the nonce from here
    if (nonce) request.headers['x-nonce'] = nonce;
    else delete request.headers['x-nonce'];
    if (still && (request.method === 'GET' || request.method === 'HEAD' || request.method === 'POST') && !path.startsWith('/_next/'))
      keepStill(request, response, (status) =>
        status !== 404 ? errorPages.broken : isReport(path) ? errorPages.ended : errorPages.missing,
      );
    return void handle(request, response);
  });
  server.requestTimeout = 60 * 60_000; // an archive of some GiB over Wi-Fi; the head of a request has a minute as ever
  server.on('upgrade', async (request, socket, head) => {
    if (await live.upgrade(request, socket, head)) return;
    if (dev) return void app.getUpgradeHandler()(request, socket, head);
    socket.destroy();
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(set.port, set.host, resolve);
  });
  const page = async (path: string) => (await fetch(`http://${set.host === '0.0.0.0' ? '127.0.0.1' : set.host}:${set.port}${path}`)).text();
  errorPages.missing = await page('/missing');
  errorPages.broken = await page('/broken');
  errorPages.ended = await page('/ended');
  return {
    url: set.baseUrl,
    startedMs: performance.now() - began,
    async close() {
      server.close();
      server.closeIdleConnections();
      await live.close();
      await Promise.all([indexer.close(), folding.close(), bus?.close()]);
      await closeDatabase();
      await releaseLock?.();
      await postgres?.stop();
    },
  };
}

/** Files of our own beside the framework's: the small script of still pages, the icons, and what `bundled` scripts the build made. */
function ownFiles(bundled: string[]) {
  const root = join(import.meta.dirname, '..');
  const script = 'text/javascript; charset=utf-8';
  const icons = readdirSync(join(root, 'lib', 'offline', 'icons'));
  const names: Record<string, string> = { worker: '/sw.js', send: '/send.js' };
  return new Map([
    ['/enhance.js', asset(join(root, 'lib', 'ui', 'enhance.js'), script)] as const,
    ...bundled.map((name) => [names[name] ?? '', asset(join(root, '.next', 'offline', `${name}.js`), script)] as const),
    ...icons.map((name) => [`/icons/${name}`, asset(join(root, 'lib', 'offline', 'icons', name), 'image/png')] as const),
    // Asked for beside what cannot name an icon: a PDF, a picture, JSON.
    ['/favicon.ico', asset(join(root, 'lib', 'offline', 'icons', 'icon-192.png'), 'image/png')] as const,
  ]);
}

/** A file served compressed and checked again at each visit. */
function asset(file: string, type: string) {
  const plain = readFileSync(file);
  const packed = gzipSync(plain);
  return (request: IncomingMessage, response: ServerResponse) => {
    const gzip = takesGzip(request.headers['accept-encoding']) && packed.length < plain.length;
    response.setHeader('content-type', type);
    response.setHeader('cache-control', 'no-cache');
    response.setHeader('vary', 'accept-encoding');
    if (gzip) response.setHeader('content-encoding', 'gzip');
    response.end(gzip ? packed : plain);
  };
}
