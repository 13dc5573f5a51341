/** The document on the device: what was written without network outlives the window, and arrives. */
import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { WebSocket as NodeSocket } from 'ws';
import * as Y from 'yjs';
import { type LivePage, openPage } from '@/lib/live/client';
import { forgetMember, forgetSent, recallKept, sendKept } from '@/lib/live/device';
import { keptOf, keptPages, noteKept } from '@/lib/live/kept';
import { FakeLog, type House, random, startHouse, textOf, until, write } from './helpers';

const storage = new Map<string, string>();
vi.stubGlobal('localStorage', {
  getItem: (key: string) => storage.get(key) ?? null,
  setItem: (key: string, value: string) => void storage.set(key, value),
  removeItem: (key: string) => void storage.delete(key),
});

let log: FakeLog;
let house: House;
let up = true;
const opened: LivePage[] = [];
beforeEach(async () => {
  storage.clear();
  vi.stubGlobal('indexedDB', new IDBFactory());
  log = new FakeLog('page', 'other');
  house = await startHouse(log);
  up = true;
});
afterEach(async () => {
  for (const page of opened.splice(0)) page.close();
  if (up) await house.stop();
  vi.restoreAllMocks();
});

interface Visit {
  page?: string;
  schema?: string;
  keep?: boolean;
  /** Who is signed in, if not the member that the window was opened for. */
  session?: string;
}
/** A window of that member's device. Each member here has a device of their own: the stores are named after the member. */
function visit(member: string, { page = 'page', schema, keep = true, session = member }: Visit = {}): LivePage {
  const headers = { cookie: `member=${session}`, origin: house.base.replace('ws:', 'http:') };
  class MemberSocket extends NodeSocket {
    constructor(url: string | URL) {
      super(schema ? String(url).replace(/schema=\d+/, `schema=${schema}`) : url, { headers });
    }
  }
  const live = openPage(
    page,
    house.base,
    MemberSocket as unknown as typeof WebSocket,
    keep ? { keep: { member, title: 'Spinner counts sometimes' } } : {},
  );
  opened.push(live);
  return live;
}
const now = (live: LivePage) => live.saved.getSnapshot();
const safe = (live: LivePage) => until('all is saved', () => now(live).state === 'saved' && now(live).kept === 0);
const shelved = (live: LivePage) => until('the device keeps', () => now(live).device === 'keeping');
const written = (live: LivePage) => until('it is written', () => now(live).device === 'keeping' && now(live).onDevice === now(live).kept);
const networkGone = async () => {
  await house.kill();
  up = false;
};
const networkBack = async () => {
  house = await startHouse(log, undefined, house.port);
  up = true;
};

