import { fork } from 'node:child_process';
import { once } from 'node:events';
import { join as inFolder } from 'node:path';
import { sql } from 'drizzle-orm';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { removeMember, signIn, signOut } from '@/lib/access/accounts';
import { auth, makeAuth, sessionCookie } from '@/lib/access/auth';
import { actorOf } from '@/lib/access/session';
import { clientHeader } from '@/lib/http/client-address';
import { session } from '@/lib/store/schema';
import { settings } from '@/lib/store/settings';
import { type TestDatabase, testDatabase } from '../store/cluster';
import { account, browserOf, join, password, sentBack } from './house';

let db: TestDatabase;
beforeEach(async () => {
  db = await testDatabase();
});
afterEach(() => db.close());

const wrong = {
  ok: false,
  message: 'E-mail and password do not match. Check both; who has lost a password asks an owner for a new invite.',
};
const tooMany = { ok: false, message: 'Too many attempts. Wait a minute and try again.' };
const from = (address: string) => new Headers({ [clientHeader]: address });

/** A Set-Cookie line in its parts; attribute names in lower case. */
function parts(line = '') {
  const [pair = '', ...attributes] = line.split(/;\s*/);
  const at = pair.indexOf('=');
  return {
    name: pair.slice(0, at),
    value: pair.slice(at + 1),
    attributes: Object.fromEntries(attributes.map((a) => [a.split('=')[0]?.toLowerCase(), a.split('=')[1] ?? true])),
  };
}

describe('signing in', () => {
  test('an unknown e-mail, a wrong password and a member who has left are answered alike', async () => {
    await join('Ines', 'owner');
    const tomas = await join('Tomas', 'editor');
    await removeMember(tomas.id);
    const tries: [string, string][] = [
      ['ines@club.example', 'not the password'],
      ['ines@club.example', ''],
      ['ines@club.example', 'x'.repeat(5000)],
      ['stranger@club.example', password],
      ['not an e-mail', password],
      ['', ''],
      [account('Tomas').email, password],
      [`removed:${tomas.id}`, password],
    ];
    for (const [email, typed] of tries) expect(await signIn(email, typed, new Headers())).toEqual(wrong);
    expect(await db.database.$count(session)).toBe(0);
  });

  test('gives a new session each time, and signing out ends only that one', async () => {
    const ines = await join('Ines', 'owner');
    const [bench, phone] = [await browserOf('Ines'), await browserOf('Ines')];
    expect(bench.get('cookie')).not.toBe(phone.get('cookie'));
    expect((await actorOf(bench))?.id).toBe(ines.id);
    const { cookies } = await signOut(bench);
    expect(await actorOf(bench)).toBeNull();
    expect((await actorOf(phone))?.id).toBe(ines.id);
    const cleared = cookies.map(parts).find((c) => c.name === 'fettlebook');
    expect(cleared).toMatchObject({ value: '', attributes: { 'max-age': '0', path: '/', httponly: true } });
    expect((await signOut(new Headers())).cookies).toBeInstanceOf(Array);
  });
});

describe('guessing', () => {
  test('five attempts a minute for one account, also when all come at once; then not even the right password', async () => {
    await join('Guessed', 'owner');
    const { email } = account('Guessed');
    const all = await Promise.all(Array.from({ length: 12 }, (_, i) => signIn(email.toUpperCase(), `guess ${i}`, new Headers())));
    expect(all.filter((r) => !r.ok && r.message === wrong.message)).toHaveLength(settings().signInLimit);
    expect(all.filter((r) => !r.ok && r.message === tooMany.message)).toHaveLength(12 - settings().signInLimit);
    expect(await signIn(` ${email} `, password, new Headers())).toEqual(tooMany);
  });

  test('four times as many for one address, whichever accounts; another address is not held up', async () => {
    await join('Ines', 'owner');
    const most = settings().signInLimit * 4;
    const guesses = Array.from({ length: most + 2 }, (_, i) => signIn(`nobody${i}@club.example`, 'guess', from('192.0.2.7')));
    const all = await Promise.all(guesses);
    expect(all.filter((r) => !r.ok && r.message === wrong.message)).toHaveLength(most);
    expect(await signIn(account('Ines').email, password, from('192.0.2.7'))).toEqual(tooMany);
    expect((await signIn(account('Ines').email, password, from('192.0.2.8'))).ok).toBe(true);
  });

  test('right ones are never counted', async () => {
    await join('Busy', 'owner');
    for (let i = 0; i < settings().signInLimit * 4 + 2; i++)
      expect((await signIn(account('Busy').email, password, from('192.0.2.9'))).ok).toBe(true);
  });
});

