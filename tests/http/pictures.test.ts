/** Pictures over HTTP: who may send them, who sees them, and what a browser is told about keeping them. */
import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join as path } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { POST as foundPhoto } from '@/app/(club)/machines/[id]/found/[found]/photo/route';
import { GET as openapi } from '@/app/api/openapi.json/route';
import { DELETE as drop } from '@/app/api/pages/[id]/pictures/[hash]/route';
import { POST as send } from '@/app/api/pages/[id]/pictures/route';
import { GET as show } from '@/app/files/[hash]/[size]/route';
import { maySeePicture } from '@/lib/access/pictures';
import { makeToken } from '@/lib/access/tokens';
import { withDeviation } from '@/lib/core/chart/found';
import { mostBytes } from '@/lib/files/limits';
import { newPageDoc } from '@/lib/notebook/content';
import { newNote } from '@/lib/notebook/templates';
import { getMachine, putDesign, putMachine } from '@/lib/store/machines';
import { createPage, removePage } from '@/lib/store/pages';
import { holdShown } from '@/lib/store/pictures';
import type { Member } from '@/lib/store/types';
import { bearer, browserOf, join } from '../access/house';
import { halves, withPlace } from '../files/images';
import { chartOf, design } from '../store/charts';
import { type TestDatabase, testDatabase } from '../store/cluster';

const folder = mkdtempSync(path(tmpdir(), 'fettlebook-files-'));
process.env.DATA_DIR = folder; // read once, at the first question
const base = 'http://127.0.0.1:3000';
let db: TestDatabase;
let ines: Member;
const tokens: Record<string, string> = {};
beforeAll(async () => {
  db = await testDatabase();
  ines = await join('Ines', 'owner');
  for (const member of [ines, await join('Tomas', 'editor'), await join('Wen', 'reader'), await join('Gone', 'editor')])
    tokens[member.name] = (await makeToken(member, 'test')).token;
});
afterAll(async () => {
  await db.close();
  rmSync(folder, { recursive: true, force: true });
});

const as = (name: string) => bearer(tokens[name] ?? '');
const newPage = () => createPage({ machineId: null, member: ines.id, update: newPageDoc(newNote({ title: 'Lamp board' })) });
const context = <T>(params: T) => ({ params: Promise.resolve(params) });
async function post(id: string, bytes: BodyInit, headers: Headers, type = 'application/octet-stream') {
  headers.set('content-type', type);
  const init = { method: 'POST', headers, body: bytes, ...(bytes instanceof ReadableStream ? { duplex: 'half' } : {}) };
  const response = await send(new Request(`${base}/api/pages/${id}/pictures`, init), context({ id }));
  return { status: response.status, body: (await response.json()) as { hash: string; detail?: string; width?: number } };
}
const get = (hash: string, size: number | string, headers = new Headers()) =>
  show(new Request(`${base}/files/${hash}/${size}`, { headers }), context({ hash, size: String(size) }));
let seed = 0;
/** Another picture each time. */
const fresh = () => {
  seed += 2;
  return halves(900 + seed, 400)
    .png()
    .toBuffer();
};
async function kept() {
  const page = await newPage();
  const { body } = await post(page.id, new Uint8Array(await fresh()), as('Tomas'));
  return { page: page.id, hash: body.hash };
}

