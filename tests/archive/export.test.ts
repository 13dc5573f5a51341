/** What is taken away: complete, in open formats, without anything that is nobody's business, and only for those who may. */
import { createHash } from 'node:crypto';
import { unzipSync } from 'fflate';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { GET as clubArchive } from '@/app/(club)/club/archive/route';
import { GET as machineArchive } from '@/app/(club)/machines/[id]/archive/route';
import { GET as pageArchive } from '@/app/(club)/pages/[id]/archive/route';
import { GET as partsCsv } from '@/app/(club)/pages/[id]/parts.csv/route';
import { makeToken } from '@/lib/access/tokens';
import { tallyCsv } from '@/lib/archive/csv';
import { exportArchive, type Scope } from '@/lib/archive/export';
import { manifest, members, pageFile, stockFile } from '@/lib/archive/format';
import { zipStream } from '@/lib/archive/zip-stream';
import { importJson } from '@/lib/core/chart/entry';
import { tally } from '@/lib/core/parts';
import type { Live } from '@/lib/live/server';
import { newPageDoc } from '@/lib/notebook/content';
import { nameVersion } from '@/lib/store/history';
import { getMachine } from '@/lib/store/machines';
import { createPage } from '@/lib/store/pages';
import { writeEntry } from '@/lib/store/stock';
import { bearer, join } from '../access/house';
import { contentFrom, machineOf, openHouse, pageNames, seedClub } from '../search/club';
import { type TestDatabase, testDatabase } from '../store/cluster';

let db: TestDatabase;
let house: Live;
let asOwner: Headers;
let asReader: Headers;
beforeAll(async () => {
  db = await testDatabase();
  house = openHouse(db.database);
  await seedClub();
  const ines = await join('Ines', 'owner');
  asOwner = bearer((await makeToken(ines, 'tests')).token);
  asReader = bearer((await makeToken(await join('Priya', 'reader'), 'tests')).token);
  await createPage({ id: 'own-page', machineId: null, member: ines.id, update: newPageDoc(contentFrom('# Ours\n\nWords.\n')) });
  await nameVersion('own-page', 1, 'As first written', ines.id);
  await writeEntry({ kind: 'received', pieces: 4 }, { part: 'P1', reason: '=1+1', member: ines.id });
}, 180_000);
afterAll(async () => {
  await house.close();
  await db.close();
});

async function filesOf(what: Scope): Promise<Map<string, string>> {
  const stream = await exportArchive(what);
  if (!stream) throw new Error('nothing came');
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  return new Map(Object.entries(unzipSync(bytes)).map(([path, file]) => [path, Buffer.from(file).toString('utf8')]));
}
const jsonOf = (files: Map<string, string>, path: string): unknown => JSON.parse(files.get(path) ?? 'null');

