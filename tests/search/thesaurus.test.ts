import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Live } from '@/lib/live/server';
import { searchFixes } from '@/lib/search/search';
import { asLines, clubGroups, givenGroups, readLines, setClubGroups } from '@/lib/search/thesaurus';
import { setSetting } from '@/lib/store/club';
import { type TestDatabase, testDatabase } from '../store/cluster';
import { openHouse, seedClub } from './club';

let db: TestDatabase;
let house: Live;
beforeAll(async () => {
  db = await testDatabase();
  house = openHouse(db.database);
  await seedClub();
}, 60_000);
afterAll(async () => {
  await house?.close();
  await db?.close();
});

test('lines and groups say the same; a line that is no group is named', () => {
  expect(readLines(asLines(givenGroups))).toEqual({ ok: true, groups: givenGroups });
  expect(readLines('a, b\n\n  C ,d, c\n')).toEqual({
    ok: true,
    groups: [
      ['a', 'b'],
      ['c', 'd'],
    ],
  });
  expect(readLines('a, b\nalone')).toMatchObject({ ok: false, message: expect.stringMatching(/^Line 2: write at least two/) });
  expect(readLines(`a, ${'x'.repeat(61)}`)).toMatchObject({ ok: false, message: expect.stringMatching(/^Line 1: .*longer than 60/) });
  expect(readLines('a, b\n'.repeat(401))).toMatchObject({ ok: false });
});

test('a group that the club adds is searched with at once, and says for which word it stood', async () => {
  const found = async () =>
    (await searchFixes('whirlybird misses', { limit: 100 })).results.find((r) => r.page === 'spinner-misses-counts-when-warm')?.why ?? [];
  expect((await found()).join()).not.toContain('whirlybird');
  await setClubGroups([...givenGroups, ['whirlybird', 'spinner']]);
  expect(await found()).toContain('says “spinner” for “whirlybird”');
  await setSetting('thesaurus', '{"groups": "damaged"}');
  expect(await clubGroups()).toEqual(givenGroups);
});
