/** An archive brought into an empty notebook says the same; into one that has things already, it asks. */
import { sql } from 'drizzle-orm';
import { afterEach, beforeEach, expect, test } from 'vitest';
import * as Y from 'yjs';
import { PUT as putPage } from '@/app/api/pages/[id]/route';
import { makeToken } from '@/lib/access/tokens';
import { exportArchive, type Scope } from '@/lib/archive/export';
import { importArchive } from '@/lib/archive/import';
import { previewArchive } from '@/lib/archive/preview';
import { type Progress, steps } from '@/lib/archive/progress';
import { type Archive, readArchive } from '@/lib/archive/read';
import { sourceOf } from '@/lib/archive/zip-source';
import type { Live } from '@/lib/live/server';
import { contentOf, newPageDoc, writeContent } from '@/lib/notebook/content';
import { indexNow } from '@/lib/search/indexer';
import { searchFixes } from '@/lib/search/search';
import { allMoves } from '@/lib/store/all-moves';
import { listNamedPoints, listStretches, nameVersion } from '@/lib/store/history';
import { getMember } from '@/lib/store/members';
import { createPage, getPage, removePage } from '@/lib/store/pages';
import { stock } from '@/lib/store/parts';
import { ledger, takeBack, writeEntry } from '@/lib/store/stock';
import { bearer, join } from '../access/house';
import { contentFrom, openHouse, pageNames, seedClub } from '../search/club';
import { type TestDatabase, testDatabase } from '../store/cluster';

let db: TestDatabase;
let house: Live;
const open = async () => {
  db = await testDatabase();
  house = openHouse(db.database);
};
const shut = async () => {
  await house.close();
  await db.close();
};
beforeEach(open);
afterEach(shut);

async function taken(what: Scope): Promise<Archive> {
  const stream = await exportArchive(what);
  if (!stream) throw new Error('nothing came');
  const read = readArchive(sourceOf(new Uint8Array(await new Response(stream).arrayBuffer())));
  if (!read.ok) throw new Error(read.message);
  return read.archive;
}
const factsHere = async () =>
  (await db.database.execute<Record<string, string>>(sql`select page, kind, value, label from page_fact order by page, kind, value`)).rows;
const indexHere = async () => (await db.database.execute(sql`select page, title, body, state, record from page_index order by page`)).rows;
const asked = ['weathervane', 'spinner', 'grey-orange', 'A3J4', 'lamp', 'sling'];
const found = () => Promise.all(asked.map(async (query) => ({ ...(await searchFixes(query)), milliseconds: 0 })));

test('a page that holds what only a newer build knows is kept, or the other comes beside it; it is never written over', async () => {
  const ines = await join('Ines', 'owner');
  await createPage({ id: 'own-page', machineId: null, member: ines.id, update: newPageDoc(contentFrom('# Ours\n\nOne.\n')) });
  const archive = await taken({ scope: 'page', id: 'own-page' });
  await house.change('own-page', ines.id, (doc) => doc.getXmlFragment('content').push([new Y.XmlElement('dial')]));
  const preview = await previewArchive(archive);
  expect(preview).toMatchObject({ ok: true, rows: [{ key: 'page:own-page', state: 'conflict', choices: ['keep', 'both'] }] });
  expect(await importArchive(archive, { 'page:own-page': 'replace' }, ines.id)).toMatchObject({ ok: true, rows: [{ done: 'kept' }] });

  const { token } = await makeToken(ines, 'tests');
  const body = JSON.stringify({ markdown: '# Ours\n\nTwo.\n' });
  const headers = new Headers([...bearer(token), ['content-type', 'application/json']]);
  const put = new Request('http://127.0.0.1:3000/', { method: 'PUT', headers, body });
  const answer = await putPage(put, { params: Promise.resolve({ id: 'own-page' }) });
  expect(answer.status).toBe(409);
  expect(await answer.json()).toMatchObject({
    detail:
      'This page holds a block of the kind “dial”, which this version of Fettlebook does not know. Change it with the version that wrote it.',
  });
  expect(await house.read('own-page', (doc) => doc.getXmlFragment('content').toString())).toContain('<dial></dial>');
});

