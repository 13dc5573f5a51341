import { sql } from 'drizzle-orm';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import {
  acceptInvite,
  changeRole,
  createFirstOwner,
  createMember,
  isFirstRun,
  lookAtInvite,
  makeInvite,
  removeMember,
  signIn,
} from '@/lib/access/accounts';
import { hashOf } from '@/lib/access/secret-tokens';
import { listInvites, revokeInvite } from '@/lib/store/invites';
import { getMember, listMembers } from '@/lib/store/members';
import { account as accountTable, invite, user } from '@/lib/store/schema';
import { type TestDatabase, testDatabase } from '../store/cluster';
import { account, join, password } from './house';
import { countOwners } from './owners';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
});
afterEach(() => db.close());

const names = async () => (await listMembers()).map((m) => `${m.name} ${m.role}`);
const no = (message: string) => ({ ok: false, message });
const useless = no('This invite has been used, has run out, or was taken back. Ask the owner for a new one.');

describe('the first owner', () => {
  test('of twelve at once, one gets the notebook and the others are told', async () => {
    expect(await isFirstRun()).toBe(true);
    const all = await Promise.all(Array.from({ length: 12 }, (_, i) => createFirstOwner(account(`Founder${i}`))));
    expect(all.filter((r) => r.ok)).toHaveLength(1);
    const late = no('This notebook has an owner already. Sign in, or ask the owner for an invite.');
    expect(all.filter((r) => !r.ok)).toEqual(Array(11).fill(late));
    expect(await listMembers()).toHaveLength(1);
    expect(await countOwners()).toBe(1);
    expect(await db.database.$count(accountTable)).toBe(1);
    expect(await isFirstRun()).toBe(false);
    expect(await createFirstOwner(account('Late'))).toEqual(late);
  });

  test('what is wrong with the account is said field by field; nothing is kept', async () => {
    const wrong = await createFirstOwner({ name: ' ', email: 'ines at club', password: 'ninechars' });
    expect(wrong).toEqual(
      no('Name: Write your name. E-mail: Write an e-mail address, such as ines@club.example. Password: Use ten characters or more.'),
    );
    expect((await createFirstOwner({ ...account('Ines'), password: 'p'.repeat(201) })).ok).toBe(false);
    expect(await isFirstRun()).toBe(true);
    expect(await createFirstOwner({ ...account('Ines'), password: 'ten chars!' })).toEqual({ ok: true });
  });

  test('a failure half way leaves no half of an account behind', async () => {
    await db.database.$client.query('alter table account add constraint broken check (false)');
    await expect(createFirstOwner(account('Ines'))).rejects.toThrow();
    expect(await isFirstRun()).toBe(true);
    await db.database.$client.query('alter table account drop constraint broken');
    expect(await createFirstOwner(account('Ines'))).toEqual({ ok: true });
  });

  test('the e-mail is kept in lower case and the password only as a hash', async () => {
    await createFirstOwner({ name: '  Ines  ', email: ' Ines@Club.Example ', password });
    expect(await listMembers()).toMatchObject([{ name: 'Ines', email: 'ines@club.example', role: 'owner' }]);
    const dump = await db.database.$client.query('select row_to_json(u)::text, row_to_json(a)::text from "user" u, account a');
    expect(JSON.stringify(dump.rows)).not.toContain(password);
    expect((await signIn('INES@club.example ', password, new Headers())).ok).toBe(true);
  });
});

