/** Customers' links through the API: listed with why one is locked, and unlocked, by whoever may send write-ups. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { GET as openapi } from '@/app/api/openapi.json/route';
import { POST as unlock } from '@/app/api/pages/[id]/links/[link]/unlock/route';
import { GET as links } from '@/app/api/pages/[id]/links/route';
import { mostMisses, unlockReport } from '@/lib/access/reports';
import { makeToken } from '@/lib/access/tokens';
import { newPageDoc } from '@/lib/notebook/content';
import { newNote } from '@/lib/notebook/templates';
import { createPage } from '@/lib/store/pages';
import { bearer, browserOf, join } from '../access/house';
import { copyTitled, olderLink, send } from '../access/sent';
import { type TestDatabase, testDatabase } from '../store/cluster';

let db: TestDatabase;
beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.close());

const url = 'http://127.0.0.1:3000/';
const listed = async (headers: Headers, id: string) => {
  const answer = await links(new Request(url, { headers }), { params: Promise.resolve({ id }) });
  return { status: answer.status, links: ((await answer.json()) as { links: Record<string, unknown>[] }).links };
};
const unlocked = async (headers: Headers, id: string, link: string) =>
  (await unlock(new Request(url, { method: 'POST', headers }), { params: Promise.resolve({ id, link }) })).status;

test('a locked link says why and is unlocked; by no reader, from no other site, under no other page', async () => {
  const ines = await join('Ines', 'editor');
  const asInes = bearer((await makeToken(ines, 'tests')).token);
  const asPriya = bearer((await makeToken(await join('Priya', 'reader'), 'tests')).token);
  const [page, other] = await Promise.all(
    [1, 2].map(() => createPage({ machineId: null, member: ines.id, update: newPageDoc(newNote({ title: 'Lamps out' })) })),
  );
  await olderLink(page!.id);
  const { token, link } = await send(page!.id, ines, copyTitled('Lamps out'), 'Four tin larks');
  for (let n = 0; n < mostMisses; n++) await unlockReport(token, 'a wrong one');

  expect((await listed(asInes, page!.id)).links).toEqual([
    expect.objectContaining({ id: link, copy: 1, standing: 'locked', why: '10 wrong pass phrases were tried in a row.', opened: 0 }),
    expect.objectContaining({ copy: null, standing: 'works', why: null, expires: null }),
  ]);
  expect((await listed(asPriya, page!.id)).status).toBe(403);
  expect((await listed(new Headers(), page!.id)).status).toBe(401);
  expect((await listed(asInes, 'nothing')).status).toBe(404);

  expect(await unlocked(asPriya, page!.id, link)).toBe(403);
  expect(await unlocked(new Headers(), page!.id, link)).toBe(401);
  expect(await unlocked(await browserOf('Ines', { origin: 'https://elsewhere.example' }), page!.id, link)).toBe(403);
  expect(await unlocked(asInes, other!.id, link)).toBe(404);
  expect(await unlockReport(token, 'four tin larks')).toMatchObject({ why: 'spent' });
  expect(await unlocked(asInes, page!.id, link)).toBe(200);
  expect(await unlocked(asInes, page!.id, link)).toBe(404); // it is not locked any more
  expect(await unlockReport(token, 'four tin larks')).toMatchObject({ ok: true });
});

test('stand in the OpenAPI document', async () => {
  const { paths } = (await openapi().json()) as { paths: Record<string, object> };
  expect(Object.keys(paths)).toEqual(expect.arrayContaining(['/api/pages/{id}/links', '/api/pages/{id}/links/{link}/unlock']));
});