describe('a device', () => {
  it('opens a page without network as it was left, and says how many changes are kept', async () => {
    const first = visit('ada');
    await until('it is there', first.everSynced);
    write(first.doc, 'at home. ');
    await safe(first);
    first.close();

    await networkGone();
    const shed = visit('ada');
    await until('the copy is there', shed.ready.getSnapshot);
    expect(textOf(shed.doc)).toBe('at home. ');
    for (const word of ['in ', 'the ', 'shed. ']) write(shed.doc, word);
    await until('it knows that it is offline', () => now(shed).state === 'offline');
    expect(now(shed)).toMatchObject({ kept: 3, device: 'keeping' });
    await until('all of it is written', () => now(shed).onDevice === 3);
    shed.close();
    expect(keptPages()).toMatchObject([{ page: 'page', member: 'ada', title: 'Spinner counts sometimes', changes: 3 }]);

    const again = visit('ada');
    await until('the copy is there', again.ready.getSnapshot);
    expect(textOf(again.doc)).toBe('at home. in the shed. ');
    await until('it knows that it is offline', () => now(again).state === 'offline');
    expect(now(again).kept).toBe(3);

    await networkBack();
    await safe(again);
    expect(keptPages()).toEqual([]);
    expect(log.text('page')).toBe('at home. in the shed. ');
  });

  it('calls a change kept only when it is written', async () => {
    const live = visit('ada');
    await until('it is there', live.everSynced);
    await safe(live);
    await networkGone();
    write(live.doc, 'a');
    write(live.doc, 'b');
    expect(now(live)).toMatchObject({ kept: 2, onDevice: 0 });
    await until('they are written', () => now(live).onDevice === 2);
    live.close();
    const again = visit('ada');
    await until('the copy is there', again.ready.getSnapshot);
    expect(textOf(again.doc)).toBe('ab');
  });

  it('never says saved before the log has what an earlier visit left', async () => {
    const first = visit('ada');
    await until('it is there', first.everSynced);
    await safe(first);
    await networkGone();
    write(first.doc, 'kept');
    await written(first);
    first.close();
    log.commits.shut();
    await networkBack();
    const again = visit('ada');
    const states = new Set<string>();
    again.saved.subscribe(() => states.add(now(again).state));
    await until('it has been sent', () => log.appends > 0);
    expect([...states]).not.toContain('saved');
    expect(now(again).kept).toBe(1);
    log.commits.lift();
    await safe(again);
    expect(log.text('page')).toBe('kept');
  });

  it('two of them, two days without network and many visits: both end with everything', async () => {
    const r = random(20_261);
    for (const member of ['ada', 'ben']) {
      const live = visit(member);
      await until('it is there', live.everSynced);
      write(live.doc, `${member} begins. `);
      await safe(live);
      await shelved(live);
      live.close();
    }
    await networkGone();
    const counts = { ada: 0, ben: 0 };
    for (let day = 0; day < 2; day++)
      for (const member of ['ada', 'ben', 'ada', 'ben'] as const) {
        const live = visit(member);
        await until('the copy is there', live.ready.getSnapshot);
        for (let n = 1 + r.below(8); n > 0; n--) {
          write(live.doc, `${member}${counts[member]++}. `, r.pick([0, undefined]));
          live.doc.getMap('widget:w').set(`tick.${member}.${n}`, { by: member, at: `day ${day}` });
        }
        await written(live);
        live.close();
      }
    for (const member of ['ada', 'ben'] as const)
      expect(keptOf('page', member === 'ada' ? 'ben' : 'ada') + keptOf('page', member)).toBeGreaterThan(0);
    await networkBack();
    const [ada, ben] = [visit('ada'), visit('ben')];
    await safe(ada);
    await safe(ben);
    await until('they are the same', () => textOf(ada.doc) === textOf(ben.doc));
    for (const [member, count] of Object.entries(counts))
      for (let n = 0; n < count; n++) expect(textOf(ada.doc)).toContain(`${member}${n}. `);
    expect(log.text('page')).toBe(textOf(ada.doc));
    expect(ada.doc.getMap('widget:w').toJSON()).toEqual(ben.doc.getMap('widget:w').toJSON());
    expect(keptPages()).toEqual([]);
  });

  it('shows nothing of one member to another', async () => {
    const ada = visit('ada');
    await until('it is there', ada.everSynced);
    write(ada.doc, 'of Ada');
    await safe(ada);
    ada.close();
    await networkGone();
    const ben = visit('ben');
    await until('it knows that it is offline', () => now(ben).state === 'offline');
    await shelved(ben);
    expect(ben.ready.getSnapshot()).toBe(false);
    expect(textOf(ben.doc)).toBe('');
  });

  it('that cannot keep says so, and the page works all the same', async () => {
    vi.spyOn(indexedDB, 'open').mockImplementation(() => {
      throw new Error('private window');
    });
    const live = visit('ada');
    await until('it is there', live.everSynced);
    expect(now(live).device).toBe('failed');
    write(live.doc, 'still written');
    await safe(live);
    expect(log.text('page')).toBe('still written');
  });

  it('that never answers does not keep the page from opening', async () => {
    vi.spyOn(indexedDB, 'open').mockImplementation(() => ({}) as IDBOpenDBRequest);
    const live = visit('ada');
    await until('it is there', live.everSynced);
    write(live.doc, 'written all the same');
    await safe(live);
    expect(now(live)).toMatchObject({ device: 'opening', onDevice: 0 });
    expect(log.text('page')).toBe('written all the same');
  });

  it('begins with what came with the screen, and counts none of it as a change', async () => {
    const seed = new Y.Doc();
    write(seed, 'from the screen');
    await networkGone();
    const live = openPage('page', house.base, NodeSocket as unknown as typeof WebSocket, {
      keep: { member: 'cleo', title: 'x' },
      state: Y.encodeStateAsUpdate(seed),
    });
    opened.push(live);
    await until('it is there', live.ready.getSnapshot);
    expect([textOf(live.doc), now(live).kept]).toEqual(['from the screen', 0]);
  });
});