describe('an invite', () => {
  test('gives its role once, however many come at once', async () => {
    const ines = await join('Ines', 'owner');
    const { token, expiresAt } = await makeInvite('editor', ines);
    expect(token).toMatch(/^[\w-]{43}$/); // 32 bytes in base64url without padding: RFC 4648 § 5
    const days = (Date.parse(expiresAt) - Date.now()) / 86_400_000;
    expect(days).toBeGreaterThan(6.99);
    expect(days).toBeLessThanOrEqual(7);
    expect(await lookAtInvite(token)).toMatchObject({ role: 'editor', createdBy: ines.id });
    const all = await Promise.all(Array.from({ length: 8 }, (_, i) => acceptInvite(token, account(`Guest${i}`))));
    expect(all.filter((r) => r.ok)).toHaveLength(1);
    expect(all.filter((r) => !r.ok)).toEqual(Array(7).fill(useless));
    expect(await listMembers()).toHaveLength(2);
    expect((await names()).filter((n) => n.endsWith('editor'))).toHaveLength(1);
    expect(await acceptInvite(token, account('Again'))).toEqual(useless);
    expect(await lookAtInvite(token)).toBeNull();
  });

  test('is kept only as its SHA-256, and every one is another', async () => {
    const ines = await join('Ines', 'owner');
    const tokens = await Promise.all(Array.from({ length: 20 }, async () => (await makeInvite('reader', ines)).token));
    expect(new Set(tokens).size).toBe(20);
    const kept = JSON.stringify(await db.database.select().from(invite));
    for (const token of tokens) {
      expect(kept).not.toContain(token);
      expect(kept).toContain(hashOf(token));
    }
    // FIPS 180-2, appendix B.1: the digest of “abc”.
    expect(hashOf('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });

  test('that has run out, was taken back or was made up is good for nothing', async () => {
    const ines = await join('Ines', 'owner');
    const late = (await makeInvite('editor', ines)).token;
    await db.database.update(invite).set({ expiresAt: sql`now() - interval '1 second'` });
    const back = (await makeInvite('editor', ines)).token;
    for (const row of await listInvites()) await revokeInvite(row.id);
    const good = (await makeInvite('editor', ines)).token;
    const forged = [`${good.slice(0, -1)}${good.endsWith('A') ? 'B' : 'A'}`, good.slice(1), `${good} `, hashOf(good), '', '%'];
    for (const token of [late, back, ...forged]) {
      expect(await lookAtInvite(token)).toBeNull();
      expect(await acceptInvite(token, account('Guest'))).toEqual(useless);
    }
    expect(await names()).toEqual(['Ines owner']);
    expect(await acceptInvite(good, account('Guest'))).toEqual({ ok: true });
  });

  test('an e-mail that is taken leaves it good; without a good one nothing is said about e-mails', async () => {
    const ines = await join('Ines', 'owner');
    const { token } = await makeInvite('reader', ines);
    expect(await acceptInvite(token, { ...account('Other'), email: 'INES@club.example' })).toEqual(
      no('E-mail: there is an account with this one already. Sign in with it, or use another.'),
    );
    expect(await acceptInvite('made-up', account('Ines'))).toEqual(useless);
    expect(await acceptInvite('made-up', { name: '', email: '', password: '' })).toEqual(useless);
    expect(await acceptInvite(token, { ...account('Wen'), password: 'short' })).toEqual(no('Password: Use ten characters or more.'));
    expect(await acceptInvite(token, account('Wen'))).toEqual({ ok: true });
    expect(await names()).toEqual(['Ines owner', 'Wen reader']);
  });

  test('a role that is slipped in with the form does nothing', async () => {
    const ines = await join('Ines', 'owner');
    const { token } = await makeInvite('reader', ines);
    const given = { ...account('Wen'), role: 'owner', removedAt: null, emailVerified: true, id: ines.id };
    expect(await acceptInvite(token, given)).toEqual({ ok: true });
    expect(await names()).toEqual(['Ines owner', 'Wen reader']);
  });
});

describe('the last owner', () => {
  test('can be neither demoted nor removed', async () => {
    const ines = await join('Ines', 'owner');
    const tomas = await join('Tomas', 'editor');
    const demoted = no('Role: the last owner stays owner. Make somebody else owner first.');
    expect(await changeRole(ines.id, 'editor')).toEqual(demoted);
    expect(await changeRole(ines.id, 'owner')).toEqual({ ok: true });
    expect(await removeMember(ines.id)).toEqual(no('The last owner can’t be removed. Make somebody else owner first.'));
    expect(await changeRole(tomas.id, 'owner')).toEqual({ ok: true });
    expect(await removeMember(ines.id)).toEqual({ ok: true });
    expect(await changeRole(tomas.id, 'reader')).toEqual(demoted);
    expect(await names()).toEqual(['Tomas owner']);
  });

  test('who has left, or was never there, is named as such', async () => {
    await join('Ines', 'owner');
    const tomas = await join('Tomas', 'editor');
    expect(await removeMember(tomas.id)).toEqual({ ok: true });
    const gone = no('This member is no longer in the club. Load the page again.');
    for (const id of [tomas.id, 'unknown', '']) {
      expect(await removeMember(id)).toEqual(gone);
      expect(await changeRole(id, 'owner')).toEqual(gone);
    }
  });
});

describe('who has left', () => {
  test('keeps the name on old pages and can be invited anew, as somebody new', async () => {
    const ines = await join('Ines', 'owner');
    const tomas = await join('Tomas', 'editor');
    await removeMember(tomas.id);
    expect(await db.database.$count(accountTable)).toBe(1); // the password’s hash is gone
    expect(await getMember(tomas.id)).toMatchObject({ name: 'Tomas', removedAt: expect.stringMatching(/^\d{4}-/) });
    const { token } = await makeInvite('reader', ines);
    expect(await acceptInvite(token, { ...account('Tomas'), password: 'another invention' })).toEqual({ ok: true });
    const back = (await listMembers()).find((m) => m.name === 'Tomas');
    expect(back).toMatchObject({ email: 'tomas@club.example', role: 'reader' });
    expect(back?.id).not.toBe(tomas.id);
    expect((await signIn('tomas@club.example', password, new Headers())).ok).toBe(false);
    expect((await signIn('tomas@club.example', 'another invention', new Headers())).ok).toBe(true);
  });

  test('leaves no open invites behind; nor does an owner who is owner no longer', async () => {
    const ines = await join('Ines', 'owner');
    const [tomas, wen] = [await join('Tomas', 'owner'), await join('Wen', 'owner')];
    const backDoors = [(await makeInvite('owner', tomas)).token, (await makeInvite('owner', wen)).token];
    const kept = (await makeInvite('reader', ines)).token;
    await removeMember(tomas.id);
    await changeRole(wen.id, 'editor');
    for (const token of backDoors) expect(await acceptInvite(token, account('Back'))).toEqual(useless);
    expect(await acceptInvite(kept, account('Guest'))).toEqual({ ok: true });
  });
});

test('scripts that make members are told loudly what is wrong', async () => {
  await join('Ines', 'owner');
  await expect(createMember({ ...account('Ines'), role: 'reader' })).rejects.toThrow('ines@club.example: E-mail: there is an account');
  await expect(createMember({ ...account('Wen'), password: 'short', role: 'reader' })).rejects.toThrow('Password: Use ten characters');
  expect(await db.database.$count(user)).toBe(1);
});
