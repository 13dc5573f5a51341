/** Write-ups in archives: wording, prices, sent copies, letterhead and logo come back as they were; links and pass phrases stay. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join as path } from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import { afterAll, afterEach, beforeEach, expect, test } from 'vitest';
import { GET as pageArchive } from '@/app/(club)/pages/[id]/archive/route';
import { maySeePicture } from '@/lib/access/pictures';
import { listReportLinks, openReport } from '@/lib/access/reports';
import { makeToken } from '@/lib/access/tokens';
import { exportArchive, type Scope } from '@/lib/archive/export';
import { writeUpFile } from '@/lib/archive/format';
import { importArchive } from '@/lib/archive/import';
import { previewArchive } from '@/lib/archive/preview';
import { type Archive, readArchive } from '@/lib/archive/read';
import { sourceOf } from '@/lib/archive/zip-source';
import { keepPicture } from '@/lib/files/pictures';
import type { Live } from '@/lib/live/server';
import { newPageDoc, writeContent } from '@/lib/notebook/content';
import type { Copy } from '@/lib/notebook/writeup/copy';
import { getLetterhead, setLetterhead } from '@/lib/store/letterhead';
import { createPage } from '@/lib/store/pages';
import { holdOnLetterhead, holdOnPage } from '@/lib/store/pictures';
import { copiesOf, dropWording, putWording, setPriced, wordingsOf } from '@/lib/store/write-ups';
import { bearer, join } from '../access/house';
import { copyTitled, send } from '../access/sent';
import { halves } from '../files/images';
import { contentFrom, openHouse } from '../search/club';
import { type TestDatabase, testDatabase } from '../store/cluster';

const folder = mkdtempSync(path(tmpdir(), 'fettlebook-archive-'));
process.env.DATA_DIR = folder; // read once, at the first question
let db: TestDatabase;
let house: Live;
const open = async () => {
  rmSync(path(folder, 'files'), { recursive: true, force: true });
  db = await testDatabase();
  house = openHouse(db.database);
};
const shut = async () => {
  await house.close();
  await db.close();
};
beforeEach(open);
afterEach(shut);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const zipOf = async (what: Scope, more = {}) =>
  new Uint8Array(await new Response((await exportArchive(what, more)) ?? undefined).arrayBuffer());
function archiveIn(zip: Uint8Array): Archive {
  const read = readArchive(sourceOf(zip));
  if (!read.ok) throw new Error(read.message);
  return read.archive;
}
async function keep(bytes: Buffer): Promise<string> {
  const kept = await keepPicture(new Uint8Array(bytes));
  if (!kept.ok) throw new Error(kept.message);
  return kept.picture.hash;
}
const text = (words: string) => contentFrom(`# Lamps out\n\n${words}\n`);
const phrase = 'four tin larks';

/** A page that was worded and sent twice: with a photo that it shows no longer, and with a logo that is not the letterhead's any more. */
async function seed() {
  const ines = await join('Ines', 'owner');
  const [photo, older, logo] = [
    await keep(await halves(640, 480).jpeg().toBuffer()),
    await keep(await halves(200, 80).png().toBuffer()),
    await keep(await halves(240, 90).png().toBuffer()),
  ];
  await createPage({ id: 'lamps', machineId: null, member: ines.id, update: newPageDoc(text('Dark at the left.')) });
  await holdOnPage('lamps', photo, ines.id);
  for (const hash of [older, logo]) await holdOnLetterhead(hash);
  await setLetterhead({
    name: 'Ashgate Shed',
    address: ['2 Weir Yard', 'Ashgate'],
    logo: { picture: logo, width: 240, height: 90 },
    currency: 'GBP',
    rate: 3000,
  });
  await putWording({ page: 'lamps', key: 'title', words: 'No light', price: null, over: 'Lamps out', member: ines.id, seen: '' });
  await putWording({ page: 'lamps', key: 'done.+x', words: 'New fuse', price: 250, over: '', member: ines.id, seen: '' });
  await setPriced('lamps', true);
  const shown = { picture: photo, width: 640, height: 480, caption: 'Left', marks: [] };
  const copy: Copy = copyTitled('Lamps out', {
    head: { name: 'Ashgate Shed', address: [], logo: { picture: older, width: 200, height: 80 } },
    currency: 'GBP',
    sections: [{ id: 'photos', name: 'Photos', lines: [{ text: 'Left', price: null, photo: shown }] }],
  });
  await send('lamps', ines, copyTitled('First'), phrase);
  const { token } = await send('lamps', ines, copy);
  return { ines, photo, older, logo, token };
}
const withoutIds = async (page: string) => (await copiesOf(page)).map(({ id: _, ...copy }) => copy);

