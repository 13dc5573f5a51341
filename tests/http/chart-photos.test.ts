/** Photos of machines and board designs: who may add, pin and see, and pins of two people at once. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join as path } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { POST as takeDesign } from '@/app/(club)/designs/[id]/photos/take/route';
import { POST as take } from '@/app/(club)/machines/[id]/photos/take/route';
import { PUT as putDesignPins, GET as readDesignPins } from '@/app/api/designs/[id]/photos/[photo]/pins/route';
import { PUT as putPins, GET as readPins } from '@/app/api/machines/[id]/photos/[photo]/pins/route';
import { GET as show } from '@/app/files/[hash]/[size]/route';
import { makeToken } from '@/lib/access/tokens';
import { takeOffPhoto } from '@/lib/store/chart-photos';
import { listVersions } from '@/lib/store/charts';
import { getDesign, getMachine, putDesign, putMachine } from '@/lib/store/machines';
import { bearer, browserOf, join } from '../access/house';
import { fixtureDesign as design, fixtureMachine } from '../core/fixture';
import { halves } from '../files/images';
import { type TestDatabase, testDatabase } from '../store/cluster';

const folder = mkdtempSync(path(tmpdir(), 'fettlebook-files-'));
process.env.DATA_DIR = folder; // read once, at the first question
const base = 'http://127.0.0.1:3000';
const machine = { ...fixtureMachine, id: 'pinned' };
let db: TestDatabase;
const tokens: Record<string, string> = {};
let tomas = '';
beforeAll(async () => {
  db = await testDatabase();
  for (const [name, role] of [
    ['Ines', 'owner'],
    ['Tomas', 'editor'],
    ['Wen', 'reader'],
  ] as const) {
    const member = await join(name, role);
    tokens[name] = (await makeToken(member, 'test')).token;
    if (name === 'Tomas') tomas = member.id;
  }
  await putDesign(design, null, null);
  await putMachine(machine, null, null);
});
afterAll(async () => {
  await db.close();
  rmSync(folder, { recursive: true, force: true });
});

const as = (name: string) => bearer(tokens[name] ?? '');
const at = <T>(params: T) => ({ params: Promise.resolve(params) });
async function send(name: string, photo: Buffer, more: Record<string, string> = {}, to = take, id = machine.id) {
  const form = new FormData();
  form.set('photo', new File([new Uint8Array(photo)], 'photo.jpg'));
  for (const [key, value] of Object.entries(more)) form.set(key, value);
  const headers = await browserOf(name, { origin: base });
  const made = new Request(`${base}/machines/x/photos/take`, { method: 'POST', body: form });
  headers.set('content-type', made.headers.get('content-type') ?? '');
  const response = await to(new Request(made.url, { method: 'POST', headers, body: await made.arrayBuffer() }), at({ id }));
  return { status: response.status, to: response.headers.get('location') ?? '' };
}
const jpeg = (width: number) => halves(width, 300).jpeg().toBuffer();
const put = async (name: string, photo: string, body: unknown, to = putPins, id = machine.id) => {
  const headers = as(name);
  headers.set('content-type', 'application/json');
  const response = await to(new Request(`${base}/x`, { method: 'PUT', headers, body: JSON.stringify(body) }), at({ id, photo }));
  return { status: response.status, body: (await response.json()) as Record<string, never> };
};
const seen = async (hash: string, headers = new Headers()) =>
  (await show(new Request(`${base}/files/${hash}/320`, { headers }), at({ hash, size: '320' }))).status;

test('a photo is added by who may write, seen by members only, and leads on to pinning', async () => {
  expect((await send('Wen', await jpeg(500))).status).toBe(403);
  const { status, to } = await send('Tomas', await jpeg(500), { caption: ' Upper playfield ' });
  expect(status).toBe(303);
  const hash = /^\/machines\/pinned\/photos\/([0-9a-f]{64})\/pin$/.exec(to)?.[1] ?? '';
  expect((await getMachine(machine.id))?.machine.photos).toMatchObject([
    { picture: hash, width: 500, height: 300, caption: 'Upper playfield', by: 'Tomas' },
  ]);
  expect([await seen(hash), await seen(hash, as('Wen'))]).toEqual([404, 200]);
  expect((await send('Tomas', await jpeg(500))).to).toBe(to); // the same photo again
  expect((await getMachine(machine.id))?.machine.photos).toHaveLength(1);
  expect((await send('Tomas', Buffer.from('<svg/>'))).to).toBe('/machines/pinned/photos/add?trouble=kind');
  expect((await send('Tomas', await jpeg(500), {}, take, 'nothing')).status).toBe(404);
});

test('pins of two people who began with the same chart are both kept; the same pin moved twice is named and nothing lost', async () => {
  const { to } = await send('Tomas', await jpeg(510));
  const photo = to.split('/')[4] ?? '';
  const begun = (await getMachine(machine.id))!.version;
  const pin = (id: string, x: number, more: object = { switch: '11' }) => ({ id, at: [x, 0.5], ...more });
  const made = (version: number, ...pins: object[]) => ({ version, caption: 'Apron', pins });
  expect((await put('Wen', photo, made(begun))).status).toBe(403);
  expect((await put('Ines', photo, made(begun, pin('a', 0.1)))).status).toBe(200);
  const second = await put('Tomas', photo, made(begun, pin('b', 0.9, { load: 'L1' })));
  expect(second.body).toMatchObject({ version: begun + 2, caption: 'Apron', pins: [pin('a', 0.1), pin('b', 0.9, { load: 'L1' })] });
  const now = begun + 2;
  expect((await put('Ines', photo, made(now, pin('a', 0.2), pin('b', 0.9, { load: 'L1' })))).status).toBe(200);
  const clash = await put('Tomas', photo, made(now, pin('a', 0.3), pin('b', 0.9, { load: 'L1' })));
  expect(clash.status).toBe(409);
  expect(JSON.stringify(clash.body)).toContain('Pin on a photo a: place');
  expect((await getMachine(machine.id))?.machine.pinned?.find((p) => p.id === 'a')?.at).toEqual([0.2, 0.5]);
  expect((await put('Ines', photo, made(now + 1, pin('a', 1.2)))).status).toBe(422);
  const read = await readPins(new Request(`${base}/x`, { headers: as('Wen') }), at({ id: machine.id, photo }));
  expect(await read.json()).toMatchObject({ version: now + 1, caption: 'Apron' });
  expect(await listVersions('machine', machine.id)).toHaveLength(now + 1);
});

test('a photo that was taken off goes with its pins; who pins on it meanwhile is told', async () => {
  const { to } = await send('Tomas', await jpeg(520));
  const photo = to.split('/')[4] ?? '';
  const version = (await getMachine(machine.id))!.version;
  expect((await takeOffPhoto('machine', machine.id, photo, tomas)).ok).toBe(true);
  expect(await takeOffPhoto('machine', machine.id, photo, tomas)).toMatchObject({ ok: false, reason: 'gone' });
  const late = await put('Ines', photo, { version, caption: '', pins: [{ id: 'z', at: [0, 0], switch: '11' }] });
  expect(late.status).toBe(409);
  expect((await getMachine(machine.id))?.machine.pinned?.some((p) => p.id === 'z')).toBe(false);
});

test('a board design has photos of its own, with its connectors', async () => {
  const { to } = await send('Tomas', await jpeg(530), {}, takeDesign, design.id);
  const photo = /^\/designs\/SB-2\/photos\/([0-9a-f]{64})\/pin$/.exec(to)?.[1] ?? '';
  const version = (await getDesign(design.id))!.version;
  const pins = [{ id: 'h', at: [0.5, 0.5], header: design.headers[0]?.id }];
  expect((await put('Tomas', photo, { version, caption: 'Switch board', pins }, putDesignPins, design.id)).status).toBe(200);
  const read = await readDesignPins(new Request(`${base}/x`, { headers: as('Wen') }), at({ id: design.id, photo }));
  expect(await read.json()).toMatchObject({ caption: 'Switch board', pins });
  expect([await seen(photo), await seen(photo, as('Wen'))]).toEqual([404, 200]);
});
