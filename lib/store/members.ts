/** Members. A removed one keeps the row, so that pages still say who wrote them. */
import { and, asc, eq, isNull } from 'drizzle-orm';
import type { Role } from '@/lib/access/can';
import { database } from './database';
import { accessToken, session, user } from './schema';
import type { Member } from './types';

const columns = { id: user.id, name: user.name, email: user.email, role: user.role, removedAt: user.removedAt };
type Row = Omit<Member, 'removedAt'> & { removedAt: Date | null };
const plain = (row: Row): Member => ({ ...row, removedAt: row.removedAt?.toISOString() ?? null });
const present = (id: string) => and(eq(user.id, id), isNull(user.removedAt));

/** Members by name, without those who were removed. */
export async function listMembers(): Promise<Member[]> {
  return (await database().select(columns).from(user).where(isNull(user.removedAt)).orderBy(asc(user.name), asc(user.id))).map(plain);
}

/** A member, also one who was removed: `removedAt` says so. */
export async function getMember(id: string): Promise<Member | null> {
  const [row] = await database().select(columns).from(user).where(eq(user.id, id));
  return row ? plain(row) : null;
}

/** Sets the role. False when there is no such member. */
export async function setRole(id: string, role: Role): Promise<boolean> {
  return (await database().update(user).set({ role, updatedAt: new Date() }).where(present(id)).returning({ id: user.id })).length > 0;
}

/** Removes a member, their sessions and their access tokens. False when there is no such member. */
export async function removeMember(id: string): Promise<boolean> {
  return database().transaction(async (tx) => {
    const now = new Date();
    const removed = await tx.update(user).set({ removedAt: now, updatedAt: now }).where(present(id)).returning({ id: user.id });
    await tx.delete(session).where(eq(session.userId, id));
    await tx
      .update(accessToken)
      .set({ revokedAt: now })
      .where(and(eq(accessToken.member, id), isNull(accessToken.revokedAt)));
    return removed.length > 0;
  });
}

/** How many accounts there ever were, removed ones included: none means that nobody has set the notebook up yet. */
export async function countMembers(): Promise<number> {
  return database().$count(user);
}

/** How many owners there are now. */
export async function countOwners(): Promise<number> {
  return database().$count(user, and(eq(user.role, 'owner'), isNull(user.removedAt)));
}
