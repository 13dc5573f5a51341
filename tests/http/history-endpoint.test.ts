/** The endpoint that lists who worked on a page. */
import { afterEach, beforeEach, expect, test } from 'vitest';
import { GET as openapi } from '@/app/api/openapi.json/route';
import { GET as history } from '@/app/api/pages/[id]/history/route';
import { makeToken } from '@/lib/access/tokens';
import { newPageDoc } from '@/lib/notebook/content';
import { newNote } from '@/lib/notebook/templates';
import { nameVersion } from '@/lib/store/history';
import { createPage, removePage } from '@/lib/store/pages';
import { bearer, join } from '../access/house';
import { type TestDatabase, testDatabase } from '../store/cluster';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
});
afterEach(() => db.close());

const ask = async (headers: Headers, id: string) => {
  const response = await history(new Request('http://127.0.0.1:3000/', { headers }), { params: Promise.resolve({ id }) });
  return { status: response.status, body: (await response.json()) as Record<string, unknown> };
};

test('lists stretches with their people and names; a reader may ask, nobody else, and a removed page is none', async () => {
  const reader = bearer((await makeToken(await join('Priya', 'reader'), 'tests')).token);
  const ines = await join('Ines', 'owner');
  const page = await createPage({ machineId: null, member: ines.id, update: newPageDoc(newNote({ title: 'Bench rules' })) });
  await nameVersion(page.id, 1, 'As first written', ines.id);
  const { status, body } = await ask(reader, page.id);
  expect(status).toBe(200);
  expect(body).toEqual({
    stretches: [
      {
        number: 1,
        from: 1,
        members: [{ id: ines.id, name: 'Ines' }],
        began: expect.stringMatching(/^\d{4}-\d\d-\d\dT/),
        at: expect.stringMatching(/^\d{4}-\d\d-\d\dT/),
        bytes: expect.any(Number),
        name: 'As first written',
        url: expect.stringMatching(new RegExp(`/pages/${page.id}/history\\?at=1$`)),
      },
    ],
  });
  expect((await ask(new Headers(), page.id)).status).toBe(401);
  await removePage(page.id, ines.id);
  expect((await ask(reader, page.id)).status).toBe(404);
  expect((await ask(reader, 'no page')).status).toBe(404);
});

test('stands in the OpenAPI document', async () => {
  const { paths } = (await openapi().json()) as { paths: Record<string, Record<string, { summary: string }>> };
  expect(paths['/api/pages/{id}/history']?.get?.summary).toContain('Who worked on a page');
});
