/** How much one may ask, and what one is told who asks for more. */
import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { WebSocket as NodeSocket } from 'ws';
import * as Y from 'yjs';
import { Budget, mostPageBytes } from '@/lib/live/limits';
import { closePageFull, closeTooBig, closeTooSlow, closeTryAgain, messageSaved, readSaved } from '@/lib/live/protocol';
import { refusalWords } from '@/lib/live/words';
import { FakeLog, type House, type RawSocket, startHouse, syncFrame, textOf, until, write } from './helpers';

let log: FakeLog;
let house: House;
beforeEach(async () => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
  vi.spyOn(console, 'warn').mockImplementation(() => {});
  log = new FakeLog('page');
  house = await startHouse(log);
});
afterEach(async () => {
  await house.stop();
  vi.restoreAllMocks();
});

const saved = (page: ReturnType<House['open']>) => page.saved.getSnapshot().state === 'saved';
const framesSaved = (raw: RawSocket) => Math.max(0, ...raw.of(messageSaved).map((d) => readSaved(d).frames));
/** Content of that many bytes, as an update. */
function content(bytes: number): Uint8Array {
  const doc = new Y.Doc();
  write(doc, 'x'.repeat(bytes));
  return Y.encodeStateAsUpdate(doc);
}

describe('too much at once', () => {
  it('an edit over 1 MB is refused with a reason, and the window does not come back with it for ever', async () => {
    const ada = house.open('page', 'ada');
    const ben = house.open('page', 'ben');
    await until('open', () => saved(ada) && saved(ben));
    write(ada.doc, 'x'.repeat((1 << 20) + 1));
    await until('refused', () => ada.saved.getSnapshot().state === 'refused');
    expect(ada.saved.getSnapshot().reason).toBe(refusalWords(closeTooBig));
    expect(ada.saved.getSnapshot().reason).toContain('1 MB');
    expect(ada.provider.shouldConnect).toBe(false);
    write(ben.doc, 'goes on');
    await until('saved', () => saved(ben) && log.text('page') === 'goes on');
  });
  it('an edit over 8 MB is cut off by the socket itself, and the window does not come back with it for ever either', async () => {
    const ada = house.open('page', 'ada');
    await until('open', () => saved(ada));
    write(ada.doc, 'x'.repeat((8 << 20) + 1));
    await until('refused', () => ada.saved.getSnapshot().state === 'refused');
    expect(ada.saved.getSnapshot().reason).toBe(refusalWords(closeTooBig));
    expect(ada.provider.shouldConnect).toBe(false);
  });
  it('what was written offline may be more: it comes in one frame of up to 4 MB', async () => {
    const raw = await house.raw('page', 'ada').greeted();
    raw.send(syncFrame(1, content(3 << 20)));
    await until('saved', () => framesSaved(raw) === 1);
    raw.send(syncFrame(1, content(4 << 20)));
    expect(await raw.end()).toBe(closeTooBig);
  });
  it('over 8 MB not even the reason is worth reading it', async () => {
    const raw = await house.raw('page', 'ada').greeted();
    raw.send(new Uint8Array((8 << 20) + 1));
    expect(await raw.end()).toBe(1009); // RFC 6455: message too big
  });
});

describe('a page of 20 MB', () => {
  it('takes no more content, but deletes and readers', async () => {
    const part = Math.ceil(mostPageBytes / 8);
    const doc = new Y.Doc();
    const updates: Uint8Array[] = [];
    doc.on('update', (u: Uint8Array) => updates.push(u));
    for (let i = 0; i < 8; i++) write(doc, String(i).repeat(part));
    log.pages.set(
      'page',
      updates.map((update) => ({ page: 'page', update, member: null })),
    );
    const ada = house.open('page', 'ada');
    await until('open', () => saved(ada));
    expect(console.warn).toHaveBeenCalledWith(expect.stringContaining('is big'));
    const entries = log.pages.get('page')!.length;
    ada.doc.transact(() => ada.doc.getXmlFragment('content').delete(0, 1));
    await until('the delete is saved', () => saved(ada) && log.pages.get('page')!.length === entries + 1);
    write(ada.doc, 'one more');
    await until('refused', () => ada.saved.getSnapshot().state === 'refused');
    expect(ada.saved.getSnapshot().reason).toBe(refusalWords(closePageFull));
    expect(ada.saved.getSnapshot().kept).toBe(1);
    expect(log.pages.get('page')).toHaveLength(entries + 1);
  }, 30_000);
});

