import { afterEach, beforeEach, expect, test } from 'vitest';
import { removeMember } from '@/lib/access/accounts';
import { listReportLinks, makeReportLink, reportPage, revokeReportLink } from '@/lib/access/reports';
import { derivedToken, hashOf } from '@/lib/access/secret-tokens';
import { createPage, removePage } from '@/lib/store/pages';
import { reportLink } from '@/lib/store/schema';
import type { Member } from '@/lib/store/types';
import { type TestDatabase, testDatabase } from '../store/cluster';
import { join } from './house';

let db: TestDatabase;
let ines: Member;
beforeEach(async () => {
  db = await testDatabase();
  ines = await join('Ines', 'owner');
});
afterEach(() => db.close());
const newPage = async () => (await createPage({ machineId: null, member: ines.id, update: Uint8Array.of(0, 0) })).id;

test('a link opens its page, can be shown again and is not stored', async () => {
  const page = await newPage();
  const link = await makeReportLink(page, ines);
  expect(link.token).toMatch(/^[\w-]{43}$/); // HMAC-SHA256 gives 32 bytes: RFC 2104, FIPS 180-4
  expect(link).toMatchObject({ page, createdBy: ines.id });
  expect(await reportPage(link.token)).toBe(page);
  expect(await listReportLinks(page)).toEqual([link]);
  expect(JSON.stringify(await db.database.select().from(reportLink))).not.toContain(link.token);
});

test('links that were given out stay good: the way from secret and id to token is fixed', async () => {
  // Counted again with the Web Cryptography API: base64url(HMAC-SHA-256(secret, "report:" + id)).
  const bytes = (text: string) => new TextEncoder().encode(text);
  const key = await crypto.subtle.importKey('raw', bytes('a secret of the server'), { name: 'HMAC', hash: 'SHA-256' }, false, ['sign']);
  const mac = await crypto.subtle.sign('HMAC', key, bytes('report:abcdefgh2345'));
  expect(derivedToken('a secret of the server', 'abcdefgh2345')).toBe(Buffer.from(mac).toString('base64url'));
});

test('two links to one page are two tokens; one that is taken back leaves the other', async () => {
  const [page, other] = [await newPage(), await newPage()];
  const [first, second, third] = [await makeReportLink(page, ines), await makeReportLink(page, ines), await makeReportLink(other, ines)];
  expect(new Set([first.token, second.token, third.token]).size).toBe(3);
  expect(await revokeReportLink(first.id)).toBe(true);
  expect(await revokeReportLink(first.id)).toBe(false);
  expect(await revokeReportLink('unknown')).toBe(false);
  expect(await reportPage(first.token)).toBeNull();
  expect(await reportPage(second.token)).toBe(page);
  expect((await listReportLinks(page)).map((l) => l.id)).toEqual([second.id]);
  expect((await listReportLinks(other)).map((l) => l.id)).toEqual([third.id]);
});

test('a guess opens nothing: not the id, not the hash, not a token of another secret', async () => {
  const link = await makeReportLink(await newPage(), ines);
  const guesses = [
    '',
    link.id,
    link.page,
    hashOf(link.token),
    derivedToken('another secret of some length 0123', link.id),
    `${link.token}=`,
    link.token.slice(0, -1),
    `${link.token.startsWith('A') ? 'B' : 'A'}${link.token.slice(1)}`,
  ];
  for (const guess of guesses) expect(await reportPage(guess)).toBeNull();
});

test('the customer keeps the link when its maker leaves the club, and loses it with the page', async () => {
  const tomas = await join('Tomas', 'editor');
  const page = await newPage();
  const { token } = await makeReportLink(page, tomas);
  await removeMember(tomas.id);
  expect(await reportPage(token)).toBe(page);
  await removePage(page, ines.id);
  expect(await reportPage(token)).toBeNull();
});
