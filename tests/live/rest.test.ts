/** A page that nobody edits lets its document go; its people stay, and nothing they do is lost. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { closeTooSlow, contentRoot, messageAwareness, messageSync } from '@/lib/live/protocol';
import { awarenessFrame } from './awareness-frame';
import { erase, FakeLog, type House, type RawSocket, startHouse, syncFrame, textOf, until, write } from './helpers';

let log: FakeLog;
let house: House;
let rested: string[];
beforeEach(async () => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
  log = new FakeLog('page');
  rested = [];
  house = await startHouse(log, 60_000, 0, { restMs: 60, onRest: (page) => rested.push(page) });
});
afterEach(async () => {
  log.fails = () => false;
  log.failsToLoad = () => false;
  log.commits.lift();
  log.loads.lift();
  await house.stop();
  vi.restoreAllMocks();
});

const saved = (page: ReturnType<House['open']>) => page.saved.getSnapshot().state === 'saved';
const asleep = () => until('it rests', () => house.live.counts().awake === 0 && house.live.counts().rooms > 0);

it('edits, a rest, edits: the same socket, and the word "saved" is true throughout', async () => {
  const [ada, ben] = [house.open('page', 'ada'), house.open('page', 'ben')];
  await until('open', () => saved(ada) && saved(ben));
  const socket = ada.provider.ws;
  for (let round = 0; round < 5; round++) {
    await asleep();
    expect(house.live.counts()).toMatchObject({ rooms: 1, sockets: 2, unsavedBytes: 0 });
    log.commits.shut();
    const appends = log.appends;
    write(ada.doc, String(round));
    if (round > 2) erase(ada.doc, 0, 1);
    await until('seen and asked', () => textOf(ben.doc) === textOf(ada.doc) && log.appends > appends);
    expect(saved(ada)).toBe(false);
    expect(log.text('page')).not.toBe(textOf(ada.doc));
    log.commits.lift();
    await until('saved', () => saved(ada));
    expect(log.text('page')).toBe(textOf(ada.doc));
  }
  expect(ada.provider.ws).toBe(socket);
});

it('tells that a document has left the memory, after its changes are in the log, and not of one that was never there', async () => {
  const ada = house.open('page', 'ada');
  write(ada.doc, 'words');
  await until('saved', () => saved(ada));
  await asleep();
  expect(rested).toEqual(['page']);
  expect(log.text('page')).toBe('words');
});

it('frames that come while it wakes are read in their order', async () => {
  const raw = await house.raw('page', 'ada').greeted();
  await asleep();
  const doc = new Y.Doc();
  const updates: Uint8Array[] = [];
  doc.on('update', (u: Uint8Array) => updates.push(u));
  for (let i = 0; i < 40; i++) write(doc, String(i % 10));
  log.loads.shut();
  raw.send(...updates.map((u) => syncFrame(2, u)), syncFrame(0, Uint8Array.of(0)));
  await until('the log is asked', () => log.reads === 2);
  expect(house.live.counts().awake).toBe(0);
  log.loads.lift();
  await until('in the log', () => log.text('page') === textOf(doc));
  await until('answered', () => raw.of(messageSync).length >= 2);
  expect(raw.of(messageSync)).toHaveLength(2); // the greeting and the answer: nothing had to be asked again
});

it('frames do not pile up while it wakes', async () => {
  const raw = await house.raw('page', 'ada').greeted();
  await asleep();
  log.loads.shut();
  for (let i = 0; i < 65; i++) raw.send(syncFrame(2, Uint8Array.of(0, 0)));
  expect(await raw.end()).toBe(closeTooSlow);
});

it('where people are does not wake it, and is told all the same', async () => {
  const [raw, other] = [await house.raw('page', 'ada').greeted(), await house.raw('page', 'ben').greeted()];
  await asleep();
  raw.send(awarenessFrame([[7, 1, '{"note":"here"}']]));
  await until('told', () => other.of(messageAwareness).length > 0);
  other.send(Uint8Array.of(3));
  await until('told again', () => other.of(messageAwareness).length > 1);
  expect(house.live.counts().awake).toBe(0);
  expect(log.reads).toBe(1);
});

it('a change by the house wakes it; a read does not', async () => {
  const ada = house.open('page', 'ada');
  await until('open', () => saved(ada));
  await asleep();
  await house.live.change('page', 'ben', (doc) => write(doc, 'by the house'));
  await until('seen', () => textOf(ada.doc) === 'by the house');
  await asleep();
  expect(await house.live.read('page', textOf)).toBe('by the house');
  expect(house.live.counts().awake).toBe(0);
});

it('it stays while the log takes nothing: a document read again would lack what waits', async () => {
  const ada = house.open('page', 'ada');
  await until('open', () => saved(ada));
  log.commits.shut();
  write(ada.doc, 'waits');
  await until('asked', () => log.appends === 1);
  await new Promise((resolve) => setTimeout(resolve, 300)); // five times the rest
  expect(house.live.counts().awake).toBe(1);
  const ben = house.open('page', 'ben');
  await until('open', () => ben.everSynced());
  expect(textOf(ben.doc)).toBe('waits');
  log.commits.lift();
  await until('saved', () => saved(ada));
  await asleep();
});

describe('a load that fails', () => {
  /** Opens, writes, rests, writes, lets another come, rests, deletes. */
  async function scenario() {
    const ada = house.open('page', 'ada');
    write(ada.doc, 'one');
    await until('saved', () => saved(ada));
    await asleep();
    write(ada.doc, ' two');
    await until('saved', () => saved(ada));
    await asleep();
    const ben = house.open('page', 'ben');
    await until('open', () => saved(ben));
    await asleep();
    erase(ben.doc, 0, 1);
    await until('both saved', () => saved(ada) && saved(ben) && textOf(ada.doc) === 'ne two');
    expect(log.text('page')).toBe('ne two');
  }
  it('the scenario needs four loads, and one more for each rest that a slow machine adds', async () => {
    await scenario();
    expect(rested.length).toBeGreaterThanOrEqual(3);
    expect(log.reads).toBe(rested.length + house.live.counts().awake); // synchronous: no rest can come between
  });
  for (let n = 1; n <= 4; n++) {
    it(`load ${n} fails once`, async () => {
      log.failsToLoad = (call) => call === n;
      await scenario();
      expect(log.reads).toBeGreaterThan(4);
    });
    it(`load ${n} and the next four fail, and append ${n} too`, async () => {
      log.failsToLoad = (call) => call >= n && call < n + 4;
      log.fails = (call) => call === n;
      await scenario();
    });
  }
  it('fails for ever: what is written stays with its writer, said so, and is saved when the log is back', async () => {
    const ada = house.open('page', 'ada');
    await until('open', () => saved(ada));
    await asleep();
    log.failsToLoad = () => true;
    write(ada.doc, 'kept');
    await until('offline', () => ada.saved.getSnapshot().state === 'offline');
    expect(ada.saved.getSnapshot().kept).toBe(1);
    log.failsToLoad = () => false;
    await until('saved', () => saved(ada));
    expect(log.text('page')).toBe('kept');
  });
});

