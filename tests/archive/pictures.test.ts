/** Pictures and the club's thesaurus in archives: the same facts, the same pictures by name and by bytes, in an empty notebook. */
import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join as path } from 'node:path';
import { sql } from 'drizzle-orm';
import { strToU8, unzipSync, zipSync } from 'fflate';
import { afterAll, afterEach, beforeEach, expect, test } from 'vitest';
import { maySeePicture } from '@/lib/access/pictures';
import { exportArchive, type Scope } from '@/lib/archive/export';
import { manifest as manifestShape, pictureList } from '@/lib/archive/format';
import { importArchive } from '@/lib/archive/import';
import { previewArchive } from '@/lib/archive/preview';
import { type Archive, readArchive } from '@/lib/archive/read';
import { sourceOf } from '@/lib/archive/zip-source';
import { indexChart } from '@/lib/core/chart';
import { withDeviation, withFoundPhoto } from '@/lib/core/chart/found';
import { photosOf, withPhoto, withPinsOn } from '@/lib/core/chart/pinned';
import { keepPicture, readPicture, removeForGood } from '@/lib/files/pictures';
import type { Live } from '@/lib/live/server';
import { newPageDoc, writeContent } from '@/lib/notebook/content';
import { indexNow } from '@/lib/search/indexer';
import { clubGroups, givenGroups, setClubGroups } from '@/lib/search/thesaurus';
import { nameVersion } from '@/lib/store/history';
import { getChartParts, getDesign, getMachine, putDesign, putMachine } from '@/lib/store/machines';
import { createPage } from '@/lib/store/pages';
import { getPicture, holdOnChart, holdOnPage } from '@/lib/store/pictures';
import { join } from '../access/house';
import { fixtureDesign, fixtureMachine } from '../core/fixture';
import { halves, speckled, withPlace } from '../files/images';
import { contentFrom, openHouse } from '../search/club';
import { type TestDatabase, testDatabase } from '../store/cluster';

const folder = mkdtempSync(path(tmpdir(), 'fettlebook-archive-'));
process.env.DATA_DIR = folder; // read once, at the first question
let db: TestDatabase;
let house: Live;
/** Another instance: an empty database and no files. */
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

async function zipOf(what: Scope): Promise<Uint8Array> {
  const stream = await exportArchive(what);
  if (!stream) throw new Error('nothing came');
  return new Uint8Array(await new Response(stream).arrayBuffer());
}
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
const page = (title: string, ...pictures: string[]) =>
  contentFrom(
    `# ${title}\n\nWords.\n\n\`\`\`widget photo photos\n${pictures
      .map(
        (hash, n) =>
          `photo.p${n}: {"picture": "${hash}", "width": 64, "height": 32, "by": "Ines", "at": "2026-01-0${n + 1}T10:00:00Z"}\ncaption.p${n}: "Number ${n}"`,
      )
      .join('\n')}\n\`\`\`\n`,
  );
const on = '2026-01-09';
const photo = (picture: string) => ({ picture, width: 64, height: 32, caption: 'Upper playfield', on, by: 'Ines' });

