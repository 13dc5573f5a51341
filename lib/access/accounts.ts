/** Accounts: the first owner, invites, roles, signing in and out. */
import { clientHeader } from '@/lib/http/client-address';
import { type AccountToKeep, addFirstOwner, addInvited, addMember, endMembership, giveRole, type Left } from '@/lib/store/accounts';
import { forgetAttempts, giveBackAttempt, takeAttempt } from '@/lib/store/attempts';
import { createInvite, type InviteRow, inviteByHash } from '@/lib/store/invites';
import { countMembers } from '@/lib/store/members';
import { settings } from '@/lib/store/settings';
import type { Member } from '@/lib/store/types';
import { auth } from './auth';
import type { Role } from './can';
import { type NewAccount, readAccount } from './new-account';
import { derivedToken, hashOf, newToken } from './secret-tokens';

export type { NewAccount } from './new-account';
export type Outcome = { ok: true } | { ok: false; message: string };
const inviteDays = 7;
const no = (message: string): Outcome => ({ ok: false, message });
const emailTaken = 'E-mail: there is an account with this one already. Sign in with it, or use another.';

async function toKeep({ password, ...rest }: NewAccount): Promise<AccountToKeep> {
  return { ...rest, passwordHash: await (await auth().$context).password.hash(password) };
}

/** True until the first account has been made. */
export const isFirstRun = async () => (await countMembers()) === 0;

/** Makes an account and returns its id. For scripts: throws when something about it is wrong. */
export async function createMember({ role, ...given }: NewAccount & { role: Role }): Promise<string> {
  const read = readAccount(given);
  if (!read.ok) throw new Error(`${given.email}: ${read.message}`);
  const id = await addMember(await toKeep(read.account), role);
  if (!id) throw new Error(`${given.email}: ${emailTaken}`);
  return id;
}

/** The first account, and only the first, is made without an invite. */
export async function createFirstOwner(given: NewAccount): Promise<Outcome> {
  const late = no('This notebook has an owner already. Sign in, or ask the owner for an invite.');
  if (!(await isFirstRun())) return late;
  const read = readAccount(given);
  if (!read.ok) return read;
  return (await addFirstOwner(await toKeep(read.account))) ? { ok: true } : late;
}

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

/** Makes the account that an invite allows. Without a good invite nothing is said about anybody's e-mail. */
export async function acceptInvite(token: string, given: NewAccount): Promise<Outcome> {
  const useless = no('This invite has been used, has run out, or was taken back. Ask the owner for a new one.');
  if (!(await lookAtInvite(token))) return useless;
  const read = readAccount(given);
  if (!read.ok) return read;
  const outcome = await addInvited(hashOf(token), await toKeep(read.account));
  if (outcome === 'no-invite') return useless;
  return outcome === 'taken' ? no(emailTaken) : { ok: true };
}

const outcomeOf = (left: Left, lastOwner: string): Outcome => {
  if (left === 'absent') return no('This member is no longer in the club. Load the page again.');
  return left === 'last-owner' ? no(lastOwner) : { ok: true };
};

export const changeRole = async (id: string, role: Role): Promise<Outcome> =>
  outcomeOf(await giveRole(id, role), 'Role: the last owner stays owner. Make somebody else owner first.');

/** Ends the membership, its sessions, access tokens and open invites. What the member wrote stays. */
export const removeMember = async (id: string): Promise<Outcome> =>
  outcomeOf(await endMembership(id), 'The last owner can’t be removed. Make somebody else owner first.');

const membersAtOneAddress = 4; // a whole club may sit behind one
const tooMany = 'Too many attempts. Wait a minute and try again.';

/**
 * Signs in; the cookies are Set-Cookie lines. Never says whether the e-mail or the password was wrong. Rejects when the database does not
 * answer: an attempt that was not counted is not looked at.
 */
export async function signIn(
  email: string,
  password: string,
  headers: Headers,
): Promise<{ ok: true; cookies: string[] } | { ok: false; message: string }> {
  const typed = email.trim().toLowerCase();
  const { secret, signInLimit } = settings();
  const keyOf = (what: string) => derivedToken(secret, `attempt:${what}`); // of one length, and nobody's address or e-mail
  const address = headers.get(clientHeader);
  const counted = [{ key: keyOf(`account ${typed}`), limit: signInLimit }];
  if (address !== null) counted.unshift({ key: keyOf(`address ${address}`), limit: signInLimit * membersAtOneAddress });
  await forgetAttempts();
  for (const { key, limit } of counted) if (!(await takeAttempt(key, limit))) return { ok: false, message: tooMany };
  const response = await auth().api.signInEmail({ body: { email: typed, password }, headers, asResponse: true });
  if (response.status >= 500) throw new Error(`signing in failed with ${response.status}`);
  if (!response.ok)
    return { ok: false, message: 'E-mail and password do not match. Check both; who has lost a password asks an owner for a new invite.' };
  await Promise.all(counted.map(({ key }) => giveBackAttempt(key))).catch((error: unknown) => {
    console.error('A right attempt stays counted for its minute:', error); // who is in stays in
  });
  return { ok: true, cookies: response.headers.getSetCookie() };
}

/** Ends the session; the cookies are Set-Cookie lines that clear the browser's. */
export async function signOut(headers: Headers): Promise<{ cookies: string[] }> {
  const response = await auth().api.signOut({ headers, asResponse: true });
  return { cookies: response.headers.getSetCookie() };
}