test('the club: every page, chart, part, movement and name; each file as its schema says; sizes and sums true', async () => {
  const files = await filesOf({ scope: 'club' });
  const said = manifest.parse(jsonOf(files, 'manifest.json'));
  expect(said.files.map((f) => f.path).sort()).toEqual([...files.keys()].filter((p) => p !== 'manifest.json').sort());
  for (const { path, bytes, sha256 } of said.files) {
    const own = Buffer.from(files.get(path) ?? '');
    expect([own.length, createHash('sha256').update(own).digest('hex')], path).toEqual([bytes, sha256]);
  }
  for (const name of pageNames) {
    expect(pageFile.parse(jsonOf(files, `pages/${name}/page.json`)).id).toBe(name);
    expect(files.get(`pages/${name}/page.md`)).toMatch(/^# /);
  }
  const chart = importJson(files.get('machines/tin-orchard/chart.json') ?? '');
  expect(chart.ok && chart.value.machine).toEqual(machineOf('tin-orchard'));
  expect(stockFile.parse(jsonOf(files, 'stock.json'))).toMatchObject([{ part: 'P1', quantity: 4 }]);
  expect(files.get('stock.csv')).toContain(",'=1+1,");
  expect(members.parse(jsonOf(files, 'members.json')).map((m) => m.name)).toEqual(['Ines']);
  const own = pageFile.parse(jsonOf(files, 'pages/own-page/page.json'));
  expect(own.points.map((p) => p.name)).toEqual(['As first written']);
  expect(own.points[0]?.content).toEqual(own.content);
  const all = [...files.values()].join('\n');
  expect(all).not.toMatch(/@club\.example|invented for tests|fbk_/);
}, 180_000);

test('a machine: its chart, its pages and no others', async () => {
  const files = await filesOf({ scope: 'machine', id: 'tin-orchard' });
  const pages = [...files.keys()].filter((p) => p.endsWith('page.json'));
  expect(pages.length).toBeGreaterThan(1);
  for (const path of pages) expect(pageFile.parse(jsonOf(files, path)).machine).toBe('tin-orchard');
  const design = (await getMachine('tin-orchard'))?.machine.design;
  expect([...files.keys()].filter((p) => p.endsWith('chart.json')).sort()).toEqual(
    [`designs/${design}/chart.json`, 'machines/tin-orchard/chart.json'].sort(),
  );
  expect(files.has('stock.json')).toBe(false);
});

test('nothing comes of what is not there', async () => {
  expect(await exportArchive({ scope: 'page', id: 'nothing' })).toBeNull();
  expect(await exportArchive({ scope: 'machine', id: 'nothing' })).toBeNull();
});

const ask = (headers?: Headers) => new Request('http://127.0.0.1:3000/', { headers });
const of = (id: string) => ({ params: Promise.resolve({ id }) });

test('a page and a machine go to who may read them, the club to an owner, nothing to anybody else', async () => {
  const status = async (answer: Promise<Response>) => {
    const response = await answer;
    await response.body?.cancel();
    return response.status;
  };
  for (const [route, id] of [
    [pageArchive, 'own-page'],
    [partsCsv, 'own-page'],
    [machineArchive, 'tin-orchard'],
  ] as const) {
    expect(await status(route(ask(asReader), of(id)))).toBe(200);
    expect(await status(route(ask(), of(id)))).toBe(401);
    expect(await status(route(ask(asReader), of('nothing')))).toBe(404);
  }
  expect(await status(clubArchive(ask(asOwner)))).toBe(200);
  expect(await status(clubArchive(ask(asReader)))).toBe(403);
  expect(await status(clubArchive(ask()))).toBe(401);
});

const head = { format: 'fettlebook-archive', version: 1, scope: 'club', club: '', madeAt: '2026-01-02T03:04:05.000Z' } as const;

test('is made while it is taken: no file is asked for before those before it are gone', async () => {
  let asked = 0;
  const many = async function* () {
    for (; asked < 500; asked++) yield { path: `a/${asked}.txt`, text: `${asked} `.repeat(1000) };
  };
  const reader = zipStream(many(), head).getReader();
  await reader.read();
  expect(asked).toBeLessThan(3);
  await reader.cancel();
  expect(asked).toBeLessThan(3);
});

test('breaks off when something cannot be read, so that half an archive never seems whole', async () => {
  const broken = async function* () {
    yield { path: 'a.txt', text: 'a' };
    throw new Error('gone');
  };
  await expect(new Response(zipStream(broken(), head)).arrayBuffer()).rejects.toThrow();
});

// A cell that begins with = + - @, a tab or a return runs as a formula: OWASP, “CSV Injection”.
test.each(['=1+1', '+1', '-1', '@sum', '\t=1', ' =1', '＝1', "'quoted"])('a spreadsheet takes %j for text', (name) => {
  const csv = tallyCsv(tally([{ name, quantity: 2, from: '=from' }], { format: 'fettlebook-parts/1', currency: 'GBP', parts: [] }, {}));
  expect(csv).toContain(`'${name}`);
  expect(csv).toContain("'=from");
});