describe('changes left behind', () => {
  async function leaveSome() {
    for (const page of ['page', 'other']) {
      const live = visit('ada', { page });
      await until('it is there', live.everSynced);
      await shelved(live);
    }
    await networkGone();
    for (const live of opened.splice(0)) {
      write(live.doc, 'left behind');
      await written(live);
      live.close();
    }
    expect(keptPages()).toHaveLength(2);
    await networkBack();
  }
  const open = ((page: string, _base: unknown, _socket: unknown, _options: unknown) => visit('ada', { page })) as typeof openPage;

  it('are sent from any page later on', async () => {
    await leaveSome();
    expect(await sendKept('ada', open)).toEqual([]);
    expect([log.text('page'), log.text('other')]).toEqual(['left behind', 'left behind']);
  });

  it('stay when they cannot be sent, and are another member’s business', async () => {
    await leaveSome();
    expect(await sendKept('ben', open)).toEqual([]);
    const old = ((page: string) => visit('ada', { page, schema: '0' })) as typeof openPage;
    expect((await sendKept('ada', old)).map((kept) => kept.page).sort()).toEqual(['other', 'page']);
    expect(log.text('page')).toBe('');
  });

  it('are not sent in the name of another who has signed in meanwhile', async () => {
    await leaveSome();
    const later = ((page: string) => visit('ada', { page, session: 'ben' })) as typeof openPage;
    expect(await sendKept('ada', later)).toHaveLength(2);
    expect(now(opened[0]!).reason).toContain('signed out');
    expect([log.text('page'), log.text('other')]).toEqual(['', '']);
    expect(await sendKept('ada', open)).toEqual([]);
    expect(log.text('page')).toBe('left behind');
  });

  it('go with the member who signs out', async () => {
    await leaveSome();
    await forgetMember('ada');
    expect(keptPages()).toEqual([]);
    const live = visit('ada');
    await until('it is there', live.everSynced);
    await safe(live);
    expect(textOf(live.doc)).toBe('');
  });

  it('stay when what was sent is let go of, whoever signed out', async () => {
    await leaveSome();
    const ben = visit('ben');
    await until('it is there', ben.everSynced);
    await shelved(ben);
    ben.close();
    await forgetSent();
    expect((await indexedDB.databases()).map(({ name }) => name).sort()).toEqual(['fettlebook:ada:other', 'fettlebook:ada:page']);
    expect(await sendKept('ada', open)).toEqual([]);
    expect(log.text('other')).toBe('left behind');
  });

  it('stay when the browser has lost the list of them, and are listed again', async () => {
    await leaveSome();
    const listed = keptPages().map(({ page, member, title, changes }) => ({ page, member, title, changes }));
    storage.delete('fettlebook.kept');
    await recallKept();
    expect(keptPages()).toMatchObject(listed);
    storage.delete('fettlebook.kept');
    await forgetSent();
    expect(keptPages()).toMatchObject(listed);
    expect(await sendKept('ada', open)).toEqual([]);
    expect([log.text('page'), log.text('other')]).toEqual(['left behind', 'left behind']);
    await forgetSent();
    expect(keptPages()).toEqual([]);
    expect((await indexedDB.databases()).filter(({ name }) => name?.startsWith('fettlebook:'))).toEqual([]);
  });

  it('stay, and are listed again, when a killed browser has lost every list', async () => {
    await leaveSome();
    const listed = keptPages().map(({ page, member, title, changes }) => ({ page, member, title, changes }));
    storage.clear();
    await forgetSent();
    expect(keptPages()).toMatchObject(listed);
    storage.clear();
    await recallKept();
    expect(await sendKept('ada', open)).toEqual([]);
    expect([log.text('page'), log.text('other')]).toEqual(['left behind', 'left behind']);
    storage.clear();
    await forgetMember('ada');
    expect((await indexedDB.databases()).filter(({ name }) => name?.startsWith('fettlebook:'))).toEqual([]);
  });

  it('are counted on their page, too, when the list of them was lost', async () => {
    await leaveSome();
    await networkGone();
    storage.clear();
    const live = visit('ada');
    await until('the window knows', () => now(live).kept === 1);
    write(live.doc, 'and more. ');
    expect(now(live).kept).toBe(2);
    await networkBack();
    await safe(live);
    await shelved(live);
    storage.clear();
    live.close();
    await recallKept();
    expect(keptPages()).toMatchObject([{ page: 'other' }]);
  });

  it('stay when the list is lost and the store cannot be read just then', async () => {
    await leaveSome();
    storage.delete('fettlebook.kept');
    vi.spyOn(indexedDB, 'open').mockImplementation(() => {
      throw new Error('busy');
    });
    await forgetSent();
    vi.restoreAllMocks();
    await recallKept();
    expect(keptPages()).toHaveLength(2);
  });

  it('a window whose store is taken away under it says that only it has what is written from then on', async () => {
    const live = visit('ada');
    await safe(live);
    await shelved(live);
    await forgetMember('ada');
    await until('the window knows', () => now(live).device === 'failed');
    await networkGone();
    write(live.doc, 'only here');
    expect(now(live)).toMatchObject({ kept: 1, onDevice: 0, device: 'failed' });
    await networkBack();
    await safe(live);
    expect(log.text('page')).toBe('only here');
  });

  it('are taken from the list only by the window that noted them last', () => {
    noteKept('page', { member: 'ada', title: 't', changes: 2, window: 'one' });
    noteKept('page', { member: 'ada', title: 't', changes: 5, window: 'two' });
    noteKept('page', { member: 'ada', title: 't', changes: 0, window: 'one' });
    expect(keptOf('page', 'ada')).toBe(5);
    noteKept('page', { member: 'ada', title: 't', changes: 0, window: 'two' });
    expect(keptPages()).toEqual([]);
  });

  it('of a window that goes are listed, though another window of the page said since that all of its own is saved', async () => {
    const [stuck, other] = [visit('ada'), visit('ada')];
    for (const live of [stuck, other]) {
      await safe(live);
      await shelved(live);
    }
    stuck.provider.disconnect();
    write(stuck.doc, 'of the one that is stuck');
    await written(stuck);
    write(other.doc, 'of the other. ');
    await safe(other);
    expect(keptPages()).toEqual([]);
    stuck.close();
    expect(keptPages()).toMatchObject([{ page: 'page', changes: 1 }]);
    await forgetSent();
    expect(await sendKept('ada', open)).toEqual([]);
    expect(log.text('page')).toContain('of the one that is stuck');
  });

  it('a list that is not ours is passed over', () => {
    storage.set('fettlebook.kept', '{"page": {"member": 3}, "other": "x"}');
    expect(keptPages()).toEqual([]);
    storage.set('fettlebook.kept', 'no list');
    expect(keptPages()).toEqual([]);
  });
});

