/** Who belongs to the club, changed one at a time: each change is kept whole or not at all, and of two at once the second sees the first. */
import { and, eq, gt, isNull, sql } from 'drizzle-orm';
import type { Role } from '@/lib/access/can';
import { newId } from '@/lib/notebook/ids';
import { type Database, database } from './database';
import { accessToken, account, invite, session, user } from './schema';

export interface AccountToKeep {
  name: string;
  email: string; // lower case
  passwordHash: string;
}
export type Left = 'done' | 'absent' | 'last-owner';

type Transaction = Parameters<Parameters<Database['transaction']>[0]>[0];
/** Members can be read and sessions begun meanwhile; nobody else changes members. */
const alone = <T>(work: (tx: Transaction) => Promise<T>): Promise<T> =>
  database().transaction(async (tx) => {
    await tx.execute(sql`lock table ${user} in share row exclusive mode`);
    return work(tx);
  });

/** The new member's id; null when the e-mail is taken, and then nothing has changed. */
async function insert(tx: Transaction, { name, email, passwordHash }: AccountToKeep, role: Role): Promise<string | null> {
  const [made] = await tx
    .insert(user)
    .values({ id: newId(), name, email, role })
    .onConflictDoNothing({ target: user.email })
    .returning({ id: user.id });
  if (!made) return null;
  // As the account library keeps a password of its own.
  await tx.insert(account).values({ id: newId(), userId: made.id, accountId: made.id, providerId: 'credential', password: passwordHash });
  return made.id;
}

/** The new member's id; null when the e-mail is taken. */
export const addMember = (given: AccountToKeep, role: Role): Promise<string | null> => alone((tx) => insert(tx, given, role));

/** The first account of all, as owner. Null when there has been one already. */
export const addFirstOwner = (given: AccountToKeep): Promise<string | null> =>
  alone(async (tx) => ((await tx.$count(user)) === 0 ? insert(tx, given, 'owner') : null));

/** Uses an invite up for a new member. When the e-mail is taken the invite stays good. */
export const addInvited = (hash: string, given: AccountToKeep): Promise<'joined' | 'no-invite' | 'taken'> =>
  alone(async (tx) => {
    const good = and(eq(invite.hash, hash), isNull(invite.usedAt), isNull(invite.revokedAt), gt(invite.expiresAt, sql`now()`));
    const [found] = await tx.select({ id: invite.id, role: invite.role }).from(invite).where(good).for('update');
    if (!found) return 'no-invite';
    if (!(await insert(tx, given, found.role))) return 'taken';
    await tx.update(invite).set({ usedAt: new Date() }).where(eq(invite.id, found.id));
    return 'joined';
  });

/** What the member is now; 'last' when nobody else owns the club. */
async function standing(tx: Transaction, id: string): Promise<'absent' | 'last' | 'other'> {
  const owners = and(eq(user.role, 'owner'), isNull(user.removedAt));
  const [found] = await tx
    .select({ role: user.role })
    .from(user)
    .where(and(eq(user.id, id), isNull(user.removedAt)));
  if (!found) return 'absent';
  return found.role === 'owner' && (await tx.$count(user, owners)) <= 1 ? 'last' : 'other';
}

/** Who may no longer invite leaves no open invites behind, least of all one for themselves. */
const endInvitesOf = (tx: Transaction, id: string) =>
  tx
    .update(invite)
    .set({ revokedAt: new Date() })
    .where(and(eq(invite.createdBy, id), isNull(invite.usedAt), isNull(invite.revokedAt)));

/** Gives a member another role. */
export const giveRole = (id: string, role: Role): Promise<Left> =>
  alone(async (tx) => {
    const now = await standing(tx, id);
    if (now === 'absent') return 'absent';
    if (role !== 'owner') {
      if (now === 'last') return 'last-owner';
      await endInvitesOf(tx, id);
    }
    await tx.update(user).set({ role, updatedAt: new Date() }).where(eq(user.id, id));
    return 'done';
  });

/**
 * Ends a membership with its password, sessions, access tokens and open invites. The row stays, so that pages still say who wrote them;
 * the e-mail is let go, so that the same person can be invited again.
 */
export const endMembership = (id: string): Promise<Left> =>
  alone(async (tx) => {
    const standingNow = await standing(tx, id);
    if (standingNow === 'absent') return 'absent';
    if (standingNow === 'last') return 'last-owner';
    const now = new Date();
    await tx
      .update(user)
      .set({ removedAt: now, updatedAt: now, email: `removed:${id}` })
      .where(eq(user.id, id));
    await tx.delete(account).where(eq(account.userId, id));
    await tx.delete(session).where(eq(session.userId, id));
    await tx
      .update(accessToken)
      .set({ revokedAt: now })
      .where(and(eq(accessToken.member, id), isNull(accessToken.revokedAt)));
    await endInvitesOf(tx, id);
    return 'done';
  });
