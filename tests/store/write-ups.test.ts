/** Wording that two members write at once: the second is told, and nothing of either is lost. */
import { afterEach, beforeEach, expect, test } from 'vitest';
import { setSetting } from '@/lib/store/club';
import { getLetterhead, setLetterhead } from '@/lib/store/letterhead';
import { createPage } from '@/lib/store/pages';
import { user } from '@/lib/store/schema';
import { dropWording, isPriced, putWording, setPriced, wordingsOf } from '@/lib/store/write-ups';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
let page: string;
beforeEach(async () => {
  db = await testDatabase();
  const members = ['ines', 'tomas'].map((id) => ({ id, name: `Name of ${id}`, email: `${id}@club.example`, role: 'editor' as const }));
  await db.database.insert(user).values(members);
  page = (await createPage({ machineId: null, member: null, update: Uint8Array.of(0, 0) })).id;
});
afterEach(() => db.close());

const line = (words: string, member: string, seen: string) => ({
  page,
  key: 'done.r.0',
  words,
  price: 120,
  over: 'New housing',
  member,
  seen,
});
const seenNow = async () => (await wordingsOf(page))['done.r.0']?.at ?? '';

test('wording is kept with whose it is and what it stood over', async () => {
  expect(await wordingsOf(page)).toEqual({});
  expect(await putWording(line('A new plug', 'ines', ''))).toEqual({ ok: true });
  expect(await wordingsOf(page)).toEqual({
    'done.r.0': { words: 'A new plug', price: 120, over: 'New housing', by: 'Name of ines', at: expect.stringMatching(/Z$/) },
  });
});

test('who writes over what they had not seen is told whose it is, and changes nothing', async () => {
  await putWording(line('A new plug', 'ines', ''));
  expect(await putWording(line('Mine', 'tomas', ''))).toMatchObject({ ok: false, now: { words: 'A new plug', by: 'Name of ines' } });
  const seen = await seenNow();
  expect(await putWording(line('Better', 'tomas', seen))).toEqual({ ok: true });
  expect(await putWording(line('Late', 'ines', seen))).toMatchObject({ ok: false, now: { words: 'Better' } });
  expect(await dropWording(page, 'done.r.0', seen)).toBe(false);
  expect(await dropWording(page, 'done.r.0', await seenNow())).toBe(true);
  expect(await wordingsOf(page)).toEqual({});
});

test('of several who word a bare line at the same time one is kept', async () => {
  const all = await Promise.all(['a', 'b', 'c'].map((words) => putWording(line(words, 'ines', ''))));
  expect(all.filter(({ ok }) => ok)).toHaveLength(1);
});

test('prices are left out until somebody wants them', async () => {
  expect(await isPriced(page)).toBe(false);
  await setPriced(page, true);
  expect(await isPriced(page)).toBe(true);
  await setPriced(page, false);
  expect(await isPriced(page)).toBe(false);
});

test('the letterhead follows the club until it is set', async () => {
  await setSetting('club.name', 'Ashgate Shed');
  expect(await getLetterhead()).toEqual({ name: 'Ashgate Shed', address: [], logo: null, currency: 'GBP', rate: null });
  const own = { name: 'Ashgate Repairs', address: ['2 Cinder Yard'], logo: null, currency: 'EUR', rate: 3000 };
  await setLetterhead(own);
  expect(await getLetterhead()).toEqual(own);
});