/** A club with a picture in each place where one can be; answers their hashes by place. */
async function seed() {
  const ines = await join('Ines', 'owner');
  const pictures = {
    page: await keep(await speckled(2000, 900).jpeg().toBuffer()),
    point: await keep(await halves(640, 480).png().toBuffer()),
    found: await keep(await withPlace()),
    pinned: await keep(await halves(900, 500).jpeg().toBuffer()),
    board: await keep(await halves(300, 200).webp().toBuffer()),
    nobody: await keep(await halves(310, 200).webp().toBuffer()),
  };
  await putDesign(
    withPinsOn(withPhoto(fixtureDesign, photo(pictures.board)), pictures.board, 'Board', [{ id: 'h', at: [0.5, 0.5], header: 'A3J4' }]),
    null,
    null,
  );
  const deviation = { on, by: 'Ines', place: { pin: 'A3J4-7' }, manual: 'grey/orange', here: 'white', why: '' };
  const noted = withDeviation(fixtureMachine, deviation);
  const found = withFoundPhoto(noted, noted.asFound.at(-1)!.id, pictures.found)!;
  await putMachine(
    withPinsOn(withPhoto(found, photo(pictures.pinned)), pictures.pinned, 'Upper', [{ id: 'a', at: [0.1, 0.2], switch: '46' }]),
    null,
    null,
  );
  for (const hash of [pictures.found, pictures.pinned]) await holdOnChart('machine', fixtureMachine.id, hash, ines.id);
  await holdOnChart('design', fixtureDesign.id, pictures.board, ines.id);
  await createPage({
    id: 'shown',
    machineId: fixtureMachine.id,
    member: ines.id,
    update: newPageDoc(page('Shown', pictures.page, pictures.point)),
  });
  for (const hash of [pictures.page, pictures.point]) await holdOnPage('shown', hash, ines.id);
  await nameVersion('shown', 1, 'With both', ines.id);
  await house.change('shown', ines.id, (doc) => writeContent(doc, page('Shown', pictures.page)));
  await indexNow('shown');
  await setClubGroups([
    ['spinner', 'whirligig'],
    ['dead', 'gone west'],
  ]);
  return pictures;
}
const filesOf = async (hashes: readonly string[]) => {
  const sums: Record<string, string | null> = {};
  for (const hash of hashes)
    for (const size of [320, 800, 1600, 3200]) {
      const picture = await getPicture(hash);
      const file = picture && (await readPicture(picture, size));
      sums[`${hash} ${size}`] = file ? createHash('sha256').update(file.bytes).digest('hex') : null;
    }
  return sums;
};
const getMemberByName = async (name: string) =>
  (await db.database.execute<{ id: string }>(sql`select id from "user" where name = ${name}`)).rows[0]?.id;
const factsHere = async () =>
  (await db.database.execute(sql`select page, kind, value, label from page_fact order by page, kind, value`)).rows;

test('a club in an empty notebook: the same facts, pins and words, and every picture by name and by bytes', async () => {
  const pictures = await seed();
  const shown = [pictures.page, pictures.point, pictures.found, pictures.pinned, pictures.board];
  const before = { facts: await factsHere(), files: await filesOf(shown), charts: await getChartParts(fixtureMachine.id) };
  expect(before.facts.length).toBeGreaterThan(0);
  expect(Object.values(before.files)).not.toContain(null);
  const zip = await zipOf({ scope: 'club' });
  await shut();
  await open();
  expect(Object.values(await filesOf(shown)).every((sum) => sum === null)).toBe(true); // empty indeed
  const wen = await join('Wen', 'owner');
  const archive = archiveIn(zip);
  const result = await importArchive(archive, {}, wen.id);
  expect(result.ok && result.rows.map((r) => [r.kind, r.done])).toEqual(
    expect.arrayContaining([
      ['pictures', 'added'],
      ['thesaurus', 'added'],
    ]),
  );
  await indexNow('shown');
  expect(await factsHere()).toEqual(before.facts);
  expect(await filesOf(shown)).toEqual(before.files);
  const parts = await getChartParts(fixtureMachine.id);
  expect(parts).toEqual(before.charts);
  expect(photosOf(indexChart(parts!.machine, parts!.design)).map((p) => [p.holder, p.pins.length])).toEqual([
    ['machine', 1],
    ['design', 1],
  ]);
  expect(await clubGroups()).toEqual([
    ['spinner', 'whirligig'],
    ['dead', 'gone west'],
  ]);
  for (const hash of shown) expect((await maySeePicture(wen, hash))?.hash, hash).toBe(hash);
  expect(await getPicture(pictures.nobody)).toBeNull(); // nothing holds it: it did not travel
  const again = await previewArchive(archive);
  expect(again.ok && again.rows.filter((r) => r.state !== 'same')).toEqual([]);
}, 120_000);

