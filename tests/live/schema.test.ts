/** Two builds on one page: the older one is sent away to reload, deletes nothing, and what it wrote meanwhile arrives. */
import 'fake-indexeddb/auto';
import { getSchema } from '@tiptap/core';
import { initProseMirrorDoc } from '@tiptap/y-tiptap';
import { IDBFactory } from 'fake-indexeddb';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { WebSocket as NodeSocket } from 'ws';
import * as Y from 'yjs';
import { type LivePage, openPage } from '@/lib/live/client';
import { sendKept } from '@/lib/live/device';
import { keptPages } from '@/lib/live/kept';
import { schema as newer, proseExtensions, WidgetNode } from '@/lib/notebook/schema';
import { unknownIn, unknownInUpdate } from '@/lib/notebook/unknown';
import { FakeLog, type House, startHouse, textOf, until } from './helpers';

/** The build before block quotes and italics came. */
const older = getSchema([...proseExtensions, WidgetNode].filter(({ name }) => !['blockquote', 'italic'].includes(name)));

const storage = new Map<string, string>();
vi.stubGlobal('localStorage', {
  getItem: (key: string) => storage.get(key) ?? null,
  setItem: (key: string, value: string) => void storage.set(key, value),
  removeItem: (key: string) => void storage.delete(key),
});

let log: FakeLog;
let house: House;
const opened: LivePage[] = [];
beforeEach(async () => {
  storage.clear();
  vi.stubGlobal('indexedDB', new IDBFactory());
  log = new FakeLog('page');
  house = await startHouse(log);
});
afterEach(async () => {
  for (const live of opened.splice(0)) live.close();
  await house.stop();
});

/** A window of a build with that schema. Its version in the handshake is the server's unless given: servers of two builds share a log. */
function visit(member: string, schema = newer, { version, guarded = true }: { version?: string; guarded?: boolean } = {}): LivePage {
  class MemberSocket extends NodeSocket {
    constructor(url: string | URL) {
      const headers = { cookie: `member=${member}`, origin: house.base.replace('ws:', 'http:') };
      super(version ? String(url).replace(/schema=\d+/, `schema=${version}`) : url, { headers });
    }
  }
  const live = openPage('page', house.base, MemberSocket as unknown as typeof WebSocket, {
    keep: { member, title: 'Spinner counts sometimes' },
    ...(guarded && { strange: (update, doc) => unknownInUpdate(update, doc, schema) }),
  });
  opened.push(live);
  return live;
}
const now = (live: LivePage) => live.saved.getSnapshot();
const rootOf = (live: LivePage) => live.doc.getXmlFragment('content');
const safe = (live: LivePage) => until('all is saved', () => now(live).state === 'saved' && now(live).kept === 0);
const ready = (live: LivePage) => until('it is there', live.ready.getSnapshot);

/** From now on this device's storage does not answer, until what this returns is called. */
function slowStorage(): () => void {
  const open = indexedDB.open.bind(indexedDB);
  const held: (() => void)[] = [];
  vi.spyOn(indexedDB, 'open').mockImplementation((name, version) => {
    const asked = {} as IDBOpenDBRequest;
    held.push(() => {
      const request = open(name, version);
      for (const answer of ['onupgradeneeded', 'onsuccess', 'onerror'] as const)
        request[answer] = (event: Event) => asked[answer]?.call(asked, event as IDBVersionChangeEvent);
    });
    return asked;
  });
  return () => {
    vi.restoreAllMocks();
    for (const answer of held) answer();
  };
}

/** What an editor of that schema does with the document whenever it changes: it reads it and deletes what it can't make a node of. */
function bind(live: LivePage, schema: typeof newer) {
  const read = () => initProseMirrorDoc(rootOf(live), schema);
  read();
  live.doc.on('update', (_update: Uint8Array, origin: unknown) => {
    if (origin !== null) read(); // from the server or from the device
  });
}
function add(live: LivePage, kind: string, words: string, marks?: Record<string, object>) {
  const paragraph = new Y.XmlElement('paragraph');
  const text = new Y.XmlText();
  text.insert(0, words, marks);
  paragraph.insert(0, [text]);
  const block = kind === 'paragraph' ? paragraph : new Y.XmlElement(kind);
  live.doc.transact(() => {
    if (block !== paragraph) block.insert(0, [paragraph]);
    rootOf(live).push([block]);
  });
}
const kinds = (live: LivePage) =>
  rootOf(live)
    .toArray()
    .map((item) => (item as Y.XmlElement).nodeName);
