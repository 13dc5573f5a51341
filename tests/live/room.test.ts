/** Opening, reading, changing, releasing a page's document. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { live, setLive } from '@/lib/live/house';
import { closeBadMessage, messageSync } from '@/lib/live/protocol';
import { FakeLog, type House, startHouse, syncFrame, textOf, until, write } from './helpers';

let log: FakeLog;
let house: House;
beforeEach(async () => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
  log = new FakeLog('page');
  house = await startHouse(log, 30);
});
afterEach(async () => {
  await house.stop();
  vi.restoreAllMocks();
});

it('who joins while the page is loading gets the whole text before being called synced', async () => {
  await house.live.change('page', 'ada', (doc) => write(doc, 'the whole text'));
  await until('released', () => house.live.counts().rooms === 0);
  log.loads.shut();
  const ada = house.open('page', 'ada');
  const texts: string[] = [];
  ada.provider.on('sync', (synced) => synced && texts.push(textOf(ada.doc)));
  await until('connected', () => ada.provider.wsconnected);
  write(ada.doc, 'mine'); // queued at the server until the page is there
  const raw = house.raw('page', 'ben');
  await until('open', () => raw.open);
  expect(ada.everSynced()).toBe(false);
  expect(raw.received).toEqual([]);
  log.loads.lift();
  await until('synced and saved', () => ada.saved.getSnapshot().state === 'saved' && ada.saved.getSnapshot().kept === 0);
  expect(texts).toHaveLength(1);
  expect(texts[0]).toContain('the whole text');
  expect(log.text('page')).toBe(textOf(ada.doc));
  expect(log.text('page')).toContain('mine');
});

it('a load that fails is tried again by the client and loses nothing', async () => {
  const load = vi.spyOn(log, 'load').mockRejectedValueOnce(new Error('disk'));
  const ada = house.open('page', 'ada');
  write(ada.doc, 'patience');
  await until('saved', () => ada.saved.getSnapshot().state === 'saved');
  expect(load.mock.calls.length).toBeGreaterThan(1);
  expect(log.text('page')).toBe('patience');
});

it('a page is released when nobody is there and all is saved, not before', async () => {
  const ada = house.open('page', 'ada');
  await until('open', () => ada.everSynced());
  log.commits.shut();
  write(ada.doc, 'slow');
  await until('the log is asked', () => log.appends === 1);
  ada.close();
  await until('left', () => house.live.counts().sockets === 0);
  await new Promise((resolve) => setTimeout(resolve, 100)); // over three times the idle time: it must still be there
  expect(house.live.counts().rooms).toBe(1);
  expect(await house.live.read('page', textOf)).toBe('slow');
  log.commits.lift();
  await until('released', () => house.live.counts().rooms === 0);
  expect(await house.live.read('page', textOf)).toBe('slow');
  expect(house.live.counts().rooms).toBe(0); // reading opens no room
});

it('a new process on the same log has the same page', async () => {
  const ada = house.open('page', 'ada');
  await until('open', () => ada.everSynced());
  for (const word of ['one ', 'two ', 'three']) write(ada.doc, word);
  await until('saved', () => ada.saved.getSnapshot().state === 'saved');
  // Killed: nothing of the first process is asked again.
  const second = await startHouse(log);
  const ben = second.open('page', 'ben');
  await until('open', () => ben.everSynced());
  expect(textOf(ben.doc)).toBe(textOf(ada.doc));
  await second.stop();
});

it('a killed server: committed text is there again, and what was not committed comes back from its writer', async () => {
  const ada = house.open('page', 'ada');
  const rita = house.open('page', 'rita');
  await until('open', () => ada.everSynced() && rita.everSynced());
  write(ada.doc, 'in the log, ');
  await until('saved', () => ada.saved.getSnapshot().state === 'saved');
  log.commits.shut();
  write(ada.doc, 'on my screen');
  await until('the log is asked', () => log.appends === 2);
  const left = new FakeLog('page');
  left.pages.set('page', [...log.pages.get('page')!]);
  expect(left.text('page')).toBe('in the log, ');
  await house.kill();
  await until('noticed', () => ada.saved.getSnapshot().state === 'offline');
  expect(ada.saved.getSnapshot().kept).toBe(1);
  const second = await startHouse(left, 30, house.port);
  await until('saved', () => ada.saved.getSnapshot().state === 'saved');
  expect(left.text('page')).toBe('in the log, on my screen');
  ada.close();
  rita.close();
  await second.stop();
  log.commits.lift();
});

it('change() is seen by open windows, and leaves no half of itself when it throws', async () => {
  const ada = house.open('page', 'ada');
  await until('open', () => ada.everSynced());
  await house.live.change('page', 'ben', (doc) => write(doc, 'from the house'));
  await until('seen', () => textOf(ada.doc) === 'from the house');
  await expect(
    house.live.change('page', 'ben', (doc) => {
      write(doc, ' half');
      throw new Error('no');
    }),
  ).rejects.toThrow('no');
  expect(await house.live.read('page', textOf)).toBe('from the house');
  expect(log.text('page')).toBe('from the house');
  expect(log.pages.get('page')!.map((e) => e.member)).toEqual(['ben']);
});

it('a document that failed half-way is thrown away; the next one has all that was queued, and nobody loses a word', async () => {
  const ada = house.open('page', 'ada');
  const ben = house.open('page', 'ben');
  await until('open', () => ada.everSynced() && ben.everSynced());
  write(ben.doc, 'before ');
  await until('seen', () => textOf(ada.doc) === 'before ');
  const doc = await house.live.read('page', (d) => d); // kept only to break it
  doc.once('beforeTransaction', () => {
    throw new Error('half-way');
  });
  const raw = await house.raw('page', 'cleo').greeted();
  const hers = new Y.Doc();
  write(hers, 'x');
  raw.send(syncFrame(2, Y.encodeStateAsUpdate(hers)));
  expect(await raw.end()).toBe(closeBadMessage);
  write(ada.doc, 'after');
  await until('both saved', () => [ada, ben].every((p) => p.saved.getSnapshot().state === 'saved' && textOf(p.doc) === 'before after'));
  expect(log.text('page')).toBe('before after');
  expect(await house.live.read('page', (d) => d)).not.toBe(doc);
});

it('the next document waits for what the broken one had still to save', async () => {
  log.commits.shut();
  const changed = house.live.change('page', 'ada', (d) => write(d, 'pending'));
  await until('the log is asked', () => log.appends === 1);
  const doc = await house.live.read('page', (d) => d);
  doc.once('beforeTransaction', () => {
    throw new Error('half-way');
  });
  const raw = await house.raw('page', 'cleo').greeted();
  const hers = new Y.Doc();
  write(hers, 'x');
  raw.send(syncFrame(2, Y.encodeStateAsUpdate(hers)));
  await raw.end();
  const ben = house.open('page', 'ben');
  await until('connected', () => ben.provider.wsconnected);
  log.commits.lift();
  await changed;
  await until('open', () => ben.everSynced());
  expect(textOf(ben.doc)).toBe('pending');
});

it('the log names who wrote each entry', async () => {
  const [ada, ben] = [house.open('page', 'ada'), house.open('page', 'ben')];
  await until('open', () => ada.everSynced() && ben.everSynced());
  log.commits.shut();
  write(ada.doc, 'a');
  await until('the log is asked', () => log.appends === 1);
  write(ada.doc, 'b');
  await until('ben sees', () => textOf(ben.doc) === 'ab');
  write(ben.doc, 'c');
  await until('ada sees', () => textOf(ada.doc) === 'abc');
  log.commits.lift();
  await until('saved', () => log.text('page') === 'abc');
  expect(log.appends).toBe(2);
  expect(log.pages.get('page')!.map((e) => e.member)).toEqual(['ada', 'ada', 'ben']);
});

it('hundreds of visits leave nothing open', async () => {
  for (let round = 0; round < 100; round++) {
    const raw = await house.raw('page', 'ada').greeted();
    expect(raw.of(messageSync)).toHaveLength(1);
    raw.socket.close();
    await raw.end();
  }
  await until('all gone', () => house.live.counts().sockets === 0 && house.live.counts().rooms === 0);
});

it('the house has one live server', () => {
  expect(() => live()).toThrow('has not been started');
  setLive(house.live);
  expect(live()).toBe(house.live);
});