test('what is in the archive is as its schema and guide say; nothing of where a picture was taken is in it', async () => {
  const pictures = await seed();
  const files = unzipSync(await zipOf({ scope: 'club' }));
  const list = pictureList.parse(JSON.parse(Buffer.from(files['pictures.json']!).toString()));
  expect(list.map((p) => p.hash).sort()).toEqual([pictures.page, pictures.point, pictures.found, pictures.pinned, pictures.board].sort());
  expect(
    Object.keys(files)
      .filter((name) => name.startsWith(`pictures/${pictures.page}`))
      .sort(),
  ).toEqual([320, 800, 1600, 3200].map((size) => `pictures/${pictures.page}/${size}.jpg`).sort());
  const markdown = Buffer.from(files['pages/shown/page.md']!).toString();
  expect(markdown).toContain(`](../../pictures/${pictures.page}/1600.jpg)`);
  expect(files[`pictures/${pictures.page}/1600.jpg`]).toBeDefined();
  for (const [name, bytes] of Object.entries(files)) expect(Buffer.from(bytes).includes('Invented Optics'), name).toBe(false);
  expect(manifestShape.parse(JSON.parse(Buffer.from(files['manifest.json']!).toString())).version).toBe(3);
  const one = unzipSync(await zipOf({ scope: 'page', id: 'shown' }));
  expect(Object.keys(one)).not.toContain('thesaurus.json');
  expect(pictureList.parse(JSON.parse(Buffer.from(one['pictures.json']!).toString()))).toHaveLength(5); // with those of its charts
}, 120_000);

/** The archive with some files otherwise, and a manifest that is true of them. */
function remade(zip: Uint8Array, change: (files: Record<string, Uint8Array>) => void, version = 2): Uint8Array {
  const files = unzipSync(zip);
  const said = JSON.parse(Buffer.from(files['manifest.json']!).toString());
  delete files['manifest.json'];
  change(files);
  const list = Object.entries(files).map(([name, bytes]) => ({
    path: name,
    bytes: bytes.length,
    sha256: createHash('sha256').update(bytes).digest('hex'),
  }));
  return zipSync({ ...files, 'manifest.json': strToU8(JSON.stringify({ ...said, version, files: list })) }, { level: 0 });
}

test('an archive of version 1 is read as before; bringing one of version 2 afterwards adds the pictures to what is the same', async () => {
  const pictures = await seed();
  const zip = await zipOf({ scope: 'club' });
  const first = remade(
    zip,
    (files) => {
      for (const name of Object.keys(files)) if (/^(pictures|thesaurus)/.test(name)) delete files[name];
    },
    1,
  );
  await shut();
  await open();
  const wen = await join('Wen', 'owner');
  expect((await importArchive(archiveIn(first), {}, wen.id)).ok).toBe(true);
  expect(await getPicture(pictures.page)).toBeNull();
  expect(await clubGroups()).toEqual(givenGroups);
  const second = await importArchive(archiveIn(zip), {}, wen.id);
  expect(second.ok && second.rows.filter((r) => r.done === 'added').map((r) => r.kind)).toEqual(['pictures', 'thesaurus']);
  for (const hash of [pictures.page, pictures.pinned, pictures.board]) expect((await maySeePicture(wen, hash))?.hash).toBe(hash);
}, 120_000);

const smallest = (hash: string) => `pictures/${hash}/320.jpg`;
test.each<[string, (file: Uint8Array) => Promise<Uint8Array> | Uint8Array]>([
  [
    'with a place where it was taken',
    () =>
      halves(300, 200)
        .withExif({ IFD0: { Make: 'x' } })
        .jpeg()
        .toBuffer(),
  ],
  ['with a page behind it', (file) => Buffer.concat([file, Buffer.from('<script>x()</script>')])],
  ['that is cut off', (file) => file.subarray(0, 500)],
  ['of another size', () => halves(100, 50).jpeg().toBuffer()],
  ['that is something else', () => strToU8('<svg onload="x()"/>')],
])(
  'a picture %s is refused and nothing at all is kept',
  async (_, spoil) => {
    const pictures = await seed();
    const zip = await zipOf({ scope: 'club' });
    const name = smallest(pictures.board);
    const spoilt = new Uint8Array(await spoil(unzipSync(zip)[name]!));
    const forged = remade(zip, (files) => Object.assign(files, { [name]: spoilt }));
    await shut();
    await open();
    const wen = await join('Wen', 'owner');
    const result = await importArchive(archiveIn(forged), {}, wen.id);
    expect(result).toMatchObject({ ok: false, message: expect.stringContaining(pictures.board.slice(0, 8)) });
    expect(await getDesign(fixtureDesign.id)).toBeNull();
    expect(await getMachine(fixtureMachine.id)).toBeNull();
    expect(
      existsSync(path(folder, 'files'))
        ? readdirSync(path(folder, 'files'), { recursive: true }).filter((n) => String(n).endsWith('.jpg'))
        : [],
    ).toEqual([]);
  },
  120_000,
);

