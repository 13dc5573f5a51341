/** A picture that was removed for good: its files are gone, whoever could see it is told so, and nobody brings it back. */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join as path } from 'node:path';
import { sql } from 'drizzle-orm';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { whereShown } from '@/app/(club)/pictures/where';
import { POST as send } from '@/app/api/pages/[id]/pictures/route';
import { GET as show } from '@/app/files/[hash]/[size]/route';
import { maySeePicture } from '@/lib/access/pictures';
import { makeToken } from '@/lib/access/tokens';
import { withPhoto } from '@/lib/core/chart/pinned';
import { removeForGood } from '@/lib/files/pictures';
import type { Live } from '@/lib/live/server';
import { newPageDoc, writeContent } from '@/lib/notebook/content';
import { indexNow } from '@/lib/search/indexer';
import { takeOffPhoto } from '@/lib/store/chart-photos';
import { database } from '@/lib/store/database';
import { putDesign, putMachine } from '@/lib/store/machines';
import { createPage, removePage } from '@/lib/store/pages';
import { holdersOf, picturesHeldBy, removedAmong, removedOn } from '@/lib/store/picture-holders';
import { holdOnChart, holdOnLetterhead } from '@/lib/store/pictures';
import type { Member } from '@/lib/store/types';
import { bearer, join } from '../access/house';
import { fixtureDesign, fixtureMachine } from '../core/fixture';
import { halves } from '../files/images';
import { contentFrom, openHouse } from '../search/club';
import { type TestDatabase, testDatabase } from '../store/cluster';

const folder = mkdtempSync(path(tmpdir(), 'fettlebook-files-'));
process.env.DATA_DIR = folder; // read once, at the first question
let db: TestDatabase;
let house: Live;
let ines: Member;
const tokens: Record<string, string> = {};
beforeAll(async () => {
  db = await testDatabase();
  house = openHouse(db.database);
  ines = await join('Ines', 'owner');
  for (const member of [ines, await join('Tomas', 'editor'), await join('Wen', 'reader')])
    tokens[member.name] = (await makeToken(member, 'test')).token;
});
afterAll(async () => {
  await house.close();
  await db.close();
  rmSync(folder, { recursive: true, force: true });
});

const as = (name: string) => bearer(tokens[name] ?? '');
const at = <T>(params: T) => ({ params: Promise.resolve(params) });
const get = (hash: string, size: number | string = 800, headers = new Headers()) =>
  show(new Request(`http://127.0.0.1:3000/files/${hash}/${size}`, { headers }), at({ hash, size: String(size) }));
const withPhotos = (title: string, hash?: string) =>
  contentFrom(
    hash
      ? `# ${title}\n\n\`\`\`widget photo photos\nphoto.a: {"picture": "${hash}", "width": 700, "height": 300, "by": "Ines", "at": "2026-01-01T10:00:00Z"}\n\`\`\`\n`
      : `# ${title}\n`,
  );
async function bring(page: string, bytes: Buffer) {
  const headers = as('Tomas');
  headers.set('content-type', 'image/jpeg');
  const response = await send(
    new Request('http://127.0.0.1:3000/x', { method: 'POST', headers, body: new Uint8Array(bytes) }),
    at({ id: page }),
  );
  return { status: response.status, body: (await response.json()) as { hash: string; detail?: string } };
}
const filesNow = (hash: string) =>
  readdirSync(path(folder, 'files'), { recursive: true }).filter((n) => /\.jpg$/.test(String(n)) && String(n).includes(hash));

test('is gone for everyone, says so to who could see it, and tells nobody else anything', async () => {
  const bytes = await halves(700, 300).jpeg().toBuffer();
  for (const id of ['shows', 'showed', 'gone'])
    await createPage({ id, machineId: null, member: ines.id, update: newPageDoc(withPhotos(id)) });
  const { body } = await bring('shows', bytes);
  const { hash } = body;
  for (const id of ['showed', 'gone']) await bring(id, bytes);
  for (const id of ['shows', 'showed']) await house.change(id, ines.id, (doc) => writeContent(doc, withPhotos(id, hash)));
  await house.change('showed', ines.id, (doc) => writeContent(doc, withPhotos('showed')));
  await removePage('gone', ines.id);
  await putDesign(fixtureDesign, null, null);
  const photo = { picture: hash, width: 700, height: 300, on: '2026-01-09', by: 'Ines' };
  await putMachine(withPhoto(fixtureMachine, photo), null, null);
  await holdOnChart('machine', fixtureMachine.id, hash, ines.id);
  for (const id of ['shows', 'showed']) await indexNow(id);

  const where = await whereShown(hash);
  expect(where.removedPages).toBe(1);
  expect(where.places.map(({ href, shown }) => [href, shown])).toEqual([
    ['/pages/showed', false],
    ['/pages/shows', true],
    [`/machines/${fixtureMachine.id}`, true],
  ]);
  await takeOffPhoto('machine', fixtureMachine.id, hash, ines.id);
  expect((await whereShown(hash)).places.at(-1)?.shown).toBe(false);

  const before = await get(hash, 800, as('Wen'));
  expect(before.status).toBe(200);
  const etag = before.headers.get('etag') ?? '';
  expect(filesNow(hash)).not.toEqual([]);
  expect(await removeForGood(hash, ines.id)).toBe(true);
  expect(filesNow(hash)).toEqual([]);

  const after = await get(hash, 800, as('Wen'));
  expect([after.status, after.headers.get('content-type')]).toEqual([410, 'image/svg+xml']);
  expect(after.headers.get('cache-control')).toBe('private, no-store');
  expect(await after.text()).toMatch(/^<svg [^>]*width="700" height="300".*Picture removed<\/text><\/svg>$/);
  const knowing = as('Wen');
  knowing.set('if-none-match', etag);
  expect((await get(hash, 800, knowing)).status).toBe(410); // not “as you have it”
  expect([(await get(hash)).status, (await get(hash, 801, as('Wen'))).status]).toEqual([404, 404]);
  expect(await maySeePicture({ page: 'shows', shows: [hash], logo: null }, hash)).toMatchObject({ hash, removedAt: expect.any(Date) });

  const again = await bring('shows', bytes);
  expect([again.status, again.body.detail]).toEqual([422, 'This picture was removed for good. Take another one.']);
  expect(filesNow(hash)).toEqual([]);
  expect(await removedOn('shows')).toEqual([hash]);
  expect(await removedAmong([hash, '0'.repeat(64)])).toEqual(new Set([hash]));
  expect(await removedAmong([])).toEqual(new Set());
  expect(await picturesHeldBy({ page: 'showed' })).toMatchObject([{ hash, by: 'Tomas', removedAt: expect.any(Date) }]);
  expect(await picturesHeldBy({ machine: fixtureMachine.id })).toHaveLength(1);
  expect(await picturesHeldBy({ design: fixtureDesign.id })).toEqual([]);
  await holdOnLetterhead(hash);
  await database().execute(
    sql`insert into write_up_copy (id, page, number, copy) values ('sent', 'shows', 1, ${JSON.stringify({ photos: [{ picture: hash }] })}::jsonb)`,
  );
  expect(await holdersOf(hash)).toMatchObject({ sentCopies: 1, letterhead: true });
  expect(await holdersOf('0'.repeat(64))).toMatchObject({ pages: [], sentCopies: 0, letterhead: false });
  expect(await removeForGood(hash, ines.id)).toBe(true); // again is the same
  expect(await removeForGood('0'.repeat(64), ines.id)).toBe(false);
});