describe('sending', () => {
  test('answers what the picture is called: the SHA-256 of the bytes, computed here by another way', async () => {
    const page = await newPage();
    const bytes = new Uint8Array(await fresh());
    const { status, body } = await post(page.id, bytes, as('Tomas'), 'image/png');
    expect(status).toBe(200);
    const digest = Buffer.from(await crypto.subtle.digest('SHA-256', bytes)).toString('hex');
    expect(body).toEqual({ hash: digest, width: 900 + seed, height: 400 });
  });

  test('is refused, and nothing kept, when the picture is another member’s than whoever has signed in since', async () => {
    const page = await newPage();
    const bytes = new Uint8Array(await fresh());
    const headers = as('Tomas');
    headers.set('content-type', 'image/png');
    const asked = (member: string) =>
      send(
        new Request(`${base}/api/pages/${page.id}/pictures?member=${member}`, { method: 'POST', headers, body: bytes }),
        context({ id: page.id }),
      );
    const refused = await asked(ines.id);
    expect(refused.status).toBe(401);
    expect(((await refused.json()) as { detail: string }).detail).toContain('another member’s picture');
    const { rows } = await db.database.$client.query('select 1 from page_picture where page = $1', [page.id]);
    expect(rows).toEqual([]);
    const { rows: own } = await db.database.$client.query(`select id from "user" where name = 'Tomas'`);
    expect((await asked(own[0].id)).status).toBe(200);
  });

  test('is for those who may write the page', async () => {
    const page = await newPage();
    const bytes = new Uint8Array(await fresh());
    expect((await post(page.id, bytes, new Headers())).status).toBe(401);
    expect((await post(page.id, bytes, as('Wen'))).status).toBe(403);
    expect((await post('nopage', bytes, as('Tomas'))).status).toBe(404);
    const foreign = await browserOf('Tomas', { origin: 'https://elsewhere.example', host: '127.0.0.1:3000' });
    expect((await post(page.id, bytes, foreign)).status).toBe(403);
    const own = await browserOf('Tomas', { origin: base, host: '127.0.0.1:3000' });
    expect((await post(page.id, bytes, own)).status).toBe(200);
  });

  test('takes no form of another site (OWASP ASVS 5.0, 3.5.2), nothing empty, and counts real bytes', async () => {
    const page = await newPage();
    for (const type of ['multipart/form-data; boundary=x', 'text/plain', 'application/json'])
      expect((await post(page.id, new Uint8Array(await fresh()), as('Tomas'), type)).status).toBe(415);
    expect((await post(page.id, new Uint8Array(), as('Tomas'))).body.detail).toBe('The file is empty. Choose it again.');
    let sent = 0;
    const endless = new ReadableStream<Uint8Array>({
      pull(stream) {
        sent += 1_000_000;
        stream.enqueue(new Uint8Array(1_000_000));
      },
    });
    const { status, body } = await post(page.id, endless, as('Tomas'));
    expect([status, body.detail]).toEqual([413, 'Keep the body to 30,000,000 bytes.']);
    expect(sent).toBeLessThan(mostBytes + 5_000_000);
  });

  test('what is no picture is refused with what to do', async () => {
    const page = await newPage();
    const svg = new TextEncoder().encode('<svg xmlns="http://www.w3.org/2000/svg"/>');
    const { status, body } = await post(page.id, svg, as('Tomas'), 'image/jpeg');
    expect(status).toBe(422);
    expect(body).toMatchObject({
      errors: [{ field: 'picture', message: expect.stringContaining('SVG'), mend: expect.stringContaining('JPEG') }],
    });
  });

  test('the same bytes are kept once, and held by each page they were sent to', async () => {
    const bytes = new Uint8Array(await fresh());
    const [one, two] = [await newPage(), await newPage()];
    const before = readdirSync(path(folder, 'files'), { recursive: true }).length;
    const answers = await Promise.all([one, two, one].map((page) => post(page.id, bytes, as('Tomas'))));
    const [first] = answers;
    expect(answers.map((a) => a.status)).toEqual([200, 200, 200]);
    expect(new Set(answers.map((a) => a.body.hash)).size).toBe(1);
    const names = readdirSync(path(folder, 'files'), { recursive: true }).map(String);
    expect(names.filter((name) => name.endsWith('.jpg') && name.includes(first?.body.hash ?? '-'))).toHaveLength(3); // 320, 800, 1600
    expect(names.length - before).toBeLessThanOrEqual(5); // those and their folders
    await removePage(one.id, ines.id);
    expect((await get(first?.body.hash ?? '', 320, as('Wen'))).status).toBe(200); // the other page holds it
  });
});

