import { sql } from 'drizzle-orm';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { removeMember } from '@/lib/access/accounts';
import {
  listReportLinks,
  mostMisses,
  noteOpened,
  openReport,
  revokeReportLink,
  standingOf,
  unlockReport,
  unlockReportLink,
} from '@/lib/access/reports';
import { derivedToken, hashOf } from '@/lib/access/secret-tokens';
import { createPage, removePage } from '@/lib/store/pages';
import { reportLink } from '@/lib/store/schema';
import type { Member } from '@/lib/store/types';
import { copiesOf, getCopy } from '@/lib/store/write-ups';
import { type TestDatabase, testDatabase } from '../store/cluster';
import { join } from './house';
import { copyTitled, olderLink, send } from './sent';

let db: TestDatabase;
let ines: Member;
beforeEach(async () => {
  db = await testDatabase();
  ines = await join('Ines', 'owner');
});
afterEach(() => db.close());
const newPage = async () => (await createPage({ machineId: null, member: ines.id, update: Uint8Array.of(0, 0) })).id;
const state = async (token: string, key: string | null = null) => (await openReport(token, key)).state;
/** Page and copy number behind a link that opens. */
async function behind(token: string) {
  const met = await openReport(token, null);
  if (met.state !== 'open') return null;
  return { page: met.link.page, number: met.link.copy && (await getCopy(met.link.copy))?.number };
}

describe('a link', () => {
  test('opens its copy, can be shown again and is not stored', async () => {
    const page = await newPage();
    const { token, link, number } = await send(page, ines);
    expect(token).toMatch(/^[\w-]{43}$/); // HMAC-SHA256 gives 32 bytes: RFC 2104, FIPS 180-4
    expect(number).toBe(1);
    expect(await behind(token)).toEqual({ page, number: 1 });
    expect(await listReportLinks(page)).toMatchObject([{ id: link, token, page, createdBy: ines.id, opened: 0, openedAt: null }]);
    expect(JSON.stringify(await db.database.select().from(reportLink))).not.toContain(token);
  });

  test('that was given out stays good: the way from secret and id to token is fixed', async () => {
    // Counted again with the Web Cryptography API: base64url(HMAC-SHA-256(secret, "report:" + id)).
    const bytes = (text: string) => new TextEncoder().encode(text);
    const key = await crypto.subtle.importKey('raw', bytes('a secret of the server'), { name: 'HMAC', hash: 'SHA-256' }, false, ['sign']);
    const mac = await crypto.subtle.sign('HMAC', key, bytes('report:abcdefgh2345'));
    expect(derivedToken('a secret of the server', 'abcdefgh2345')).toBe(Buffer.from(mac).toString('base64url'));
  });

  test('made before copies were kept still opens its page, without an end', async () => {
    const page = await newPage();
    const token = await olderLink(page);
    expect(await behind(token)).toEqual({ page, number: null });
    expect(await listReportLinks(page)).toMatchObject([{ token, copy: null, expiresAt: null, pass: null }]);
  });

  test('that is taken back leaves the others, and only its own page’s members’ screen takes it back', async () => {
    const [page, other] = [await newPage(), await newPage()];
    const [first, second, third] = [await send(page, ines), await send(page, ines), await send(other, ines)];
    expect(new Set([first.token, second.token, third.token]).size).toBe(3);
    expect(await revokeReportLink(other, first.link)).toBe(false);
    expect(await revokeReportLink(page, first.link)).toBe(true);
    expect(await revokeReportLink(page, first.link)).toBe(false);
    expect(await revokeReportLink(page, 'unknown')).toBe(false);
    expect(await state(first.token)).toBe('none');
    expect(await behind(second.token)).toEqual({ page, number: 2 });
    const standing = new Map((await listReportLinks(page)).map((l) => [l.id, standingOf(l, new Date())]));
    expect(Object.fromEntries(standing)).toEqual({ [first.link]: 'taken back', [second.link]: 'works' });
    expect((await listReportLinks(other)).map((l) => l.id)).toEqual([third.link]);
  });

  test('ends when its time is over', async () => {
    const page = await newPage();
    const { token, link } = await send(page, ines, copyTitled('t'), null, 90);
    const [{ expiresAt } = { expiresAt: null }] = await listReportLinks(page);
    const days = (new Date(expiresAt ?? 0).getTime() - Date.now()) / 86_400_000;
    expect(days).toBeGreaterThan(89.9);
    expect(days).toBeLessThan(90.1);
    await db.database.execute(sql`update report_link set expires_at = now() - interval '1 second' where id = ${link}`);
    expect(await state(token)).toBe('none');
    expect((await listReportLinks(page)).map((l) => standingOf(l, new Date()))).toEqual(['over']);
  });

  test('is not guessed: not by id, hash, a token of another club’s secret, or a letter more or less', async () => {
    const { token, link } = await send(await newPage(), ines);
    const guesses = [
      '',
      link,
      hashOf(token),
      derivedToken('another secret of some length 0123', link),
      `${token}=`,
      token.slice(0, -1),
      `${token.startsWith('A') ? 'B' : 'A'}${token.slice(1)}`,
    ];
    for (const guess of guesses) expect(await state(guess)).toBe('none');
  });

  test('stays when its maker leaves the club, and goes with the page', async () => {
    const tomas = await join('Tomas', 'editor');
    const page = await newPage();
    const { token } = await send(page, tomas);
    await removeMember(tomas.id);
    expect(await state(token)).toBe('open');
    await removePage(page, ines.id);
    expect(await state(token)).toBe('none');
  });

  test('counts how often it was opened, and when last', async () => {
    const page = await newPage();
    const { link } = await send(page, ines);
    await noteOpened(link);
    await noteOpened(link);
    const [row] = await listReportLinks(page);
    expect(row?.opened).toBe(2);
    expect(Date.now() - new Date(row?.openedAt ?? 0).getTime()).toBeLessThan(60_000);
  });
});