test('a club in an empty notebook: wording, prices, copies, letterhead and logos as they were, and no links', async () => {
  const { photo, older, logo, token } = await seed();
  const before = { words: await wordingsOf('lamps'), copies: await withoutIds('lamps'), head: await getLetterhead() };
  expect(before.copies.map(({ number }) => number)).toEqual([2, 1]);
  const zip = await zipOf({ scope: 'club' });
  const files = Object.entries(unzipSync(zip)).filter(([name]) => !name.endsWith('.jpg'));
  const links = (await listReportLinks('lamps')).map((link) => link.token);
  for (const [name, bytes] of files)
    for (const secret of [phrase, token, ...links]) expect(strFromU8(bytes).includes(secret), name).toBe(false);
  expect(files.map(([, bytes]) => strFromU8(bytes)).join('')).not.toMatch(/scrypt|report\//);
  await shut();
  await open();
  const wen = await join('Wen', 'owner');
  const archive = archiveIn(zip);
  expect(archive.manifest.version).toBe(3);
  const result = await importArchive(archive, {}, wen.id);
  expect(result.ok && result.rows.every(({ done }) => done === 'added')).toBe(true);
  expect(await wordingsOf('lamps')).toEqual(before.words);
  expect(await withoutIds('lamps')).toEqual(before.copies);
  expect(await getLetterhead()).toEqual(before.head);
  for (const hash of [older, logo]) expect((await maySeePicture({ page: 'lamps', shows: [], logo: hash }, hash))?.hash).toBe(hash);
  expect((await maySeePicture({ page: 'lamps', shows: [photo], logo: null }, photo))?.hash).toBe(photo);
  expect(await listReportLinks('lamps')).toEqual([]);
  expect((await openReport(token, null)).state).toBe('none');
  const again = await previewArchive(archive);
  expect(again.ok && again.rows.filter((row) => row.state !== 'same')).toEqual([]);
}, 120_000);

test('of a page that is otherwise here: kept, its wording stays; replaced, theirs comes and no sent copy of ours goes', async () => {
  const { ines } = await seed();
  const archive = archiveIn(await zipOf({ scope: 'page', id: 'lamps' }));
  expect(archive.letterhead).toBeNull(); // of one page only the letterheads that its copies had
  expect((await previewArchive(archive)).ok && (await previewArchive(archive))).toMatchObject({ rows: [{ state: 'same' }, {}] });
  const wording = (await wordingsOf('lamps')).title;
  await dropWording('lamps', 'title', wording?.at ?? '');
  await send('lamps', ines, copyTitled('Third'));
  await house.change('lamps', ines.id, (doc) => writeContent(doc, text('Dark at the right.')));
  await importArchive(archive, {}, ines.id);
  expect(Object.keys(await wordingsOf('lamps'))).toEqual(['done.+x']);
  await importArchive(archive, { 'page:lamps': 'replace' }, ines.id);
  expect((await wordingsOf('lamps')).title).toEqual(wording);
  expect((await copiesOf('lamps')).map(({ number, copy }) => [number, copy.title])).toEqual([
    [3, 'Third'],
    [2, 'Lamps out'],
    [1, 'First'],
  ]);
  // Where a number is taken by another copy, the one that comes gets the next.
  const [page, file] = [archive.pages[0]!, archive.writeUps.get('lamps')!];
  const other = { ...file, copies: [{ ...file.copies[0]!, copy: copyTitled('Elsewhere') }] };
  const theirs = { ...archive, pages: [{ ...page, content: text('Else.') as typeof page.content }], writeUps: new Map([['lamps', other]]) };
  await importArchive(theirs, { 'page:lamps': 'replace' }, ines.id);
  expect((await copiesOf('lamps')).map(({ number, copy }) => [number, copy.title])[0]).toEqual([4, 'Elsewhere']);
}, 120_000);

test('an archive that says nothing of write-ups leaves them alone; who may not see what was sent takes none away', async () => {
  const { ines } = await seed();
  const priya = await join('Priya', 'reader');
  const taken = async (who: typeof ines) => {
    const headers = bearer((await makeToken(who, 'tests')).token);
    const answer = await pageArchive(new Request('http://127.0.0.1:3000/', { headers }), { params: Promise.resolve({ id: 'lamps' }) });
    return new Uint8Array(await answer.arrayBuffer());
  };
  const name = 'pages/lamps/write-up.json';
  expect(writeUpFile.parse(JSON.parse(strFromU8(unzipSync(await taken(ines))[name]!))).copies).toHaveLength(2);
  const files = unzipSync(await taken(priya));
  expect(files[name]).toBeUndefined();
  expect(files['letterhead.json']).toBeUndefined();
  const archive = archiveIn(await taken(priya));
  await house.change('lamps', ines.id, (doc) => writeContent(doc, text('Dark at the right.')));
  await importArchive(archive, { 'page:lamps': 'replace' }, ines.id);
  expect(Object.keys(await wordingsOf('lamps'))).toHaveLength(2);
  expect(await copiesOf('lamps')).toHaveLength(2);
}, 120_000);