describe('seeing', () => {
  test('gives members the picture, as nothing but a picture', async () => {
    const { hash } = await kept();
    for (const name of ['Ines', 'Tomas', 'Wen']) {
      const response = await get(hash, 800, as(name));
      expect(response.status).toBe(200);
      expect(Object.fromEntries(response.headers)).toMatchObject({
        'content-type': 'image/jpeg',
        'x-content-type-options': 'nosniff',
        'cache-control': 'private, no-cache',
        'cross-origin-resource-policy': 'same-origin',
        vary: 'cookie, authorization',
      });
      const bytes = new Uint8Array(await response.arrayBuffer());
      expect(response.headers.get('content-length')).toBe(String(bytes.length));
      expect(await sharp(bytes).metadata()).toMatchObject({ format: 'jpeg', width: 800 });
    }
    const browser = await browserOf('Wen');
    expect((await get(hash, 320, browser)).status).toBe(200);
  });

  test('of what was taken out: place and device are not in what is served', async () => {
    const page = await newPage();
    const { body } = await post(page.id, new Uint8Array(await withPlace()), as('Tomas'));
    const bytes = Buffer.from(await (await get(body.hash, 3200, as('Wen'))).arrayBuffer());
    expect(bytes.length).toBeGreaterThan(300);
    for (const word of ['Exif', 'Invented', 'SN-0042', '2025:11:08']) expect(bytes.includes(word)).toBe(false);
  });

  test('a browser that has it is told so without the bytes, and only while it may see it (RFC 9110 § 13.1.2)', async () => {
    const { page, hash } = await kept();
    const etag = (await get(hash, 320, as('Wen'))).headers.get('etag') ?? '';
    expect(etag).toMatch(/^"[0-9a-f]{64}-320"$/);
    const again = (name: string | null, tag = etag) => {
      const headers = name === null ? new Headers() : as(name);
      headers.set('if-none-match', tag);
      return get(hash, 320, headers);
    };
    const same = await again('Wen');
    expect([same.status, await same.text()]).toEqual([304, '']);
    expect((await again('Wen', `"x", W/${etag}`)).status).toBe(304);
    expect((await again('Wen', '"another"')).status).toBe(200);
    expect((await again(null)).status).toBe(404);
    await removePage(page, ines.id);
    expect((await again('Wen')).status).toBe(404);
  });

  test('is refused alike for what is not there and for what is not theirs: nobody, guesses, no such size', async () => {
    const { hash } = await kept();
    const answers = [
      await get(hash, 320),
      await get(hash, 320, bearer('fbk_made-up')),
      await get('0'.repeat(64), 320, as('Wen')),
      await get(createHash('sha256').update('guess').digest('hex'), 320, as('Ines')),
      await get('../../secret', 320, as('Ines')),
      await get(hash.toUpperCase(), 320, as('Ines')),
      await get(hash, 321, as('Ines')),
      await get(hash, '320.jpg', as('Ines')),
      await get(hash, '', as('Ines')),
    ];
    const said = new Set<string>();
    for (const answer of answers) {
      expect(answer.status).toBe(404);
      expect(answer.headers.get('cache-control')).toBe('no-store');
      said.add(await answer.text());
    }
    expect(said.size).toBe(1);
  });

  test('ends when the page is removed, when the member is, and when the picture is taken away for good', async () => {
    const removed = await kept();
    await removePage(removed.page, ines.id);
    expect((await get(removed.hash, 320, as('Ines'))).status).toBe(404);

    const { page, hash } = await kept();
    expect((await get(hash, 320, as('Gone'))).status).toBe(200);
    const headers = as('Gone');
    await leave('Gone');
    expect((await get(hash, 320, headers)).status).toBe(404);

    const away = (name: string, from = page) =>
      drop(new Request(`${base}/x`, { method: 'DELETE', headers: as(name) }), context({ id: from, hash }));
    expect((await away('Wen')).status).toBe(403); // who writes may take away what was written
    const other = await newPage();
    expect((await away('Ines', other.id)).status).toBe(404);
    const gone = await away('Tomas');
    expect(await gone.json()).toEqual({ removed: true, gone: true });
    expect((await get(hash, 320, as('Ines'))).status).toBe(404);
    expect(
      readdirSync(path(folder, 'files'), { recursive: true }).filter((name) => /\.jpg$/.test(String(name)) && String(name).includes(hash)),
    ).toEqual([]);
  });

  test('a customer’s link shows the pictures of its write-up and no others', async () => {
    const { page, hash } = await kept();
    const other = await kept();
    expect(await maySeePicture({ page, shows: [hash], logo: null }, hash)).toMatchObject({ hash });
    expect(await maySeePicture({ page, shows: [], logo: null }, hash)).toBeNull(); // on the page, not in the write-up
    expect(await maySeePicture({ page, shows: [hash, other.hash], logo: null }, other.hash)).toBeNull(); // held by another page
    await removePage(page, ines.id);
    expect(await maySeePicture({ page, shows: [hash], logo: null }, hash)).toBeNull();
    expect(await maySeePicture(null, other.hash)).toBeNull();
  });
});

