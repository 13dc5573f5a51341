/** The upload of an archive: who may, from where, and what is kept of it. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join as joined } from 'node:path';
import { strToU8 } from 'fflate';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { POST as take } from '@/app/(club)/club/import/take/route';
import { makeToken } from '@/lib/access/tokens';
import { shelved } from '@/lib/archive/shelf';
import { bearer, browserOf, join } from '../access/house';
import { type TestDatabase, testDatabase } from '../store/cluster';

let db: TestDatabase;
const folder = mkdtempSync(joined(tmpdir(), 'fettlebook-archive-'));
process.env.DATA_DIR = folder; // before the first question for settings
beforeAll(async () => {
  db = await testDatabase();
});
afterAll(async () => {
  await db.close();
  rmSync(folder, { recursive: true, force: true });
});

/** As a browser sends it: the length of the whole form is known. */
async function send(headers: Headers, file: Uint8Array | null, length?: number) {
  const form = new FormData();
  if (file) form.set('archive', new File([Buffer.from(file)], 'club.zip'));
  const made = new Request('http://127.0.0.1:3000/club/import/take', { method: 'POST', body: form });
  const bytes = await made.arrayBuffer();
  const all = new Headers(headers);
  all.set('content-type', made.headers.get('content-type') ?? '');
  all.set('content-length', String(length ?? bytes.byteLength));
  return take(new Request(made.url, { method: 'POST', headers: all, body: bytes }));
}

test('an owner’s file waits under an id; nobody else’s does, nor one from another site', async () => {
  const ines = await join('Ines', 'owner');
  const owner = bearer((await makeToken(ines, 'tests')).token);
  const editor = bearer((await makeToken(await join('Wen', 'editor'), 'tests')).token);
  const file = strToU8('anything');
  expect((await send(new Headers(), file)).status).toBe(403);
  expect((await send(editor, file)).status).toBe(403);
  expect((await send(await browserOf('Ines', { origin: 'https://elsewhere.example' }), file)).status).toBe(403);
  const kept = await send(await browserOf('Ines', { origin: 'http://127.0.0.1:3000' }), file);
  expect(kept.status).toBe(303);
  const id = /^\/club\/import\/([a-z2-7]{12})$/.exec(kept.headers.get('location') ?? '')?.[1];
  const source = shelved(id ?? '');
  expect(source?.at(0, source.size).toString()).toBe('anything');
  expect((await send(owner, null)).headers.get('location')).toBe('/club/import?why=none');
  expect((await send(owner, file, 2 ** 40)).headers.get('location')).toBe('/club/import?why=large');
  for (const other of ['../secret', '', 'aaaaaaaaaaaa']) expect(shelved(other)).toBeNull();
});
