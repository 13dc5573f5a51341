/** Pictures behind a customer's link: those of its write-up, for as long as the link holds. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join as path } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { GET as show } from '@/app/(open)/report/[token]/files/[hash]/[size]/route';
import { makeReportLink, revokeReportLink } from '@/lib/access/reports';
import { keepPicture } from '@/lib/files/pictures';
import type { Live } from '@/lib/live/server';
import { newPageDoc } from '@/lib/notebook/content';
import { createPage, removePage } from '@/lib/store/pages';
import { holdOnPage } from '@/lib/store/pictures';
import type { Member } from '@/lib/store/types';
import { join } from '../access/house';
import { halves } from '../files/images';
import { contentFrom, openHouse } from '../search/club';
import { type TestDatabase, testDatabase } from '../store/cluster';

const folder = mkdtempSync(path(tmpdir(), 'fettlebook-files-'));
process.env.DATA_DIR = folder; // read once, at the first question
let db: TestDatabase;
let house: Live;
let ines: Member;
beforeAll(async () => {
  db = await testDatabase();
  house = openHouse(db.database);
  ines = await join('Ines', 'owner');
});
afterAll(async () => {
  await house.close();
  await db.close();
  rmSync(folder, { recursive: true, force: true });
});

const get = async (token: string, hash: string) => {
  const params = Promise.resolve({ token, hash, size: '320' });
  return (await show(new Request('http://127.0.0.1:3000/x'), { params })).status;
};
async function kept(width: number) {
  const answer = await keepPicture(await halves(width, 20).png().toBuffer());
  if (!answer.ok) throw new Error(answer.message);
  return answer.picture;
}
/** A page whose photo widget shows the first picture; it holds the second beside it, as after taking a photo out. */
async function pageWith(shown: Awaited<ReturnType<typeof kept>>, taken: string) {
  const photo = { picture: shown.hash, width: shown.width, height: shown.height, by: 'Ines', at: '2026-11-21T10:00:00.000Z' };
  const markdown = `# Lamps out\n\n\`\`\`widget photo ph1\nphoto.p1: ${JSON.stringify(photo)}\n\`\`\`\n`;
  const page = await createPage({ machineId: null, member: ines.id, update: newPageDoc(contentFrom(markdown)) });
  for (const hash of [shown.hash, taken]) await holdOnPage(page.id, hash, ines.id);
  return page.id;
}

test('are those the write-up shows, under that link alone, until it is taken back or the page is removed', async () => {
  const [one, two, out] = [await kept(40), await kept(42), await kept(44)];
  const [first, second] = [await pageWith(one, out.hash), await pageWith(two, out.hash)];
  const [link, other] = [await makeReportLink(first, ines), await makeReportLink(second, ines)];
  expect(await get(link.token, one.hash)).toBe(200);
  expect(await get(other.token, two.hash)).toBe(200);
  expect(await get(link.token, two.hash)).toBe(404); // of another page
  expect(await get(link.token, out.hash)).toBe(404); // taken out of the page
  expect(await get('guessed', one.hash)).toBe(404);
  expect(await get(link.token, '0'.repeat(64))).toBe(404);
  await revokeReportLink(link.id);
  expect(await get(link.token, one.hash)).toBe(404);
  await removePage(second, ines.id);
  expect(await get(other.token, two.hash)).toBe(404);
});
