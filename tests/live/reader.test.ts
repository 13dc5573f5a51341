/** Who may only read changes nothing, by whatever bytes, and is left in peace while reading. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { changesNothing, checkUpdate } from '@/lib/live/check';
import { applyLoaded } from '@/lib/live/loaded';
import { closeForbidden, messageSaved, readSaved } from '@/lib/live/protocol';
import { erase, FakeLog, type House, startHouse, syncFrame, textOf, until, write } from './helpers';

let log: FakeLog;
let house: House;
let known: Y.Doc;
beforeEach(async () => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
  log = new FakeLog('page');
  house = await startHouse(log);
  await house.live.change('page', 'ada', (doc) => {
    write(doc, 'abcdef');
    erase(doc, 1, 2);
  });
  known = new Y.Doc();
  applyLoaded(known, await log.load('page'));
});
afterEach(async () => {
  await house.stop();
  vi.restoreAllMocks();
});

const before = () => log.text('page');

it('the ordinary client, whose answer to the server carries the known deletes, stays and follows', async () => {
  const rita = house.open('page', 'rita');
  const ada = house.open('page', 'ada');
  await until('open', () => rita.saved.getSnapshot().state === 'saved' && ada.everSynced());
  rita.provider.disconnect();
  rita.provider.connect(); // now it has content of its own to offer
  await until('open again', () => rita.saved.getSnapshot().state === 'saved');
  write(ada.doc, 'g');
  erase(ada.doc, 0, 1);
  await until('rita sees it', () => textOf(rita.doc) === 'defg');
  expect(rita.provider.wsconnected).toBe(true);
});

it('frames without content are taken and answered', async () => {
  const raw = await house.raw('page', 'rita').greeted();
  const nothing = Uint8Array.of(0, 0);
  raw.send(
    syncFrame(1, nothing),
    syncFrame(2, nothing),
    syncFrame(1, Y.encodeStateAsUpdate(known)),
    syncFrame(2, Y.encodeStateAsUpdate(known)),
  );
  await until('answered', () => raw.of(messageSaved).some((d) => readSaved(d).frames === 4));
  expect(raw.open).toBe(true);
  expect(log.pages.get('page')).toHaveLength(1);
});

const insert = () => {
  const doc = new Y.Doc();
  write(doc, 'x');
  return Y.encodeStateAsUpdate(doc);
};
const remove = () => {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(known));
  const vector = Y.encodeStateVector(doc);
  erase(doc, 0, 1);
  return Y.encodeStateAsUpdate(doc, vector);
};
const dangling = () => {
  const doc = new Y.Doc();
  write(doc, 'x');
  const vector = Y.encodeStateVector(doc);
  write(doc, 'y');
  return Y.encodeStateAsUpdate(doc, vector);
};
const deleteUnknown = () => {
  const doc = new Y.Doc();
  write(doc, 'xyz');
  const vector = Y.encodeStateVector(doc);
  erase(doc, 0, 3);
  return Y.encodeStateAsUpdate(doc, vector);
};
describe.each([
  ['an insert', insert],
  ['a delete', remove],
  ['an insert on something missing', dangling],
  ['a delete of something missing', deleteUnknown],
])('%s', (_name, make) => {
  it.each([1, 2])('in a sync message of kind %i closes the socket and changes nothing', async (kind) => {
    const text = before();
    const ada = house.open('page', 'ada');
    await until('open', () => ada.everSynced());
    const raw = await house.raw('page', 'rita').greeted();
    raw.send(syncFrame(kind, make()));
    expect(await raw.end()).toBe(closeForbidden);
    expect(await house.live.read('page', textOf)).toBe(text);
    expect(textOf(ada.doc)).toBe(text);
    expect(log.pages.get('page')).toHaveLength(1);
  });
});

it('changesNothing agrees with what applying does, on random updates', () => {
  for (let seed = 1; seed <= 200; seed++) {
    const doc = new Y.Doc();
    const other = new Y.Doc();
    for (let i = 0; i < 6; i++) {
      write(doc, `${seed}`);
      if ((seed >> i) & 1) erase(doc, 0, 1);
      if ((seed * i) % 3 === 0) Y.applyUpdate(other, Y.encodeStateAsUpdate(doc));
      if ((seed * i) % 5 === 0) erase(other, 0, Math.min(1, textOf(other).length));
    }
    const update = Y.encodeStateAsUpdate(other);
    const claimed = changesNothing(doc, checkUpdate(update));
    let changed = false;
    doc.on('update', () => {
      changed = true;
    });
    Y.applyUpdate(doc, update);
    expect(claimed, `seed ${seed}`).toBe(!changed);
  }
});