const networkGone = () => house.kill();
const networkBack = async () => {
  house = await startHouse(log, undefined, house.port);
};

describe('a window of an older build', () => {
  it('without the look ahead would delete for everyone what it does not know', async () => {
    const [old, ben] = [visit('ada', older, { guarded: false }), visit('ben')];
    await safe(old);
    await safe(ben);
    add(ben, 'paragraph', 'known');
    await safe(ben);
    await until('it arrives', () => textOf(old.doc).includes('known'));
    bind(old, older);
    add(ben, 'blockquote', 'said at the bench');
    await until('it is gone for Ben', () => textOf(ben.doc) === '<paragraph>known</paragraph>');
  });

  it.each([
    ['a block', 'a block of the kind “blockquote”', (live: LivePage) => add(live, 'blockquote', 'said at the bench')],
    ['a mark', 'words marked as “italic”', (live: LivePage) => add(live, 'paragraph', 'said at the bench', { italic: {} })],
  ])('is sent away before %s reaches its editor', async (_what, words, bring) => {
    const [old, ben] = [visit('ada', older), visit('ben')];
    await safe(old);
    await safe(ben);
    add(ben, 'paragraph', 'known');
    await safe(ben);
    await until('it arrives', () => textOf(old.doc).includes('known'));
    bind(old, older);
    bring(ben);
    await until('it is sent away', () => now(old).state === 'refused');
    expect(now(old).reason).toBe(
      `This page holds ${words}, which this window does not know yet: Fettlebook has been updated. Reload the page to go on. If this comes again, the server has gone back to an older version, and only the newer one can change this page.`,
    );
    expect(textOf(old.doc)).toBe('<paragraph>known</paragraph>');
    await safe(ben);
    expect(log.text('page')).toContain('said at the bench');
    expect(log.text('page')).toBe(textOf(ben.doc));
    add(old, 'paragraph', 'typed on all the same');
    expect(now(old)).toMatchObject({ state: 'refused', kept: 1 });
  });

  it.each([
    ['with its own version in the handshake', '0', 'Fettlebook has been updated. Reload the page to go on.'],
    ['by a server that takes it', undefined, /^This page holds a block of the kind “blockquote”/],
  ])('that wrote without network is refused (%s); after the reload everything is there', async (_how, version, reason) => {
    const first = visit('ada', older);
    await safe(first);
    add(first, 'paragraph', 'at home');
    await safe(first);
    await until('the device keeps', () => now(first).device === 'keeping');
    first.close();
    await networkGone();

    const old = visit('ada', older, { version });
    await ready(old);
    bind(old, older);
    add(old, 'paragraph', 'in the shed');
    add(old, 'paragraph', 'and again');
    rootOf(old).delete(0); // a deletion is a change like any other
    await networkBack();
    const ben = visit('ben');
    await safe(ben);
    add(ben, 'blockquote', 'said at the bench');
    await safe(ben);
    await until('it is sent away', () => now(old).state === 'refused');
    expect(now(old).reason).toMatch(reason);
    expect(now(old).kept).toBe(3); // even where they have arrived: nothing has confirmed it
    expect(log.text('page')).toContain('said at the bench');
    old.close();
    expect(keptPages()).toMatchObject([{ page: 'page', member: 'ada', changes: 3 }]);

    const reloaded = visit('ada');
    await ready(reloaded);
    await safe(reloaded);
    expect(unknownIn(rootOf(reloaded), newer)).toBeNull();
    bind(reloaded, newer);
    await until('they are the same', () => textOf(reloaded.doc) === textOf(ben.doc));
    for (const words of ['in the shed', 'and again', 'said at the bench']) expect(log.text('page')).toContain(words);
    expect(log.text('page')).not.toContain('at home');
    expect(keptPages()).toEqual([]);
  });

  it('need not be opened again: its changes are sent from another page, by a script that binds no editor', async () => {
    const first = visit('ada', older);
    await safe(first);
    await until('the device keeps', () => now(first).device === 'keeping');
    await networkGone();
    add(first, 'paragraph', 'in the shed');
    first.close();
    await networkBack();
    const ben = visit('ben');
    await safe(ben);
    add(ben, 'blockquote', 'said at the bench');
    await safe(ben);
    const open = (() => visit('ada', older, { guarded: false })) as typeof openPage;
    expect(await sendKept('ada', open)).toEqual([]);
    for (const words of ['in the shed', 'said at the bench']) expect(log.text('page')).toContain(words);
  });

  it('whose device is slow does not bring to its editor what a newer window kept there; the device keeps both', async () => {
    const ben = visit('ben');
    await safe(ben);
    add(ben, 'paragraph', 'known');
    await safe(ben);
    const first = visit('ada');
    await safe(first);
    await until('the device keeps', () => now(first).device === 'keeping');
    await networkGone();
    add(first, 'blockquote', 'said at the bench');
    await until('it is written', () => now(first).onDevice === 1);
    first.close();

    await networkBack();
    const answer = slowStorage();
    const old = visit('ada', older);
    await ready(old);
    expect(textOf(old.doc)).toBe('<paragraph>known</paragraph>');
    bind(old, older);
    await until('it is in touch', () => old.provider.wsconnected);
    await networkGone();
    add(old, 'paragraph', 'typed in the old window');
    answer();
    await until('it is sent away', () => now(old).state === 'refused');
    expect(now(old).reason).toContain('a block of the kind “blockquote”');
    await until('the device keeps', () => now(old).device === 'keeping');
    add(old, 'paragraph', 'typed on all the same');
    await until('all is written', () => now(old).onDevice === now(old).kept);
    expect(kinds(old)).toEqual(['paragraph', 'paragraph', 'paragraph']);
    old.close();

    await networkBack();
    const reloaded = visit('ada');
    await safe(reloaded);
    for (const words of ['known', 'said at the bench', 'typed in the old window', 'typed on all the same'])
      expect(log.text('page')).toContain(words);
    expect(unknownIn(rootOf(reloaded), newer)).toBeNull();
  });

  it('opened on a page that holds what it does not know is never bound', async () => {
    const ben = visit('ben');
    await safe(ben);
    add(ben, 'blockquote', 'said at the bench');
    await safe(ben);
    const old = visit('ada', older);
    await until('it is sent away', () => now(old).state === 'refused');
    expect(old.ready.getSnapshot()).toBe(false);
    expect(textOf(old.doc)).toBe('');
  });
});