describe('an older window', () => {
  it('with changes of its own is sent away to reload; nothing of it or of the page is lost', async () => {
    const ada = visit('ada');
    await until('it is there', ada.everSynced);
    write(ada.doc, 'old. ');
    await safe(ada);
    await shelved(ada);
    ada.close();
    await networkGone();
    const old = visit('ada', { schema: '0' });
    await until('the copy is there', old.ready.getSnapshot);
    write(old.doc, 'written in the old window. ');
    await written(old);
    await networkBack();

    // Meanwhile a newer window writes what the old one does not know.
    const ben = visit('ben');
    await until('it is there', ben.everSynced);
    const dial = new Y.XmlElement('dial');
    dial.setAttribute('turns', '7');
    ben.doc.getXmlFragment('content').push([dial]);
    await safe(ben);

    await until('the old window is refused', () => now(old).state === 'refused');
    expect(now(old)).toMatchObject({ kept: 1, reason: 'Fettlebook has been updated. Reload the page to go on.' });
    expect(log.text('page')).toContain('<dial turns="7"></dial>');
    expect(log.text('page')).not.toContain('old window');
    old.close();

    const reloaded = visit('ada');
    await safe(reloaded);
    await until('it has arrived', () => log.text('page').includes('written in the old window. '));
    expect(log.text('page')).toContain('<dial turns="7"></dial>');
  });
});
