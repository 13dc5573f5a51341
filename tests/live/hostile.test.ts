/** Hostile bytes: they close the socket that sent them, and nobody else notices. */
import * as encoding from 'lib0/encoding';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { checkUpdate } from '@/lib/live/check';
import { Connection } from '@/lib/live/connection';
import { closeBadMessage, closeTooBig, closeTooSlow, closeTryAgain, messageSaved, messageSync, readSaved } from '@/lib/live/protocol';
import { Rooms } from '@/lib/live/rooms';
import { FakeLog, type House, type RawSocket, random, startHouse, syncFrame, textOf, until, write } from './helpers';
import { awareness, mutate, PaperSocket, seedsOfFrames } from './hostile-frames';
import { fuzz } from './hostile-run';

let log: FakeLog;
let house: House;
beforeEach(async () => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
  log = new FakeLog('page');
  house = await startHouse(log);
});
afterEach(async () => {
  await house.stop();
  vi.restoreAllMocks();
});

const roomsOn = (on: FakeLog) => new Rooms({ log: on, onCommitted() {}, idleMs: 60_000, restMs: 60_000 });
const unbound = { unsavedBytes: () => 0, afford: () => true };

it('20,000 mutated frames: none takes over 50 ms of the processor, none harms the document or another client', async () => {
  const { faults, refused, taken, slowestMs } = await fuzz(Number(process.env.FUZZ_SEED ?? 20_260), 20_000); // another seed: FUZZ_SEED=5 npx vitest run tests/live/hostile
  expect(faults).toEqual([]);
  expect(refused).toBeGreaterThan(5000);
  expect(taken).toBeGreaterThan(500);
  expect(slowestMs).toBeLessThan(50);
}, 60_000);

it('real sockets: 600 mutated frames, text frames and broken WebSocket frames; a second client goes on', async () => {
  const seed = 7;
  const r = random(seed);
  const seeds = seedsOfFrames();
  const ben = house.open('page', 'ben');
  await until('open', () => ben.everSynced());
  let sent = 0;
  while (sent < 600) {
    const raw: RawSocket = await house.raw('page', 'ada').greeted();
    while (sent < 600 && raw.open && r.below(12) > 0) {
      raw.send(mutate(r, seeds));
      sent++;
    }
    const last = r.below(3);
    if (raw.open && last === 0) raw.socket.send('text');
    else if (raw.open && last === 1)
      (raw.socket as unknown as { _socket: { write(b: Uint8Array): void } })._socket.write(Uint8Array.of(0xff, 0xff, 0xff));
    else raw.socket.terminate();
    await raw.end();
  }
  write(ben.doc, 'still here', 0);
  await until('saved', () => ben.saved.getSnapshot().state === 'saved');
  expect(ben.provider.wsUnsuccessfulReconnects).toBe(0); // never lost its socket
  const cleo = house.open('page', 'cleo');
  await until('cleo sees it', () => textOf(cleo.doc).includes('still here'));
}, 30_000);

it('a frame over 4 MB ends that socket only', async () => {
  const ben = house.open('page', 'ben');
  await until('open', () => ben.everSynced());
  const raw = await house.raw('page', 'ada').greeted();
  raw.send(new Uint8Array((4 << 20) + 1));
  expect(await raw.end()).toBe(closeTooBig);
  write(ben.doc, 'x');
  await until('saved', () => ben.saved.getSnapshot().state === 'saved');
});

it.each([
  ['a state vector over 64 KB', syncFrame(0, new Uint8Array((64 << 10) + 1))],
  ['an unknown type', Uint8Array.of(99)],
  ['an unknown kind of sync', syncFrame(3, Uint8Array.of(0, 0))],
  ['bytes after the message', Uint8Array.from([...syncFrame(2, Uint8Array.of(0, 0)), 0])],
  ['an empty frame', new Uint8Array(0)],
])('%s is refused', async (_name, frame) => {
  expect(await (await house.raw('page', 'ada').greeted()).send(frame).end()).toBe(closeBadMessage);
});

it('a length that lies does not read on into memory beside the frame', async () => {
  const raw = await house.raw('page', 'ada').greeted();
  // sync, step 1, 200 bytes promised, 1 given: read past its end, the vector would come from a neighbour's frame
  expect(await raw.send(Uint8Array.of(0, 0, 200, 1, 0)).end()).toBe(closeBadMessage);
  expect(raw.of(messageSync)).toHaveLength(1);
});

it('nor does a length inside an awareness state: what lies beside the frame stays unread', async () => {
  const rooms = roomsOn(log);
  const room = await rooms.hold('page');
  const socket = new PaperSocket();
  new Connection(socket as never, socket as never, {} as never, 'page', { id: 'ada', name: 'ada' }, true, unbound).enter(room);
  const whole = awareness(9, 1, '{"note":"secret of the neighbour"}');
  const frame = whole.subarray(0, 14); // the rest lies right behind it in memory
  frame[1] = 12; // the message ends where the frame ends; its state says that it goes on
  socket.receive(frame);
  expect(socket.closed).toBe(closeBadMessage);
  expect(room.presence.everyone()).toBeNull();
  await rooms.close();
});