describe('a server that has gone back to an older build', () => {
  it('turns newer windows away, takes what they kept, and its own windows are not bound to it', async () => {
    const newerWindow = visit('ada');
    await safe(newerWindow);
    add(newerWindow, 'blockquote', 'said at the bench');
    await safe(newerWindow);
    await until('the device keeps', () => now(newerWindow).device === 'keeping');
    newerWindow.close();
    await networkGone();

    const open = visit('ada', newer, { version: '2' });
    await ready(open);
    bind(open, newer);
    add(open, 'blockquote', 'kept by the newer build');
    await networkBack();
    await until('it is turned away', () => now(open).state === 'refused');
    expect(now(open)).toMatchObject({ kept: 1, onDevice: 1 });
    open.close();

    // The same device, reloaded: it has what only the newer build knows, says so, and sends it all the same.
    const back = visit('ada', older);
    await ready(back);
    expect(unknownIn(rootOf(back), older)).toBe('a block of the kind “blockquote”');
    await safe(back);
    expect(log.text('page')).toBe(textOf(open.doc));
    back.close();

    // Another device of the older build.
    const ben = visit('ben', older);
    await until('it is sent away', () => now(ben).state === 'refused');
    expect(ben.ready.getSnapshot()).toBe(false);

    const again = visit('ada');
    await safe(again);
    bind(again, newer);
    expect(kinds(again)).toEqual(['blockquote', 'blockquote']);
    expect(textOf(again.doc)).toContain('kept by the newer build');
  });
});
