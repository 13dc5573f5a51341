/** Bringing an archive in goes on beside the request: how far it is and what came of it can be asked from anywhere. */
import { mkdirSync, mkdtempSync, rmSync, utimesSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeEach, expect, test, vi } from 'vitest';
import { outcomeWords, progressWords } from '@/app/(club)/club/import/how-far';
import { allBringing, bringIn, bringing } from '@/lib/archive/bringing';
import type { Imported } from '@/lib/archive/import';
import type { Tell } from '@/lib/archive/progress';

const folder = mkdtempSync(join(tmpdir(), 'fettlebook-bringing-'));
Object.assign(process.env, { DATA_DIR: folder, BASE_URL: 'http://127.0.0.1:3000' }); // read once, at the first question
const shelf = join(folder, 'brought');
const id = 'abcdefghijkl';
const row = { key: 'page:one', kind: 'page', id: 'one', title: 'One', state: 'new', choices: [], done: 'added' } as const;
const fine: Imported = { ok: true, rows: [{ ...row, choices: [] }] };

beforeEach(() => {
  mkdirSync(shelf, { recursive: true });
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
});
afterEach(() => {
  vi.useRealTimers();
  vi.restoreAllMocks();
  rmSync(shelf, { recursive: true, force: true });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Work that ends when it is told to, and what it tells. */
function slowWork() {
  let tell: Tell = () => {};
  let end: (result: Imported) => void = () => {};
  const work = (heard: Tell) => {
    tell = heard;
    return new Promise<Imported>((resolve) => {
      end = resolve;
    });
  };
  return { work, tell: (...told: Parameters<Tell>) => tell(...told), end: (result: Imported) => end(result) };
}

test('how far it is can be seen while it goes on, and then what came of it', async () => {
  expect(bringing(id)).toBeNull();
  const slow = slowWork();
  const over = bringIn(id, slow.work);
  expect(bringing(id)).toEqual({ state: 'going', progress: { step: 'looking', done: 0, of: 0 } });
  slow.tell({ step: 'pictures', done: 120, of: 1300 });
  vi.advanceTimersByTime(500);
  const now = bringing(id);
  expect(now?.state === 'going' && progressWords(now.progress)).toBe('Step 2 of 4, pictures: 120 of 1,300.');
  expect(allBringing()).toEqual([{ id, bringing: now }]);
  slow.end(fine);
  const outcome = await over;
  expect(outcome && outcomeWords(outcome)).toBe('Brought in: 1 added.');
  expect(bringing(id)).toEqual({ state: 'over', outcome });
  vi.advanceTimersByTime(5000);
  expect(bringing(id)).toEqual({ state: 'over', outcome }); // no note comes after the end
});

test('of two who press at once one goes on; when it is over it can be begun again', async () => {
  const slow = slowWork();
  const first = bringIn(id, slow.work);
  expect(bringIn(id, () => Promise.reject(new Error('twice')))).toBeNull();
  slow.end({ ok: false, message: 'It is damaged.', mend: 'Export it again.' });
  expect(await first).toEqual({ ok: false, message: 'It is damaged. Export it again. Nothing was kept.' });
  expect(await bringIn(id, async () => fine)).toMatchObject({ ok: true, counts: { added: 1 } });
});

test('when the server fails at it, it says what to do', async () => {
  const said = vi.spyOn(console, 'error').mockImplementation(() => {});
  await bringIn(id, () => Promise.reject(new Error('the disk is full')));
  expect(said).toHaveBeenCalledOnce();
  const now = bringing(id);
  expect(now?.state === 'over' && outcomeWords(now.outcome)).toContain('Bring it in again: what is here already is passed over.');
});

test('of a server that stopped meanwhile nothing is heard: it was cut off, and can be begun again', async () => {
  bringIn(id, slowWork().work);
  const long = (Date.now() - 31_000) / 1000;
  utimesSync(join(shelf, `${id}.going`), long, long);
  expect(bringing(id)).toEqual({ state: 'cut off' });
  expect(await bringIn(id, async () => fine)).toMatchObject({ ok: true });
});

test('what came of it names only what there was', () => {
  const counts = { added: 3, 'added beside': 0, replaced: 0, kept: 1, same: 90 };
  expect(outcomeWords({ ok: true, counts })).toBe('Brought in: 3 added, 1 kept as ours, 90 the same already.');
});

test('what is no id is nothing', () => {
  for (const other of ['../secret', '', 'x']) {
    expect(bringing(other)).toBeNull();
    expect(bringIn(other, async () => fine)).toBeNull();
  }
});

test('notes that cannot be written end neither the work nor the server', async () => {
  const said = vi.spyOn(console, 'error').mockImplementation(() => {});
  const slow = slowWork();
  const over = bringIn(id, slow.work);
  rmSync(shelf, { recursive: true }); // as little can be written as on a full disk
  vi.advanceTimersByTime(1000);
  slow.end(fine);
  await expect(over).resolves.toMatchObject({ ok: true });
  expect(said).toHaveBeenCalledWith('How far an archive is could not be noted:', expect.anything());
});