it('no frame is read after a bad one', async () => {
  const raw = await house.raw('page', 'ada').greeted();
  const doc = new Y.Doc();
  write(doc, 'too late');
  raw.send(Uint8Array.of(99), syncFrame(2, Y.encodeStateAsUpdate(doc)));
  expect(await raw.end()).toBe(closeBadMessage);
  expect(await house.live.read('page', textOf)).toBe('');
});

it('a flood of frames is cut off, and asking for the whole page counts more', async () => {
  const nothing = syncFrame(2, Uint8Array.of(0, 0));
  const flood = await house.raw('page', 'ada').greeted();
  for (let i = 0; i < 5000; i++) flood.send(nothing);
  expect(await flood.end()).toBe(closeTooSlow);
  const frames = Math.max(...flood.of(messageSaved).map((d) => readSaved(d).frames));
  expect(frames).toBeGreaterThanOrEqual(900);
  expect(frames).toBeLessThan(3000);
  const asks = await house.raw('page', 'ada').greeted();
  for (let i = 0; i < 400; i++) asks.send(syncFrame(0, Uint8Array.of(0)));
  expect(await asks.end()).toBe(closeTooSlow);
});

it('a socket that does not read is closed before it fills the memory; a big page on a slow line is let through', async () => {
  await house.live.change('page', 'ada', (doc) => write(doc, 'x'.repeat(900_000)));
  const rooms = roomsOn(log);
  const room = await rooms.hold('page');
  const open = () => {
    const socket = new PaperSocket();
    new Connection(socket as never, socket as never, {} as never, 'page', { id: 'ada', name: 'ada' }, true, unbound).enter(room);
    return socket;
  };
  const ask = syncFrame(0, Uint8Array.of(0));
  const stuck = open();
  stuck.bufferedAmount = (4 << 20) + 1;
  stuck.receive(ask);
  expect(stuck.closed).toBe(closeTooSlow);
  const slow = open();
  slow.receive(ask);
  slow.bufferedAmount = (4 << 20) + 900_000; // the answer is still on its way
  slow.receive(syncFrame(2, Uint8Array.of(0, 0)));
  expect(slow.closed).toBeNull();
  slow.flush();
  slow.receive(syncFrame(2, Uint8Array.of(0, 0)));
  expect(slow.closed).toBe(closeTooSlow);
  await rooms.close();
});

it('a peer that does not answer a ping is cut off at the next', () => {
  const socket = new PaperSocket();
  const connection = new Connection(socket as never, socket as never, {} as never, 'page', { id: 'ada', name: 'ada' }, true, unbound);
  connection.ping();
  socket.answerPing();
  connection.ping();
  expect(socket.cut).toBe(false);
  connection.ping();
  expect(socket.cut).toBe(true);
});

it('while the log takes nothing and 64 MB wait, writers are sent away to come back, readers are not', async () => {
  const rooms = roomsOn(log);
  const room = await rooms.hold('page');
  const sockets = [true, false].map((write) => {
    const socket = new PaperSocket();
    new Connection(socket as never, socket as never, {} as never, 'page', { id: 'ada', name: 'ada' }, write, {
      ...unbound,
      unsavedBytes: () => (64 << 20) + 1,
    }).enter(room);
    return socket;
  });
  const doc = new Y.Doc();
  write(doc, 'x');
  sockets[0]!.receive(syncFrame(2, Y.encodeStateAsUpdate(doc)));
  sockets[1]!.receive(syncFrame(1, Uint8Array.of(0, 0)));
  expect(sockets.map((s) => s.closed)).toEqual([closeTryAgain, null]);
  await rooms.close();
});

it('an update that cannot be integrated is refused before the document is touched', () => {
  const doc = new Y.Doc();
  write(doc, 'ab');
  const update = Y.encodeStateAsUpdate(doc);
  expect(() => checkUpdate(update)).not.toThrow();
  // a string item of client 5 at clock 0 whose left neighbour is its own clock 7
  const encoder = encoding.createEncoder();
  for (const n of [1, 1, 5, 0]) encoding.writeVarUint(encoder, n);
  encoding.writeUint8(encoder, 0x80 | 4);
  for (const n of [5, 7]) encoding.writeVarUint(encoder, n);
  encoding.writeVarString(encoder, 'x');
  encoding.writeVarUint(encoder, 0);
  const own = encoding.toUint8Array(encoder);
  expect(() => Y.applyUpdate(new Y.Doc(), own)).toThrow(); // what would happen
  expect(() => checkUpdate(own)).toThrow('its own future');
});