test('a listed file that is missing, or is not what the manifest says, is found', async () => {
  const pictures = await seed();
  const zip = await zipOf({ scope: 'club' });
  const without = readArchive(sourceOf(remade(zip, (files) => Reflect.deleteProperty(files, smallest(pictures.board)))));
  expect(without).toMatchObject({ ok: false, message: expect.stringContaining('is missing from the archive') });
  const files = unzipSync(zip);
  files[smallest(pictures.board)] = new Uint8Array(await halves(300, 200).jpeg({ quality: 10 }).toBuffer());
  await shut();
  await open();
  const wen = await join('Wen', 'owner');
  const result = await importArchive(archiveIn(zipSync(files, { level: 0 })), {}, wen.id);
  expect(result).toMatchObject({ ok: false, message: expect.stringContaining('not what the manifest says') });
}, 120_000);

test('a name is only what the archive says: who sends the bytes of that name later gets those bytes shown', async () => {
  const bytes = await halves(300, 200).webp().toBuffer();
  const pictures = await seed();
  const zip = await zipOf({ scope: 'club' });
  const other = new Uint8Array(await halves(300, 200).negate().jpeg({ chromaSubsampling: '4:4:4' }).toBuffer());
  const forged = remade(zip, (files) => Object.assign(files, { [smallest(pictures.board)]: other }));
  await shut();
  await open();
  const wen = await join('Wen', 'owner');
  expect((await importArchive(archiveIn(forged), {}, wen.id)).ok).toBe(true);
  const before = await filesOf([pictures.board]);
  expect(await keep(bytes)).toBe(pictures.board);
  expect(await filesOf([pictures.board])).not.toEqual(before);
  expect((await getPicture(pictures.board))?.brought).toBe(false);
}, 120_000);

test('a picture that was removed for good stays so: it goes out as a name only, and does not come in where it was removed', async () => {
  const pictures = await seed();
  const whole = await zipOf({ scope: 'club' });
  await removeForGood(pictures.page, (await getMemberByName('Ines'))!);
  const zip = await zipOf({ scope: 'club' });
  expect(Object.keys(unzipSync(zip)).some((name) => name.startsWith(`pictures/${pictures.page}`))).toBe(false);
  expect(Buffer.from(unzipSync(zip)['pages/shown/page.md']!).toString()).toContain('Number 0: picture removed');
  const wen = await join('Wen', 'owner');
  await importArchive(archiveIn(whole), {}, wen.id);
  expect((await filesOf([pictures.page]))[`${pictures.page} 800`]).toBeNull();
  await shut();
  await open();
  const zoe = await join('Zoe', 'owner');
  expect((await importArchive(archiveIn(zip), {}, zoe.id)).ok).toBe(true);
  expect((await maySeePicture(zoe, pictures.page))?.removedAt).toBeInstanceOf(Date);
}, 120_000);

test('the club’s own words are kept unless theirs are taken', async () => {
  await seed();
  const archive = archiveIn(await zipOf({ scope: 'club' }));
  await setClubGroups([['ours', 'own']]);
  const wen = await join('Wen', 'owner');
  const preview = await previewArchive(archive);
  expect(preview.ok && preview.rows.find((r) => r.kind === 'thesaurus')).toMatchObject({ state: 'conflict', choices: ['keep', 'replace'] });
  await importArchive(archive, {}, wen.id);
  expect(await clubGroups()).toEqual([['ours', 'own']]);
  await importArchive(archive, { 'thesaurus:groups': 'replace' }, wen.id);
  expect(await clubGroups()).toEqual([
    ['spinner', 'whirligig'],
    ['dead', 'gone west'],
  ]);
}, 120_000);
