/** "Saved" is said only when the log has it. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { messageSaved, messageSync, readSaved } from '@/lib/live/protocol';
import { erase, FakeLog, type House, startHouse, syncFrame, textOf, until, write } from './helpers';

let house: House;
let log: FakeLog;
beforeEach(async () => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
  log = new FakeLog('page');
  house = await startHouse(log);
});
afterEach(async () => {
  log.fails = () => false;
  log.commits.lift();
  await house.stop();
  vi.restoreAllMocks();
});

const saved = (page: ReturnType<House['open']>) => page.saved.getSnapshot().state === 'saved';

describe('saved', () => {
  it('is said on opening when there is nothing to save', async () => {
    const ada = house.open('page', 'ada');
    expect(ada.saved.getSnapshot()).toEqual({ state: 'connecting', kept: 0, at: null, device: 'none', onDevice: 0 });
    await until('saved', () => saved(ada));
    expect(ada.saved.getSnapshot()).toEqual({ state: 'saved', kept: 0, at: null, device: 'none', onDevice: 0 });
    expect(log.appends).toBe(0);
  });

  it('is said only after the commit, though others see the text before', async () => {
    const ada = house.open('page', 'ada');
    const ben = house.open('page', 'ben');
    await until('both open', () => saved(ada) && saved(ben));
    log.commits.shut();
    const said: string[] = [];
    ada.saved.subscribe(() => said.push(ada.saved.getSnapshot().state));
    write(ada.doc, 'hello');
    await until('ben sees it', () => textOf(ben.doc) === 'hello');
    expect(ada.saved.getSnapshot()).toMatchObject({ state: 'saving', kept: 1 });
    expect(said).not.toContain('saved');
    expect(log.text('page')).toBe('');
    log.commits.lift();
    await until('saved', () => saved(ada));
    expect(log.text('page')).toBe('hello');
    expect(ada.saved.getSnapshot().at).not.toBeNull();
  });

  it('is reached by an edit that only deletes', async () => {
    const ada = house.open('page', 'ada');
    await until('open', () => saved(ada));
    write(ada.doc, 'abcdef');
    await until('saved', () => saved(ada));
    log.commits.shut();
    erase(ada.doc, 1, 3);
    await until('the log is asked', () => log.appends === 2);
    expect(ada.saved.getSnapshot()).toMatchObject({ state: 'saving', kept: 1 });
    log.commits.lift();
    await until('saved', () => saved(ada));
    expect(log.text('page')).toBe('aef');
  });

  it('waits for an earlier commit when a reconnect has nothing left to send', async () => {
    const ada = house.open('page', 'ada');
    await until('open', () => saved(ada));
    log.commits.shut();
    write(ada.doc, 'kept');
    await until('the log is asked', () => log.appends === 1);
    ada.provider.disconnect();
    expect(ada.saved.getSnapshot()).toMatchObject({ state: 'offline', kept: 1 });
    ada.provider.connect();
    const ben = house.open('page', 'ben');
    await until('both synced again', () => ada.provider.synced && ben.provider.synced && textOf(ben.doc) === 'kept');
    erase(ada.doc, 0, 1); // its frame comes after the empty step 2
    await until('ben sees the delete', () => textOf(ben.doc) === 'ept');
    expect(ada.saved.getSnapshot()).toMatchObject({ state: 'saving', kept: 2 });
    log.commits.lift();
    await until('saved', () => saved(ada));
    expect(log.text('page')).toBe('ept');
  });

  it('is reached when the commit happened while the line was down', async () => {
    const ada = house.open('page', 'ada');
    await until('open', () => saved(ada));
    log.commits.shut();
    write(ada.doc, 'meanwhile');
    await until('the log is asked', () => log.appends === 1);
    ada.provider.disconnect();
    log.commits.lift();
    await until('committed', () => log.text('page') === 'meanwhile');
    expect(ada.saved.getSnapshot()).toMatchObject({ state: 'offline', kept: 1 });
    ada.provider.connect();
    await until('saved', () => saved(ada));
    expect(log.appends).toBe(1);
  });

  it('counts what was written offline, deletes too, and saves it on return', async () => {
    const ada = house.open('page', 'ada');
    await until('open', () => saved(ada));
    write(ada.doc, 'abcdef');
    await until('saved', () => saved(ada));
    ada.provider.disconnect();
    write(ada.doc, 'g');
    erase(ada.doc, 0, 2);
    expect(ada.saved.getSnapshot()).toMatchObject({ state: 'offline', kept: 2 });
    ada.provider.connect();
    await until('saved', () => saved(ada));
    expect(log.text('page')).toBe('cdefg');
  });

  it('commits what arrives during one append in one further append', async () => {
    const ada = house.open('page', 'ada');
    await until('open', () => saved(ada));
    log.commits.shut();
    write(ada.doc, 'x');
    await until('the log is asked', () => log.appends === 1);
    for (let i = 0; i < 300; i++) write(ada.doc, String(i % 10));
    const ben = house.open('page', 'ben');
    await until('the server has all', () => textOf(ben.doc).length === 301);
    log.commits.lift();
    await until('saved', () => saved(ada));
    expect(log.appends).toBe(2);
    expect(log.pages.get('page')).toHaveLength(2);
    expect(log.text('page')).toBe(textOf(ada.doc));
  });
});

describe('when the log fails', () => {
  for (let n = 1; n <= 6; n++) {
    it(`append ${n} fails once: nothing is lost and nothing is called saved too early`, async () => {
      log.fails = (call) => call === n;
      const ada = house.open('page', 'ada');
      await until('open', () => saved(ada));
      for (const word of ['a', 'b', 'c', 'd']) {
        write(ada.doc, word);
        await until(`saved ${word}`, () => saved(ada));
        expect(log.text('page')).toBe(textOf(ada.doc));
      }
      erase(ada.doc, 0, 2);
      await until('saved the delete', () => saved(ada));
      expect(log.text('page')).toBe('cd');
    });

    it(`append ${n} and all later ones fail: the truth is told, and all is saved when the log is back`, async () => {
      log.fails = (call) => call >= n;
      const ada = house.open('page', 'ada');
      await until('open', () => saved(ada));
      for (let i = 1; i < n; i++) {
        write(ada.doc, String(i));
        await until('saved', () => saved(ada));
      }
      write(ada.doc, 'lost?');
      await until('tried twice', () => log.appends > n);
      expect(ada.saved.getSnapshot()).toMatchObject({ state: 'saving', kept: 1 });
      expect(log.text('page')).not.toContain('lost?');
      log.fails = () => false;
      await until('saved', () => saved(ada));
      expect(log.text('page')).toBe(textOf(ada.doc));
    });
  }

  it('one page that cannot be written does not hold up the others', async () => {
    log.pages.set('other', []);
    log.fails = (_n, entries) => entries.some((e) => e.page === 'page');
    const ada = house.open('page', 'ada');
    const ben = house.open('other', 'ben');
    await until('open', () => saved(ada) && saved(ben));
    for (let i = 0; i < 5; i++) {
      write(ada.doc, 'a');
      write(ben.doc, 'b');
      await until('ben saved', () => saved(ben));
    }
    expect(log.text('other')).toBe('bbbbb');
    expect(ada.saved.getSnapshot()).toMatchObject({ state: 'saving', kept: 5 });
    log.fails = () => false;
    await until('ada saved', () => saved(ada));
    expect(log.text('page')).toBe('aaaaa');
  });

  it('change() waits for the commit and is tried again', async () => {
    log.fails = (call) => call === 1;
    await house.live.change('page', 'ada', (doc) => write(doc, 'by the house'));
    expect(log.text('page')).toBe('by the house');
    expect(log.pages.get('page')!.map((e) => e.member)).toEqual(['ada']);
    expect(house.committed).toEqual(['page']);
  });
});

describe('a frame whose forerunner is missing', () => {
  it('is not called saved; the server asks again, and the full answer is', async () => {
    const doc = new Y.Doc();
    const updates: Uint8Array[] = [];
    doc.on('update', (u: Uint8Array) => updates.push(u));
    write(doc, 'first ');
    write(doc, 'second');
    const raw = await house.raw('page', 'ada').greeted();
    const asked = () => raw.of(messageSync).length;
    const before = asked();
    const framesSaved = () => Math.max(0, ...raw.of(messageSaved).map((d) => readSaved(d).frames));
    raw.send(syncFrame(2, updates[1]!));
    await until('asked again', () => asked() > before);
    raw.send(syncFrame(2, Uint8Array.of(0, 0))); // empty: proves nothing
    raw.send(syncFrame(0, Uint8Array.of(0)));
    await until('answered', () => asked() > before + 1);
    expect(framesSaved()).toBe(0);
    expect(log.appends).toBe(0);
    raw.send(syncFrame(1, Y.encodeStateAsUpdate(doc)));
    await until('saved', () => framesSaved() === 3);
    expect(log.text('page')).toBe('first second');
  });

  it('leaves nothing behind that others would wait for', async () => {
    const doc = new Y.Doc();
    write(doc, 'never sent');
    const vector = Y.encodeStateVector(doc);
    write(doc, 'sent');
    const raw = await house.raw('page', 'ada').greeted();
    raw.send(syncFrame(2, Y.encodeStateAsUpdate(doc, vector)));
    await until('asked again', () => raw.of(messageSync).length === 2);
    const ben = house.open('page', 'ben');
    await until('open', () => saved(ben));
    write(ben.doc, 'mine');
    await until('saved', () => saved(ben) && log.text('page') === 'mine');
  });
});
