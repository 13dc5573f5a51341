/** What stands behind a customer's link beside its page: pictures and the PDF, for as long as the link holds. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join as path } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { GET as show } from '@/app/(open)/report/[token]/files/[hash]/[size]/route';
import { POST as open } from '@/app/(open)/report/[token]/open/route';
import { GET as pdf } from '@/app/(open)/report/[token]/write-up.pdf/route';
import { maySeePicture } from '@/lib/access/pictures';
import { revokeReportLink } from '@/lib/access/reports';
import { keepPicture } from '@/lib/files/pictures';
import type { Live } from '@/lib/live/server';
import { newPageDoc } from '@/lib/notebook/content';
import type { Copy } from '@/lib/notebook/writeup/copy';
import { createPage, removePage } from '@/lib/store/pages';
import { deletePicture, holdOnLetterhead, holdOnPage, releaseFromPage } from '@/lib/store/pictures';
import type { Member } from '@/lib/store/types';
import { join } from '../access/house';
import { copyTitled, olderLink, send } from '../access/sent';
import { halves } from '../files/images';
import { readPdf } from '../print/read-pdf';
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

const asked = (query = '', cookie = '') => new Request(`http://127.0.0.1:3000/x${query}`, { headers: cookie ? { cookie } : {} });
const get = async (token: string, hash: string, cookie = '') => {
  const params = Promise.resolve({ token, hash, size: '320' });
  const answer = await show(asked('', cookie), { params });
  expect(answer.headers.get('cache-control')).toBe('no-store');
  return answer.status;
};
const getPdf = (token: string, cookie = '') => pdf(asked('?paper=letter', cookie), { params: Promise.resolve({ token }) });
async function kept(width: number) {
  const answer = await keepPicture(await halves(width, 20).png().toBuffer());
  if (!answer.ok) throw new Error(answer.message);
  return answer.picture;
}
type Kept = Awaited<ReturnType<typeof kept>>;
/** A page whose photo widget shows the first picture; it holds the second beside it, as after taking a photo out. */
async function pageWith(shown: Kept, taken: string) {
  const photo = { picture: shown.hash, width: shown.width, height: shown.height, by: 'Ines', at: '2026-11-21T10:00:00.000Z' };
  const markdown = `# Lamps out\n\n\`\`\`widget photo ph1\nphoto.p1: ${JSON.stringify(photo)}\n\`\`\`\n`;
  const page = await createPage({ machineId: null, member: ines.id, update: newPageDoc(contentFrom(markdown)) });
  for (const hash of [shown.hash, taken]) await holdOnPage(page.id, hash, ines.id);
  return page.id;
}
const copyWith = ({ hash, width, height }: Kept, logo: Kept | null = null): Copy =>
  copyTitled('Lamps out', {
    head: { name: 'Ashgate Shed', address: [], logo: logo && { picture: logo.hash, width: logo.width, height: logo.height } },
    sections: [
      {
        id: 'photos',
        name: 'Photos',
        lines: [{ text: 'Before', price: null, photo: { picture: hash, width, height, caption: 'Before', marks: [] } }],
      },
    ],
  });

test('pictures are those of the copy, under that link alone, until it is taken back or the page is removed', async () => {
  const [one, two, out] = [await kept(40), await kept(42), await kept(44)];
  const [first, second] = [await pageWith(one, out.hash), await pageWith(two, out.hash)];
  const [link, other] = [await send(first, ines, copyWith(one)), await send(second, ines, copyWith(two))];
  expect(await get(link.token, one.hash)).toBe(200);
  expect(await get(other.token, two.hash)).toBe(200);
  expect(await get(link.token, two.hash)).toBe(404); // of another page
  expect(await get(link.token, out.hash)).toBe(404); // held by the page, not in the copy
  expect(await get('guessed', one.hash)).toBe(404);
  expect(await get(link.token, '0'.repeat(64))).toBe(404);
  await revokeReportLink(first, link.link);
  expect(await get(link.token, one.hash)).toBe(404);
  await removePage(second, ines.id);
  expect(await get(other.token, two.hash)).toBe(404);
});