/** A page of paragraphs as a long notebook has them. */
function longPage(paragraphs: number): Uint8Array {
  const doc = new Y.Doc();
  const root = doc.getXmlFragment(contentRoot);
  doc.transact(() => {
    for (let i = 0; i < paragraphs; i++) {
      const paragraph = new Y.XmlElement('paragraph');
      paragraph.insert(0, [new Y.XmlText(`Paragraph ${i}: the rebound switch was cleaned and its gap set again.`)]);
      root.insert(root.length, [paragraph]);
    }
  });
  return Y.encodeStateAsUpdate(doc);
}

it('an open page that rests holds at most twice its encoded size and 64 KiB, both ends of its socket included', async () => {
  setFlagsFromString('--expose_gc');
  const gc = runInNewContext('gc') as () => void;
  const held = () => {
    for (let i = 0; i < 3; i++) gc();
    const { heapUsed, external } = process.memoryUsage();
    return heapUsed + external;
  };
  const pages = Array.from({ length: 30 }, (_, i) => `big${i}`);
  const update = longPage(1000);
  for (const page of pages) log.pages.set(page, [{ page, update, member: null }]);
  const warm = await house.raw('page', 'cleo').greeted();
  await asleep();
  const before = held();
  const raws: RawSocket[] = [];
  for (const [i, page] of pages.entries()) raws.push(await house.raw(page, i % 2 ? 'ada' : 'ben').greeted());
  await asleep();
  for (const raw of raws) raw.received.length = 0;
  const atRest = held() - before;
  const docs = pages.map(() => {
    const doc = new Y.Doc();
    Y.applyUpdate(doc, update);
    return doc;
  });
  const documents = held() - before - atRest;
  expect(documents / docs.length).toBeGreaterThan(2 * update.length + (64 << 10)); // there was something to let go
  expect(atRest / pages.length).toBeLessThan(2 * update.length + (64 << 10));
  expect(house.live.counts()).toMatchObject({ rooms: 31, awake: 0, sockets: 31 });
  expect(warm.open && raws.every((raw) => raw.open)).toBe(true);
});