describe('a copy', () => {
  test('is numbered in its page and stays as it was sent', async () => {
    const [page, other] = [await newPage(), await newPage()];
    const titles = ['first', 'second'].map((title) => copyTitled(title));
    for (const copy of titles) await send(page, ines, copy);
    expect((await send(other, ines)).number).toBe(1);
    expect((await copiesOf(page)).map(({ number, copy, by }) => [number, copy.title, by])).toEqual([
      [2, 'second', 'Ines'],
      [1, 'first', 'Ines'],
    ]);
  });

  test('sent by two at once has two numbers', async () => {
    const page = await newPage();
    const sent = await Promise.all([1, 2, 3, 4].map(() => send(page, ines)));
    expect(sent.map(({ number }) => number).sort()).toEqual([1, 2, 3, 4]);
  });
});

describe('a pass phrase', () => {
  test('opens the link for whoever gives it, however it was said, and for nobody else', async () => {
    const { token, link } = await send(await newPage(), ines, copyTitled('t'), 'Four tin larks');
    expect(await state(token)).toBe('locked');
    expect(await unlockReport(token, 'four tin lark')).toEqual({ ok: false, why: 'wrong' });
    const unlocked = await unlockReport(token, '  FOUR tinlarks ');
    if (!unlocked.ok) throw new Error(unlocked.why);
    expect(await state(token, unlocked.key)).toBe('open');
    expect(await state(token, `${unlocked.key}x`)).toBe('locked');
    expect(await state(token, token)).toBe('locked');
    const other = await send(await newPage(), ines, copyTitled('t'), 'Four tin larks');
    expect(await state(other.token, unlocked.key)).toBe('locked'); // a key is of one link
    const [row] = await db.database.select().from(reportLink).where(sql`id = ${link}`);
    expect(row?.pass).not.toMatch(/larks/i);
  });

  test('is asked for so many times and no more, also when all are tried at once', async () => {
    const page = await newPage();
    const { token } = await send(page, ines, copyTitled('t'), 'Four tin larks');
    const tries = await Promise.all(Array.from({ length: mostMisses + 3 }, (_, n) => unlockReport(token, `guess no ${n}`)));
    expect(tries.filter((t) => !t.ok && t.why === 'wrong')).toHaveLength(mostMisses);
    expect(tries.filter((t) => !t.ok && t.why === 'spent')).toHaveLength(3);
    expect(await unlockReport(token, 'Four tin larks')).toEqual({ ok: false, why: 'spent' });
    expect((await listReportLinks(page)).map((l) => standingOf(l, new Date()))).toEqual(['locked']);
  });

  test('may be tried again once a member unlocked the link, as often as at first; only a locked link of that page can be', async () => {
    const [page, other] = [await newPage(), await newPage()];
    const { token, link } = await send(page, ines, copyTitled('t'), 'Four tin larks');
    const spend = async () => {
      for (let n = 0; n < mostMisses; n++) expect(await unlockReport(token, 'wrong one')).toMatchObject({ why: 'wrong' });
      expect(await unlockReport(token, 'Four tin larks')).toEqual({ ok: false, why: 'spent' });
    };
    await unlockReport(token, 'wrong one');
    expect(await unlockReportLink(page, link)).toBe(false); // it is not locked
    expect(await unlockReport(token, 'four tin larks')).toMatchObject({ ok: true });
    await spend();
    expect(await unlockReportLink(other, link)).toBe(false);
    expect(await unlockReportLink(page, link)).toBe(true);
    expect((await listReportLinks(page)).map((l) => standingOf(l, new Date()))).toEqual(['works']);
    await spend();
    expect(await unlockReportLink(page, link)).toBe(true);
    expect(await unlockReport(token, 'four tin larks')).toMatchObject({ ok: true });
    await spend();
    await revokeReportLink(page, link);
    expect(await unlockReportLink(page, link)).toBe(false); // what was taken back stays so
  });

  test('that is right clears the misses before it', async () => {
    const { token } = await send(await newPage(), ines, copyTitled('t'), 'Four tin larks');
    for (let round = 0; round < 2; round++) {
      for (let n = 1; n < mostMisses; n++) expect(await unlockReport(token, 'wrong one')).toMatchObject({ why: 'wrong' });
      expect(await unlockReport(token, 'four tin larks')).toMatchObject({ ok: true });
    }
  });

  test('opens nothing that was taken back', async () => {
    const page = await newPage();
    const { token, link } = await send(page, ines, copyTitled('t'), 'Four tin larks');
    const unlocked = await unlockReport(token, 'Four tin larks');
    await revokeReportLink(page, link);
    expect(await state(token, unlocked.ok ? unlocked.key : null)).toBe('none');
    expect(await unlockReport(token, 'Four tin larks')).toEqual({ ok: false, why: 'none' });
  });
});