test('a copy that names a picture of another page does not open it', async () => {
  const [one, two] = [await kept(52), await kept(54)];
  const [page] = [await pageWith(one, one.hash), await pageWith(two, two.hash)];
  expect(await get((await send(page, ines, copyWith(two))).token, two.hash)).toBe(404);
});

test('a copy shows a photo that was taken out of the write-up since; one that the owner let go for good is gone', async () => {
  const [now, before] = [await kept(60), await kept(62)];
  const page = await pageWith(now, before.hash);
  const { token } = await send(page, ines, copyWith(before));
  expect(await get(token, before.hash)).toBe(200);
  expect(await get(token, now.hash)).toBe(404);
  await releaseFromPage(page, before.hash);
  expect(await get(token, before.hash)).toBe(404);
});

test('the logo is seen with each copy that carries it, by members, and is never dropped', async () => {
  const [photo, logo, later] = [await kept(70), await kept(72), await kept(74)];
  const page = await pageWith(photo, photo.hash);
  const { token } = await send(page, ines, copyWith(photo, logo));
  expect(await get(token, logo.hash)).toBe(404); // kept, and on no letterhead
  await holdOnLetterhead(logo.hash);
  await holdOnLetterhead(later.hash);
  expect(await get(token, logo.hash)).toBe(200);
  expect(await get(token, later.hash)).toBe(404);
  expect(await maySeePicture({ id: 'x', role: 'reader' }, later.hash)).toMatchObject({ hash: later.hash });
  expect(await maySeePicture(null, later.hash)).toBeNull();
  expect(await deletePicture(logo.hash)).toBe(false);
});

test('a link from before copies were kept shows the page’s photos of today', async () => {
  const [one, out] = [await kept(80), await kept(82)];
  const token = await olderLink(await pageWith(one, out.hash));
  expect(await get(token, one.hash)).toBe(200);
  expect(await get(token, out.hash)).toBe(404);
  expect((await getPdf(token)).status).toBe(200);
});

test('the PDF is the copy that was sent, and goes with its link', async () => {
  const photo = await kept(90);
  const page = await pageWith(photo, photo.hash);
  const { token, link } = await send(page, ines, copyWith(photo));
  const answer = await getPdf(token);
  expect(answer.headers.get('content-type')).toBe('application/pdf');
  expect(answer.headers.get('cache-control')).toBe('no-store');
  const read = await readPdf(Buffer.from(await answer.arrayBuffer()));
  expect(read).toMatchObject({ title: 'Lamps out', marked: true });
  expect(read.pages[0]?.text).toContain('Before');
  await revokeReportLink(page, link);
  expect((await getPdf(token)).status).toBe(404);
  expect((await getPdf('guessed')).status).toBe(404);
});

test('behind a pass phrase nothing is given out before it was given', async () => {
  const photo = await kept(94);
  const page = await pageWith(photo, photo.hash);
  const { token, link } = await send(page, ines, copyWith(photo), 'four tin larks');
  expect(await get(token, photo.hash)).toBe(404);
  expect((await getPdf(token)).status).toBe(303);
  const give = (phrase: string) =>
    open(new Request('http://127.0.0.1:3000/x', { method: 'POST', body: new URLSearchParams({ phrase }) }), {
      params: Promise.resolve({ token }),
    });
  const wrong = await give('five tin larks');
  expect([wrong.status, wrong.headers.get('location'), wrong.headers.get('set-cookie')]).toEqual([
    303,
    `/report/${token}?trouble=wrong`,
    null,
  ]);
  const cookie = (await give('Four tin larks')).headers.get('set-cookie') ?? '';
  expect(cookie).toContain(`Path=/report/${token};`);
  expect(cookie).toMatch(/HttpOnly; SameSite=Lax/);
  const [sentBack = ''] = cookie.split(';');
  expect(await get(token, photo.hash, sentBack)).toBe(200);
  expect((await getPdf(token, sentBack)).status).toBe(200);
  const another = sentBack.replace(/=(.)/, (_, first) => (first === '_' ? '=a' : '=_'));
  expect(await get(token, photo.hash, another)).toBe(404);
  await revokeReportLink(page, link);
  expect(await get(token, photo.hash, sentBack)).toBe(404);
});
