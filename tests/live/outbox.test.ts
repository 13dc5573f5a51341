/** Pictures that wait on this device: kept, sent once, told why not, let go. */
import 'fake-indexeddb/auto';
import { beforeEach, describe, expect, test, vi } from 'vitest';

const storage = new Map<string, string>();
vi.stubGlobal('localStorage', {
  getItem: (key: string) => storage.get(key) ?? null,
  setItem: (key: string, value: string) => storage.set(key, value),
  removeItem: (key: string) => storage.delete(key),
});
/** A window of its own on the same device: the module anew over the same storage. */
async function newWindow() {
  vi.resetModules();
  return import('@/lib/live/outbox');
}
const blob = (text: string) => new Blob([text]);
const place = { page: 'p1', member: 'ines', title: 'Lamp board' };
const answers = (status: number, detail = '') => vi.fn(async () => ({ status, detail }));
type Window = Awaited<ReturnType<typeof newWindow>>;
let here: Window;
beforeEach(async () => {
  storage.clear();
  here = await newWindow();
  await here.forgetPictures('ines');
});

describe('a picture', () => {
  test('waits through a closed window, is sent from another with its bytes, and is gone', async () => {
    await here.keepToSend({ ...place, hash: 'aa', blob: blob('the bytes') });
    expect(here.sendingOf('p1', 'ines', 'aa')).toMatchObject({ state: 'waiting', kept: true, url: expect.stringMatching(/^blob:/) });
    const later = await newWindow();
    expect(later.waitingPictures('ines')).toMatchObject([{ ...place, hash: 'aa' }]);
    const carry = vi.fn(async (_: string, sent: Blob, progress: (share: number) => void) => {
      progress(0.5);
      expect(later.sendingOf('p1', 'ines', 'aa')).toMatchObject({ state: 'sending', share: 0.5 });
      expect(await sent.text()).toBe('the bytes');
      return { status: 200, detail: '' };
    });
    expect(await later.sendPictures('ines', undefined, carry)).toEqual([]);
    expect(carry).toHaveBeenCalledWith('/api/pages/p1/pictures?member=ines', expect.any(Blob), expect.any(Function));
    expect(later.sendingOf('p1', 'ines', 'aa')?.state).toBe('sent');
    expect(storage.size).toBe(0);
    expect((await newWindow()).waitingPictures('ines')).toEqual([]);
  });

  test('is shown again from this device when its page is opened anew', async () => {
    await here.keepToSend({ ...place, hash: 'aa', blob: blob('x') });
    const later = await newWindow();
    await later.reopen('p2', 'ines');
    expect(later.sendingOf('p1', 'ines', 'aa')).toBeUndefined();
    await later.reopen('p1', 'ines');
    expect(later.sendingOf('p1', 'ines', 'aa')).toMatchObject({ state: 'waiting', url: expect.stringMatching(/^blob:/) });
  });

  test('is listed again where the browser has lost the list, with what the list still has as it was', async () => {
    await here.keepToSend({ ...place, hash: 'aa', blob: blob('the bytes') });
    const [before] = here.waitingPictures('ines');
    storage.clear();
    await here.keepToSend({ ...place, hash: 'bb', blob: blob('y') });
    await here.sendPictures('ines', undefined, answers(415, 'no picture'));
    const [refused] = here.waitingPictures('ines');
    const later = await newWindow();
    await later.recallPictures();
    expect(later.waitingPictures('ines')).toEqual([before, refused]);
    const carry = answers(200);
    await later.sendPictures('ines', undefined, carry);
    expect(carry).toHaveBeenCalledTimes(1);
    expect(refused).toMatchObject({ hash: 'bb', refused: 'no picture' });
  });

  test('stays while there is no network or the server stumbles, and says what to do when somebody must act', async () => {
    await here.keepToSend({ ...place, hash: 'aa', blob: blob('x') });
    for (const [status, words] of [
      [0, ''],
      [503, ''],
      [401, 'Sign in again'],
      [403, 'may not write'],
      [404, 'was removed'],
    ] as const) {
      expect(await here.sendPictures('ines', undefined, answers(status))).toHaveLength(1);
      const now = here.sendingOf('p1', 'ines', 'aa');
      expect(now?.state).toBe('waiting');
      expect(now?.message).toContain(words);
    }
  });

  test('that the server will never take is not sent again, says why, and can be forgotten', async () => {
    await here.keepToSend({ ...place, hash: 'aa', blob: blob('x') });
    await here.sendPictures('ines', undefined, answers(422, 'This picture is damaged.'));
    const carry = answers(200);
    expect(await here.sendPictures('ines', undefined, carry)).toMatchObject([{ refused: 'This picture is damaged.' }]);
    expect(carry).not.toHaveBeenCalled();
    const later = await newWindow();
    await later.reopen('p1', 'ines');
    expect(later.sendingOf('p1', 'ines', 'aa')).toMatchObject({ state: 'refused', message: 'This picture is damaged.' });
    await later.dropPicture('p1', 'ines', 'aa');
    expect(later.waitingPictures('ines')).toEqual([]);
  });

  test('asked for twice at once is sent once', async () => {
    await here.keepToSend({ ...place, hash: 'aa', blob: blob('x') });
    const carry = answers(200);
    await Promise.all([here.sendPictures('ines', 'p1', carry), here.sendPictures('ines', undefined, carry)]);
    expect(carry).toHaveBeenCalledTimes(1);
  });
});

test('pictures go by member and by page, the oldest first; forgetting a member leaves the other’s', async () => {
  vi.useFakeTimers({ toFake: ['Date'] });
  for (const [k, [page, member]] of [
    ['p2', 'ines'],
    ['p1', 'ines'],
    ['p1', 'tomas'],
  ].entries()) {
    vi.setSystemTime(1000 + k);
    await here.keepToSend({ page: page ?? '', member: member ?? '', title: '', hash: `h${k}`, blob: blob('x') });
  }
  vi.useRealTimers();
  expect(here.waitingPictures('ines').map((w) => w.page)).toEqual(['p2', 'p1']);
  const carry = answers(200);
  expect(await here.sendPictures('ines', 'p1', carry)).toEqual([]);
  expect(here.waitingPictures('ines').map((w) => w.page)).toEqual(['p2']);
  await here.forgetPictures('ines');
  expect(here.waitingPictures('ines')).toEqual([]);
  expect(here.waitingPictures('tomas')).toHaveLength(1);
  await here.forgetPictures('tomas');
});

test('where the browser keeps nothing, this window does, and says so', async () => {
  const open = vi.spyOn(indexedDB, 'open').mockImplementation(() => {
    throw new Error('not here');
  });
  const bare = await newWindow();
  await bare.keepToSend({ ...place, hash: 'aa', blob: blob('x') });
  expect(bare.sendingOf('p1', 'ines', 'aa')).toMatchObject({ kept: false });
  const carry = answers(200);
  expect(await bare.sendPictures('ines', 'p1', carry)).toEqual([]);
  expect(carry).toHaveBeenCalledTimes(1);
  open.mockRestore();
});
