/** What only ours does: saving, resting, coming back, several servers. */
import * as Y from 'yjs';
import { writeContent } from '@/lib/notebook/content';
import { createPage } from '@/lib/store/pages';
import { figure } from './figure';
import { newPage } from './live-beside';
import { memoryOf, openSocket, percentile, reader, serve, typing } from './live-writer';

const turn = () => new Promise((resolve) => setImmediate(resolve));
async function until(holds: () => boolean, ms = 60_000) {
  for (const end = performance.now() + ms; !holds(); await turn()) if (performance.now() > end) throw new Error('took too long');
}

/** 500 letters a second of 50 writers over 10 pages: from sending to "the log has it". */
export async function benchSave(connection: string) {
  const ours = await serve('live-ours', [connection]);
  const pages = await Promise.all(Array.from({ length: 10 }, newPage));
  const letters = 80;
  const hands = await Promise.all(
    Array.from({ length: 50 }, async (_, n) => ({
      ...typing(letters),
      client: await openSocket(ours.port, pages[n % 10] ?? '', `writer${n}`),
      at: [] as number[],
      known: 0,
    })),
  );
  const waits: number[] = [];
  const look = () => {
    const now = performance.now();
    for (const hand of hands) for (; hand.known < hand.client.saved; hand.known++) waits.push(now - (hand.at[hand.known] ?? now));
  };
  for (const hand of hands) hand.client.socket.on('message', look);
  const began = performance.now();
  for (let k = 0; k < 50 * letters; k++) {
    await until(() => performance.now() - began >= k * 2);
    const hand = hands[k % 50];
    const letter = Math.floor(k / 50);
    const frame = hand?.frames[letter];
    if (!hand || !frame) continue;
    hand.at[letter] = performance.now();
    hand.client.socket.send(frame);
  }
  await until(() => waits.length >= 50 * letters);
  for (const p of [50, 95, 99])
    figure('live', `saved at 500 letters/s, p${p}`, percentile(waits.slice(500), p), 'ms', p === 95 ? 30 : undefined);
  for (const { client } of hands) client.close();
  await ours.kill();
}

/** Two servers on one database: from sending at the one to applied by a client of the other. */
export async function benchServers(connection: string) {
  const [one, two] = [await serve('live-ours', [connection]), await serve('live-ours', [connection])];
  const page = await newPage();
  const letters = 200;
  const hand = typing(letters);
  const at: number[] = [];
  const waits: number[] = [];
  const watcher = await openSocket(
    two.port,
    page,
    'watcher',
    reader((client, clock) => {
      if (client !== hand.client) return;
      const now = performance.now();
      while (waits.length < letters && (hand.clocks[waits.length] ?? 0) <= clock) waits.push(now - (at[waits.length] ?? now));
    }),
  );
  const writer = await openSocket(one.port, page, 'writer');
  for (const [letter, frame] of hand.frames.entries()) {
    at[letter] = performance.now();
    writer.socket.send(frame);
    await until(() => performance.now() - (at[letter] ?? 0) > 20);
  }
  await until(() => waits.length === letters);
  for (const p of [50, 95]) figure('live', `from one server to another, p${p}`, percentile(waits, p), 'ms');
  for (const client of [watcher, writer]) client.close();
  await one.kill();
  await two.kill();
}

/** 100 open pages of about 20 KB that nobody edits: memory of each, beside an equal server without them. */
export async function benchIdle(connection: string) {
  const words = (n: number) => Array.from({ length: 3000 }, (_, k) => `word${(n * 7 + k * 13) % 997}`).join(' ');
  const doc = new Y.Doc();
  const content = {
    type: 'doc',
    content: Array.from({ length: 12 }, (_, n) => ({ type: 'paragraph', content: [{ type: 'text', text: words(n).slice(0, 1700) }] })),
  };
  writeContent(doc, { doc: content, widgets: {} });
  const update = Y.encodeStateAsUpdate(doc);
  const pages = await Promise.all(
    Array.from({ length: 100 }, async () => (await createPage({ machineId: null, member: null, update })).id),
  );
  const ours = await serve('live-ours', [connection, '0', '300']);
  const warm = await openSocket(ours.port, await newPage(), 'warm');
  const before = await memoryOf(ours);
  const clients = await Promise.all(pages.map((page, n) => openSocket(ours.port, page, `m${n}`)));
  let after = await memoryOf(ours);
  for (const end = performance.now() + 20_000; after.awake > 1 && performance.now() < end; after = await memoryOf(ours)) await turn();
  figure(
    'live',
    `memory of an idle open page of ${update.length} bytes`,
    (after.bytes - before.bytes) / pages.length / 1024,
    'KiB',
    (2 * update.length) / 1024 + 64,
  );
  for (const client of [warm, ...clients]) client.close();
  await ours.kill();
}

/** After kill -9 and a new start, 1,000 windows on 100 pages come back. */
export async function benchReturn(connection: string) {
  const first = await serve('live-ours', [connection]);
  const pages = await Promise.all(Array.from({ length: 100 }, newPage));
  const open = (port: number) => Promise.all(Array.from({ length: 1000 }, (_, n) => openSocket(port, pages[n % 100] ?? '', `m${n}`)));
  const before = await open(first.port);
  for (const client of before) client.socket.on('error', () => {});
  await first.kill();
  const began = performance.now();
  const again = await serve('live-ours', [connection, String(first.port)]);
  const after = await open(first.port);
  figure('live', '1,000 windows in sync after kill -9 and a new start', (performance.now() - began) / 1000, 's', 30);
  for (const client of after) client.close();
  await again.kill();
}