test('a club in an empty notebook: every fact, every search result, points with names, stock and names of those who wrote', async () => {
  await seedClub();
  const ines = await join('Ines', 'owner');
  await createPage({ id: 'own-page', machineId: null, member: ines.id, update: newPageDoc(contentFrom('# Ours\n\nOne.\n')) });
  await nameVersion('own-page', 1, 'As first written', ines.id);
  await house.change('own-page', ines.id, (doc) => writeContent(doc, contentFrom('# Ours\n\nTwo.\n')));
  await writeEntry({ kind: 'received', pieces: 4 }, { part: 'P1', packs: 2, supplier: 'Marsh & Tidewater', price: 350, member: ines.id });
  await writeEntry({ kind: 'reserved', pieces: 1 }, { part: 'P1', page: 'own-page', member: ines.id });
  await writeEntry({ kind: 'used', pieces: 1 }, { part: 'P1', page: 'own-page', member: ines.id });
  await takeBack((await ledger({ part: 'P1', limit: 1 }))[0]!.id, ines.id);
  for (const id of [...pageNames, 'own-page']) await indexNow(id); // the stock is one that pages know
  const before = { facts: await factsHere(), index: await indexHere(), found: await found(), moves: await allMoves() };
  expect(before.facts.length).toBeGreaterThan(100);
  expect(before.found.every((f) => f.total > 0)).toBe(true);
  const archive = await taken({ scope: 'club' });
  await shut();
  await open();
  const wen = await join('Wen', 'owner');
  const told: Progress[] = [];
  const result = await importArchive(archive, {}, wen.id, (progress) => told.push(progress));
  expect(result.ok && result.rows.every((r) => r.done === 'added')).toBe(true);
  expect([...new Set(told.map(({ step }) => step))]).toEqual([...steps]);
  for (const each of steps) {
    const counted = told.filter(({ step }) => step === each);
    expect(counted.map(({ done }) => done)).toEqual(counted.map((_, i) => i)); // one by one, to the last
    expect(counted.at(-1)?.done).toBe(counted[0]?.of);
  }
  const { designs, machines, pages, stock: moves } = archive;
  expect(told.find(({ step }) => step === 'keeping')?.of).toBe(designs.length + machines.length + pages.length + moves.length);
  expect(told.find(({ step }) => step === 'finding')?.of).toBe(pages.length);
  for (const id of [...pageNames, 'own-page']) await indexNow(id);
  expect(await factsHere()).toEqual(before.facts);
  expect(await indexHere()).toEqual(before.index);
  expect(await found()).toEqual(before.found);
  expect(await stock()).toEqual({ P1: 4 });
  expect((await allMoves()).map(({ by, ...m }) => m)).toEqual(before.moves.map(({ by, ...m }) => m));
  expect((await listNamedPoints('own-page')).map((p) => p.name)).toEqual(['As first written']);
  expect((await listStretches('own-page')).flatMap((s) => s.members.map((m) => m.name))).toContain('Ines');
  expect((await getMember(ines.id))?.removedAt).not.toBeNull();
  const again = await previewArchive(archive);
  expect(again.ok && again.rows.filter((r) => r.state !== 'same')).toEqual([]);
}, 300_000);

test('what is here otherwise is kept, added beside, or replaced, as chosen', async () => {
  const wen = await join('Wen', 'owner');
  const words = async (id: string) => house.read(id, (doc) => JSON.stringify(contentOf(doc)));
  for (const id of ['one', 'two', 'three', 'gone'])
    await createPage({ id, machineId: null, member: null, update: newPageDoc(contentFrom(`# ${id}\n\nThen.\n`)) });
  const archive = await taken({ scope: 'club' });
  for (const id of ['one', 'two', 'three']) await house.change(id, null, (doc) => writeContent(doc, contentFrom(`# ${id}\n\nNow.\n`)));
  await removePage('gone', null);
  const result = await importArchive(archive, { 'page:two': 'both', 'page:three': 'replace' }, wen.id);
  expect(result.ok && Object.fromEntries(result.rows.map((r) => [r.id, r.done]))).toEqual({
    one: 'kept',
    two: 'added beside',
    three: 'replaced',
    gone: 'added',
  });
  expect(await words('one')).toContain('Now.');
  expect(await words('two')).toContain('Now.');
  expect(await words('three')).toContain('Then.');
  expect(await getPage('gone')).toBeNull(); // what was removed here stays so; it comes under an id of its own
  expect((await indexHere()).map((r) => r.title).sort()).toEqual(['gone', 'three', 'two']);
});

test('all or nothing: when one thing cannot be kept, nothing is', async () => {
  const wen = await join('Wen', 'owner');
  await createPage({ id: 'one', machineId: null, member: null, update: newPageDoc(contentFrom('# One\n\nWords.\n')) });
  const archive = await taken({ scope: 'page', id: 'one' });
  await shut();
  await open();
  await join('Wen', 'owner');
  const [page] = archive.pages;
  if (!page) throw new Error('no page');
  const broken = { ...archive, pages: [page, { ...page, id: 'two', createdAt: 'never' }] };
  await expect(importArchive(broken, {}, wen.id)).rejects.toThrow();
  expect(await getPage('one')).toBeNull();
  const lost = await importArchive({ ...archive, pages: [{ ...page, machine: 'nowhere' }] }, {}, wen.id);
  expect(lost).toMatchObject({ ok: false, message: expect.stringContaining('machine nowhere') });
});
