import type { IncomingMessage } from 'node:http';
import { sql } from 'drizzle-orm';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { changeRole, removeMember } from '@/lib/access/accounts';
import { hashOf } from '@/lib/access/secret-tokens';
import { actorOf } from '@/lib/access/session';
import { authorizePage } from '@/lib/access/sockets';
import { listTokens, makeToken, revokeToken } from '@/lib/access/tokens';
import { createPage, removePage } from '@/lib/store/pages';
import { accessToken, session } from '@/lib/store/schema';
import { type TestDatabase, testDatabase } from '../store/cluster';
import { bearer, browserOf, join } from './house';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
});
afterEach(() => db.close());

describe('a session', () => {
  test('says who asks, with the role of this moment', async () => {
    await join('Ines', 'owner');
    const tomas = await join('Tomas', 'editor');
    const browser = await browserOf('Tomas');
    expect(await actorOf(browser)).toEqual(tomas);
    await changeRole(tomas.id, 'reader');
    expect(await actorOf(browser)).toEqual({ ...tomas, role: 'reader' });
  });

  test('ends with the membership, at once and everywhere', async () => {
    await join('Ines', 'owner');
    const tomas = await join('Tomas', 'editor');
    const browsers = [await browserOf('Tomas'), await browserOf('Tomas')];
    const { token } = await makeToken(tomas, 'export');
    await removeMember(tomas.id);
    for (const headers of [...browsers, bearer(token)]) expect(await actorOf(headers)).toBeNull();
    expect(await db.database.$count(session)).toBe(0);
  });

  test('that somehow outlived its member opens nothing', async () => {
    await join('Ines', 'owner');
    const tomas = await join('Tomas', 'editor');
    const browser = await browserOf('Tomas');
    await db.database.$client.query('update "user" set removed_at = now() where id = $1', [tomas.id]);
    expect(await actorOf(browser)).toBeNull();
  });

  test('that has run out, was changed by a letter or was never given is nobody’s', async () => {
    await join('Ines', 'owner');
    const browser = await browserOf('Ines');
    const cookie = browser.get('cookie') ?? '';
    const forged = [
      cookie.replace(/.{6}$/, 'AAAAAA'),
      cookie.replace(/=./, '=#'),
      cookie.split('.')[0] ?? '',
      cookie.replace('fettlebook=', '__Host-fettlebook='),
      'fettlebook=',
      'fettlebook=.',
      '',
    ];
    for (const each of forged) expect(await actorOf(new Headers({ cookie: each }))).toBeNull();
    expect(await actorOf(new Headers())).toBeNull();
    expect(await actorOf(browser)).not.toBeNull();
    await db.database.update(session).set({ expiresAt: sql`now() - interval '1 second'` });
    expect(await actorOf(browser)).toBeNull();
  });

  test('lasts thirty days from signing in, however often it is used', async () => {
    await join('Ines', 'owner');
    const browser = await browserOf('Ines');
    await db.database.update(session).set({ expiresAt: sql`now() + interval '1 minute'` });
    expect(await actorOf(browser)).not.toBeNull();
    const [row] = await db.database.select().from(session);
    expect((row?.expiresAt.getTime() ?? 0) - Date.now()).toBeLessThanOrEqual(60_000);
  });
});

describe('an access token', () => {
  test('does what its member may do, and is kept only as its SHA-256', async () => {
    const wen = await join('Wen', 'reader');
    const { token, row } = await makeToken(wen, 'stock count');
    expect(token).toMatch(/^fbk_[\w-]{43}$/);
    expect(row).toMatchObject({ name: 'stock count', member: wen.id });
    expect(await listTokens(wen)).toEqual([row]);
    const kept = JSON.stringify(await db.database.select().from(accessToken));
    expect(kept).not.toContain(token);
    expect(kept).toContain(hashOf(token));
    expect(await actorOf(bearer(token))).toEqual(wen);
    expect(await actorOf(new Headers({ authorization: `bearer  ${token}` }))).toEqual(wen);
  });

  test('is ended by its own member and by nobody else', async () => {
    const [wen, ines] = [await join('Wen', 'reader'), await join('Ines', 'owner')];
    const { token, row } = await makeToken(wen, 'stock count');
    expect(await revokeToken(ines, row.id)).toBe(false);
    expect(await actorOf(bearer(token))).not.toBeNull();
    expect(await revokeToken(wen, row.id)).toBe(true);
    expect(await revokeToken(wen, row.id)).toBe(false);
    expect(await actorOf(bearer(token))).toBeNull();
    expect(await listTokens(wen)).toEqual([]);
  });

  test('that is wrong makes nobody, also beside a good cookie', async () => {
    const ines = await join('Ines', 'owner');
    const { token } = await makeToken(ines, 'export');
    const browser = await browserOf('Ines');
    for (const each of ['fbk_', token.slice(4), token.slice(0, -1), hashOf(token), `FBK_${token.slice(4)}`, 'made-up']) {
      expect(await actorOf(bearer(each))).toBeNull();
      browser.set('authorization', `Bearer ${each}`);
      expect(await actorOf(browser)).toBeNull();
    }
  });

  test('of another scheme is no token', async () => {
    const { token } = await makeToken(await join('Ines', 'owner'), 'export');
    for (const text of [token, `Basic ${token}`, `Token ${token}`, `Bearer${token}`, `Bearer ${token} x`])
      expect(await actorOf(new Headers({ authorization: text }))).toBeNull();
  });
});

describe('a page’s socket', () => {
  const asks = (headers: Headers) => ({ headers: Object.fromEntries(headers) }) as unknown as IncomingMessage;

  test('is opened to members, for writing by those who may', async () => {
    const [ines, wen] = [await join('Ines', 'owner'), await join('Wen', 'reader')];
    const page = await createPage({ machineId: null, member: ines.id, update: Uint8Array.of(0, 0) });
    expect(await authorizePage(asks(await browserOf('Ines')), page.id)).toEqual({ member: { id: ines.id, name: 'Ines' }, write: true });
    const reader = await browserOf('Wen');
    expect(await authorizePage(asks(reader), page.id)).toEqual({ member: { id: wen.id, name: 'Wen' }, write: false });
    expect(await authorizePage(asks(new Headers()), page.id)).toBe(401);
    expect(await authorizePage(asks(reader), 'nowhere')).toBe(404);
    await removePage(page.id, ines.id);
    expect(await authorizePage(asks(reader), page.id)).toBe(404);
    await removeMember(wen.id);
    expect(await authorizePage(asks(reader), page.id)).toBe(401);
  });
});