it('a member has one allowance over all sockets, and a new socket is no new one', async () => {
  const nothing = syncFrame(2, Uint8Array.of(0, 0));
  const raws = await Promise.all(Array.from({ length: 4 }, () => house.raw('page', 'ada').greeted()));
  for (const raw of raws) for (let i = 0; i < 900; i++) raw.send(nothing); // each alone stays below its own 1000
  const codes = () => raws.filter((raw) => raw.closed).map((raw) => raw.closed!.code);
  await until('some are cut off', () => codes().length > 0);
  expect(new Set(codes())).toEqual(new Set([closeTooSlow]));
  const again = await house.raw('page', 'ada').greeted();
  for (let i = 0; i < 900; i++) again.send(nothing);
  expect(await again.end()).toBe(closeTooSlow);
  const ben = await house.raw('page', 'ben').greeted();
  for (let i = 0; i < 900; i++) ben.send(nothing);
  await until('answered', () => framesSaved(ben) === 900);
});

it('a budget fills up with time, to its brim and not beyond, and owes nothing', () => {
  let now = 0;
  vi.spyOn(performance, 'now').mockImplementation(() => now);
  const budget = new Budget(10);
  expect([budget.full, budget.afford(50), budget.afford(1), budget.afford(1000)]).toEqual([true, true, false, false]);
  now += 100;
  expect([budget.afford(1), budget.afford(1)]).toEqual([true, false]);
  now += 3_600_000;
  expect([budget.full, budget.afford(50), budget.afford(1)]).toEqual([true, true, false]);
});

it('lets 200 be on one page, and the next wait', async () => {
  for (let i = 0; i < 11; i++) house.members.set(`m${i}`, { name: `Member ${i}`, write: true });
  const raws = await Promise.all(Array.from({ length: 200 }, (_, i) => house.raw('page', `m${i % 10}`).greeted()));
  expect(raws.every((raw) => raw.open)).toBe(true);
  expect(await house.raw('page', 'm10').end()).toBe(closeTryAgain);
  raws[0]!.socket.close();
  await raws[0]!.end();
  expect((await house.raw('page', 'm10').greeted()).open).toBe(true);
});

const systemBuffer = (name: string) => Number(readFileSync(`/proc/sys/net/ipv4/${name}`, 'utf8').trim().split(/\s+/)[2]);

describe('a slow reader', () => {
  it('that stops reading while 50 write is dropped before much waits for it, and catches up when it reads again', async () => {
    for (let i = 0; i < 50; i++) house.members.set(`w${i}`, { name: `Writer ${i}`, write: true });
    const rita = house.open('page', 'rita');
    await until('open', () => saved(rita));
    const writers = await Promise.all(Array.from({ length: 50 }, (_, i) => house.raw('page', `w${i}`).greeted()));
    const stuck = rita.provider.ws as unknown as NodeSocket;
    stuck.pause();
    const docs = writers.map(() => new Y.Doc());
    const atServer = () => house.live.counts().sockets;
    let sent = 0;
    for (let round = 0; round < 120 && atServer() === 51; round++) {
      for (const [i, writer] of writers.entries()) {
        const before = Y.encodeStateVector(docs[i]!);
        docs[i]!.getMap(`widget:${i}`).set('note', 'y'.repeat(20_000)); // overwrites: the page itself stays small
        const frame = syncFrame(2, Y.encodeStateAsUpdate(docs[i]!, before));
        writer.send(frame);
        sent += frame.length;
      }
      await until('taken', () => writers.every((writer) => framesSaved(writer) > round));
      for (const writer of writers) writer.received.splice(0, writer.received.length, ...writer.received.slice(-1));
    }
    expect(atServer()).toBe(50);
    expect(sent).toBeGreaterThan(4 << 20);
    // What waited for it: 4 MB of ours, and what the system's own buffers at both ends may take (tcp(7): the last of three numbers).
    expect(sent).toBeLessThan((6 << 20) + systemBuffer('tcp_rmem') + systemBuffer('tcp_wmem'));
    expect(writers.every((writer) => writer.open)).toBe(true);
    stuck.resume();
    await until('back and level', () => rita.doc.getMap('widget:49').get('note') !== undefined && saved(rita), 20_000);
    expect(textOf(rita.doc)).toBe(await house.live.read('page', textOf));
  }, 60_000);
});
