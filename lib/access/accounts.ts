/** Accounts: the first owner, invites, roles, signing in and out. */

import { createInvite, type InviteRow, inviteByHash, returnInvite, useInvite as takeInvite } from '@/lib/store/invites';
import { countMembers, countOwners, getMember, setRole, removeMember as takeOut } from '@/lib/store/members';
import { settings } from '@/lib/store/settings';
import type { Member } from '@/lib/store/types';
import { attemptCounter } from './attempts';
import { auth } from './auth';
import type { Role } from './can';
import { hashOf, newToken } from './secret-tokens';

export type Outcome = { ok: true } | { ok: false; message: string };
export interface NewAccount {
  name: string;
  email: string;
  password: string; // 10 characters or more, checked by the form
}
const inviteDays = 7;
const no = (message: string): Outcome => ({ ok: false, message });

/** True until the first account has been made. */
export const isFirstRun = async () => (await countMembers()) === 0;

/** Makes an account and returns its id; throws when the e-mail is taken. */
export async function createMember({ name, email, password, role }: NewAccount & { role: Role }): Promise<string> {
  const context = await auth().$context;
  const made = await context.internalAdapter.createUser(
    { name, email: email.toLowerCase(), emailVerified: false },
    { method: 'email-password' },
  );
  await context.internalAdapter.linkAccount({
    userId: made.id,
    providerId: 'credential',
    accountId: made.id,
    password: await context.password.hash(password),
  });
  await setRole(made.id, role);
  return made.id;
}

const taken = async (email: string) => (await (await auth().$context).internalAdapter.findUserByEmail(email.toLowerCase())) !== null;

let queue: Promise<unknown> = Promise.resolve(); // one account at a time: two first owners at once make one
const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
  const next = queue.then(work, work);
  queue = next.catch(() => {});
  return next;
};

/** The first account, and only the first, is made without an invite. */
export const createFirstOwner = (account: NewAccount): Promise<Outcome> =>
  inTurn(async () => {
    if (!(await isFirstRun())) return no('This notebook has an owner already. Sign in, or ask the owner for an invite.');
    await createMember({ ...account, role: 'owner' });
    return { ok: true };
  });

/** An invite link's token: works once, for seven days. Shown now and never again. */
export async function makeInvite(role: Role, by: Member): Promise<{ token: string; expiresAt: string }> {
  const token = newToken();
  const row = await createInvite({
    hash: hashOf(token),
    role,
    createdBy: by.id,
    expiresAt: new Date(Date.now() + inviteDays * 24 * 60 * 60 * 1000),
  });
  return { token, expiresAt: row.expiresAt };
}

export const lookAtInvite = (token: string): Promise<InviteRow | null> => inviteByHash(hashOf(token));

export const acceptInvite = (token: string, account: NewAccount): Promise<Outcome> =>
  inTurn(async () => {
    if (await taken(account.email)) return no('There is an account with this e-mail already. Sign in with it, or use another e-mail.');
    const hash = hashOf(token);
    const role = await takeInvite(hash);
    if (!role) return no('This invite has been used, has run out, or was taken back. Ask the owner for a new one.');
    try {
      await createMember({ ...account, role });
      return { ok: true };
    } catch (error) {
      await returnInvite(hash);
      throw error;
    }
  });

const lastOwner = async (member: Member) => member.role === 'owner' && (await countOwners()) <= 1;

export async function changeRole(id: string, role: Role): Promise<Outcome> {
  const member = await getMember(id);
  if (!member || member.removedAt) return no('This member is no longer in the club.');
  if (role !== 'owner' && (await lastOwner(member))) return no('The last owner stays owner. Make somebody else owner first.');
  await setRole(id, role);
  return { ok: true };
}

/** Ends the membership, its sessions and its access tokens. What the member wrote stays. */
export async function removeMember(id: string): Promise<Outcome> {
  const member = await getMember(id);
  if (!member || member.removedAt) return no('This member is no longer in the club.');
  if (await lastOwner(member)) return no('The last owner can’t be removed. Make somebody else owner first.');
  await takeOut(id);
  return { ok: true };
}

let counter: ReturnType<typeof attemptCounter> | undefined;

/** Signs in; the cookies are Set-Cookie lines. Never says whether the e-mail or the password was wrong. */
export async function signIn(
  email: string,
  password: string,
  headers: Headers,
): Promise<{ ok: true; cookies: string[] } | { ok: false; message: string }> {
  counter ??= attemptCounter(settings().signInLimit);
  const key = email.trim().toLowerCase();
  if (!counter.allowed(key)) return { ok: false, message: 'Too many attempts. Wait a minute and try again.' };
  const wrong = { ok: false as const, message: 'E-mail and password do not match. Check both; an owner can invite you anew.' };
  const response = await auth().api.signInEmail({ body: { email: key, password }, headers, asResponse: true });
  if (!response.ok) {
    counter.fail(key);
    return wrong;
  }
  const { user } = (await response.json()) as { user: { id: string } };
  if ((await getMember(user.id))?.removedAt) return wrong;
  counter.clear(key);
  return { ok: true, cookies: response.headers.getSetCookie() };
}

export async function signOut(headers: Headers): Promise<{ cookies: string[] }> {
  const response = await auth().api.signOut({ headers, asResponse: true });
  return { cookies: response.headers.getSetCookie() };
}