const leave = (name: string) => db.database.$client.query('update "user" set removed_at = now() where name = $1', [name]);

test('a page holds what was copied to it from where it can be seen, and nothing else', async () => {
  const { page, hash } = await kept();
  const copied = await newPage();
  const hidden = await kept();
  await removePage(hidden.page, ines.id);
  await holdShown(copied.id, [hash, hidden.hash, '0'.repeat(64)]);
  await removePage(page, ines.id);
  expect((await get(hash, 320, as('Wen'))).status).toBe(200);
  expect((await get(hidden.hash, 320, as('Wen'))).status).toBe(404);
  await holdShown(copied.id, [hash]); // again is the same
});

describe('the photo of a difference from the manual', () => {
  const address = (found: string) => `${base}/machines/regatta/found/${found}/photo`;
  const bring = async (name: string, form: FormData, more: Record<string, string> = { origin: base }) => {
    const headers = await browserOf(name, { ...more, host: '127.0.0.1:3000' });
    const body = new Response(form);
    headers.set('content-type', body.headers.get('content-type') ?? '');
    const request = new Request(address('sw-11'), { method: 'POST', headers, body: await body.arrayBuffer() });
    const response = await foundPhoto(request, context({ id: 'regatta', found: 'sw-11' }));
    return { status: response.status, to: response.headers.get('location') };
  };
  const withFile = (bytes: Uint8Array<ArrayBuffer>) => {
    const form = new FormData();
    form.set('photo', new File([bytes], 'photo.jpg', { type: 'image/jpeg' }));
    return form;
  };
  const photoNow = async () => (await getMachine('regatta'))?.machine.asFound[0]?.photo;
  beforeAll(async () => {
    await putDesign(design, null, ines.id);
    const deviation = { on: '2026-02-01', by: 'Ines', place: { switch: '11' }, manual: 'red', here: 'white', why: '' };
    await putMachine(withDeviation(chartOf('regatta', 'Regatta'), deviation), null, ines.id);
  });

  test('is kept with the chart, seen by its readers, and taken away again', async () => {
    const bytes = new Uint8Array(await fresh());
    expect(await bring('Tomas', withFile(bytes))).toEqual({ status: 303, to: '/machines/regatta#as-found' });
    const hash = createHash('sha256').update(bytes).digest('hex');
    expect(await photoNow()).toBe(hash);
    expect((await get(hash, 320, as('Wen'))).status).toBe(200);
    expect((await get(hash, 320)).status).toBe(404);
    const form = new FormData();
    form.set('remove', 'yes');
    await bring('Tomas', form);
    expect(await photoNow()).toBeUndefined();
    expect((await getMachine('regatta'))?.machine.asFound).toHaveLength(1);
  });

  test('comes from those who may write, from our own pages; what is no photo is named and changes nothing', async () => {
    const bytes = new Uint8Array(await fresh());
    expect((await bring('Wen', withFile(bytes))).status).toBe(403);
    expect((await bring('Tomas', withFile(bytes), { origin: 'https://elsewhere.example' })).status).toBe(403);
    const trouble = (code: string) => ({ status: 303, to: `/machines/regatta/found/sw-11?trouble=${code}` });
    expect(await bring('Tomas', new FormData())).toEqual(trouble('none'));
    expect(await bring('Tomas', withFile(new TextEncoder().encode('<svg/> is no photo')))).toEqual(trouble('kind'));
    expect(await bring('Tomas', withFile(bytes.slice(0, 60)))).toEqual(trouble('damaged'));
    expect(await bring('Tomas', withFile(new Uint8Array(mostBytes + 20_000)))).toEqual(trouble('large'));
    expect(await photoNow()).toBeUndefined();
  });
});

test('stands in the OpenAPI document, as a file', async () => {
  const { paths } = (await openapi().json()) as { paths: Record<string, Record<string, { requestBody?: unknown }>> };
  expect(paths['/api/pages/{id}/pictures']?.post?.requestBody).toMatchObject({
    content: { 'application/octet-stream': { schema: { type: 'string', format: 'binary', maxLength: mostBytes } } },
  });
});
