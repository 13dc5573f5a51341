/** Invites: found by the hash of their token, good for one use. */
import { and, asc, eq, gt, isNull, sql } from 'drizzle-orm';
import type { Role } from '@/lib/access/can';
import { newId } from '@/lib/notebook/ids';
import { database } from './database';
import { invite } from './schema';

export interface InviteRow {
  id: string;
  role: Role;
  createdBy: string | null; // member id
  createdAt: string;
  expiresAt: string;
}
const columns = { id: invite.id, role: invite.role, createdBy: invite.createdBy, createdAt: invite.createdAt, expiresAt: invite.expiresAt };
type Row = Omit<InviteRow, 'createdAt' | 'expiresAt'> & { createdAt: Date; expiresAt: Date };
const plain = (row: Row): InviteRow => ({ ...row, createdAt: row.createdAt.toISOString(), expiresAt: row.expiresAt.toISOString() });

const open = and(isNull(invite.usedAt), isNull(invite.revokedAt), gt(invite.expiresAt, sql`now()`));

export async function createInvite(given: { hash: string; role: Role; createdBy: string | null; expiresAt: Date }): Promise<InviteRow> {
  const [row] = await database()
    .insert(invite)
    .values({ id: newId(), ...given })
    .returning(columns);
  if (!row) throw new Error('the invite was not kept');
  return plain(row);
}

/** The invite while it can still be used, without using it. */
export async function inviteByHash(hash: string): Promise<InviteRow | null> {
  const [row] = await database()
    .select(columns)
    .from(invite)
    .where(and(eq(invite.hash, hash), open));
  return row ? plain(row) : null;
}

/** Invites that can still be used, the one that runs out first in front. */
export async function listInvites(): Promise<InviteRow[]> {
  return (await database().select(columns).from(invite).where(open).orderBy(asc(invite.expiresAt), invite.id)).map(plain);
}

/** Takes an invite back. False when there was none to take back. */
export async function revokeInvite(id: string): Promise<boolean> {
  const revoked = await database()
    .update(invite)
    .set({ revokedAt: sql`now()` })
    .where(and(eq(invite.id, id), open))
    .returning({ id: invite.id });
  return revoked.length > 0;
}
