/** Members. A removed one keeps the row, so that pages still say who wrote them. */
import { asc, eq, isNull } from 'drizzle-orm';
import { database } from './database';
import { user } from './schema';
import type { Member } from './types';

const columns = { id: user.id, name: user.name, email: user.email, role: user.role, removedAt: user.removedAt };
type Row = Omit<Member, 'removedAt'> & { removedAt: Date | null };
const plain = (row: Row): Member => ({ ...row, removedAt: row.removedAt?.toISOString() ?? null });

/** Members by name, without those who were removed. */
export async function listMembers(): Promise<Member[]> {
  return (await database().select(columns).from(user).where(isNull(user.removedAt)).orderBy(asc(user.name), asc(user.id))).map(plain);
}

/** A member, also one who was removed: `removedAt` says so. */
export async function getMember(id: string): Promise<Member | null> {
  const [row] = await database().select(columns).from(user).where(eq(user.id, id));
  return row ? plain(row) : null;
}

/** How many accounts there ever were, removed ones included: none means that nobody has set the notebook up yet. */
export async function countMembers(): Promise<number> {
  return database().$count(user);
}
