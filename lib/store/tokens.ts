/** Access tokens of members, for scripts. Found by their hash. */
import { and, desc, eq, isNull, sql } from 'drizzle-orm';
import { newId } from '@/lib/notebook/ids';
import { database } from './database';
import { accessToken, user } from './schema';

export interface TokenRow {
  id: string;
  name: string;
  member: string; // member id
  createdAt: string;
}
const columns = { id: accessToken.id, name: accessToken.name, member: accessToken.member, createdAt: accessToken.createdAt };
type Row = Omit<TokenRow, 'createdAt'> & { createdAt: Date };
const plain = (row: Row): TokenRow => ({ ...row, createdAt: row.createdAt.toISOString() });
const valid = isNull(accessToken.revokedAt);

export async function createToken(given: { hash: string; name: string; member: string }): Promise<TokenRow> {
  const [row] = await database()
    .insert(accessToken)
    .values({ id: newId(), ...given })
    .returning(columns);
  if (!row) throw new Error('the token was not kept');
  return plain(row);
}

/** A member's tokens that still work, newest first. */
export async function listTokens(member: string): Promise<TokenRow[]> {
  const rows = await database()
    .select(columns)
    .from(accessToken)
    .where(and(eq(accessToken.member, member), valid))
    .orderBy(desc(accessToken.createdAt), accessToken.id);
  return rows.map(plain);
}

/** Ends a token of that member. False when they have no such token. */
export async function revokeToken(id: string, member: string): Promise<boolean> {
  const revoked = await database()
    .update(accessToken)
    .set({ revokedAt: sql`now()` })
    .where(and(eq(accessToken.id, id), eq(accessToken.member, member), valid))
    .returning({ id: accessToken.id });
  return revoked.length > 0;
}

/** The token of that hash; null when there is none, it was ended or its member was removed. */
export async function tokenByHash(hash: string): Promise<TokenRow | null> {
  const [row] = await database()
    .select(columns)
    .from(accessToken)
    .innerJoin(user, eq(user.id, accessToken.member))
    .where(and(eq(accessToken.hash, hash), valid, isNull(user.removedAt)));
  return row ? plain(row) : null;
}
