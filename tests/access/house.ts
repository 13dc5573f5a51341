/** An invented club for the tests of accounts and of the HTTP boundary. Settings are read once, at the first question. */
import { createMember, signIn } from '@/lib/access/accounts';
import type { Role } from '@/lib/access/can';
import { getMember } from '@/lib/store/members';
import type { Member } from '@/lib/store/types';

Object.assign(process.env, {
  SECRET: 'only-for-tests-0123456789abcdefghijk',
  BASE_URL: 'http://127.0.0.1:3000',
  SIGN_IN_LIMIT: '5',
});

export const password = 'invented for tests';
export const account = (name: string) => ({ name, email: `${name.toLowerCase()}@club.example`, password });

export async function join(name: string, role: Role): Promise<Member> {
  const member = await getMember(await createMember({ ...account(name), role }));
  if (!member) throw new Error(`${name} is not there`);
  return member;
}

/** The Cookie header that a browser would send back. */
export const sentBack = (lines: readonly string[]) => lines.map((line) => line.split(';')[0]).join('; ');

/** Headers of a browser in which this member has signed in. */
export async function browserOf(name: string, more: Record<string, string> = {}): Promise<Headers> {
  const result = await signIn(account(name).email, password, new Headers());
  if (!result.ok) throw new Error(result.message);
  return new Headers({ ...more, cookie: sentBack(result.cookies) });
}
export const bearer = (token: string) => new Headers({ authorization: `Bearer ${token}` });