describe('guessing at two servers of one club', () => {
  /** Another server: a process of its own on the same database. What it answers to these attempts, all at once. */
  async function elsewhere(tries: { email: string; password: string; address?: string }[]): Promise<unknown[]> {
    const child = fork(inFolder(import.meta.dirname, 'elsewhere.ts'), [JSON.stringify({ connection: db.connection, tries })], {
      execArgv: ['--import', 'tsx'],
    });
    const [answers] = (await once(child, 'message')) as [unknown[]];
    if (child.exitCode === null) await once(child, 'exit');
    return answers;
  }
  const guesses = (email: string, n: number) => Array.from({ length: n }, (_, i) => ({ email, password: `guess ${i}` }));

  test('both together take five attempts a minute for one account, and four times as many for one address', async () => {
    await join('Guessed', 'owner');
    const { email } = account('Guessed');
    const there = elsewhere(guesses(email, 6));
    const here = Promise.all(guesses(email, 6).map((g) => signIn(g.email, g.password, new Headers())));
    const all = [...(await there), ...(await here)];
    expect(all.filter((r) => JSON.stringify(r) === JSON.stringify(wrong))).toHaveLength(settings().signInLimit);
    expect(all.filter((r) => JSON.stringify(r) === JSON.stringify(tooMany))).toHaveLength(12 - settings().signInLimit);

    const address = '192.0.2.30';
    const most = settings().signInLimit * 4;
    const many = Array.from({ length: most }, (_, i) => ({ email: `nobody${i}@club.example`, password: 'guess', address }));
    expect(await elsewhere(many)).toEqual(many.map(() => wrong));
    expect(await signIn('somebody@club.example', 'guess', from(address))).toEqual(tooMany);
  });
});

describe('when attempts can’t be counted', () => {
  test('not even the right password is looked at', async () => {
    await join('Ines', 'owner');
    await db.database.execute(sql`alter table attempt rename to lost`);
    await expect(signIn(account('Ines').email, password, from('192.0.2.1'))).rejects.toThrow();
    expect(await db.database.$count(session)).toBe(0);
  });

  test('who was let in before that stays in', async () => {
    await join('Ines', 'owner');
    await db.database.execute(sql`create function fails() returns trigger language plpgsql as $$ begin raise 'no'; end $$`);
    await db.database.execute(sql`create trigger fails before update on attempt for each row execute function fails()`);
    const told = vi.spyOn(console, 'error').mockImplementation(() => {});
    expect((await signIn(account('Ines').email, password, from('192.0.2.1'))).ok).toBe(true);
    expect(told).toHaveBeenCalledOnce();
    told.mockRestore();
  });
});

describe('the session’s cookie', () => {
  test('over plain http has a plain name, and no script can read it', async () => {
    await join('Ines', 'owner');
    const result = await signIn(account('Ines').email, password, new Headers());
    const lines = result.ok ? result.cookies.map(parts) : [];
    expect(lines.map((c) => c.name)).toEqual(['fettlebook']);
    expect(lines[0]?.attributes).toMatchObject({ httponly: true, samesite: 'Lax', path: '/', 'max-age': String(30 * 86_400) });
    expect(lines[0]?.attributes.secure).toBeUndefined();
    expect(lines[0]?.attributes.domain).toBeUndefined();
  });

  // RFC 6265bis § 4.1.3.2: a `__Host-` cookie is Secure, has Path=/ and no Domain. OWASP ASVS 5.0, 3.3.1 to 3.3.4.
  test('over https carries the prefix that ties it to this host', async () => {
    await join('Ines', 'owner');
    const { secret } = settings();
    const over = makeAuth(db.database, { baseUrl: 'https://notebook.club.example', secret });
    const body = { email: account('Ines').email, password };
    const response = await over.api.signInEmail({ body, headers: new Headers(), asResponse: true });
    const lines = response.headers.getSetCookie();
    expect(lines).toHaveLength(1);
    const { name, attributes } = parts(lines[0]);
    expect(name).toBe('__Host-fettlebook');
    expect(attributes).toMatchObject({ secure: true, httponly: true, samesite: 'Lax', path: '/' });
    expect(attributes.domain).toBeUndefined();

    const headers = new Headers({ cookie: sentBack(lines) });
    expect((await over.api.getSession({ headers }))?.user.email).toBe(body.email);
    const plain = new Headers({ cookie: sentBack(lines).replace('__Host-', '') });
    expect(await over.api.getSession({ headers: plain })).toBeNull();
    const out = await over.api.signOut({ headers, asResponse: true });
    const cleared = out.headers.getSetCookie().map(parts);
    expect(cleared.find((c) => c.name === '__Host-fettlebook')).toMatchObject({ value: '', attributes: { secure: true, 'max-age': '0' } });
  });

  test('its name follows from the address that members type', () => {
    expect(sessionCookie('https://notebook.club.example')).toEqual({ name: '__Host-fettlebook', secure: true });
    expect(sessionCookie('http://127.0.0.1:3000')).toEqual({ name: 'fettlebook', secure: false });
  });
});

test('the account library makes no account by itself', async () => {
  await expect(auth().api.signUpEmail({ body: { name: 'Stranger', email: 'stranger@club.example', password } })).rejects.toThrow();
  expect(await signIn('stranger@club.example', password, new Headers())).toEqual(wrong);
});
