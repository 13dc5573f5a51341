/** Links by which a customer reads the write-up of one page: the copy that was sent, or of older links the page as it stands. */
import { and, desc, eq, gt, gte, isNull, lt, or, sql } from 'drizzle-orm';
import { database } from './database';
import { page, reportLink } from './schema';

export interface ReportRow {
  id: string;
  page: string;
  copy: string | null; // id; null: a link from before copies were kept
  createdBy: string | null; // member id
  createdAt: string;
  expiresAt: string | null;
  revokedAt: string | null;
  pass: string | null; // hashed pass phrase
  misses: number; // wrong pass phrases since the last right one
  opened: number;
  openedAt: string | null; // last
}
type Row = typeof reportLink.$inferSelect;
const iso = (moment: Date | null) => moment?.toISOString() ?? null;
const plain = ({ hash: _, ...row }: Row): ReportRow => ({
  ...row,
  createdAt: row.createdAt.toISOString(),
  expiresAt: iso(row.expiresAt),
  revokedAt: iso(row.revokedAt),
  openedAt: iso(row.openedAt),
});
const works = and(isNull(reportLink.revokedAt), or(isNull(reportLink.expiresAt), gt(reportLink.expiresAt, sql`now()`)));

/** All links of a page, newest first, also those that have ended. */
export async function listReports(of: string): Promise<ReportRow[]> {
  const rows = await database().select().from(reportLink).where(eq(reportLink.page, of)).orderBy(desc(reportLink.createdAt), reportLink.id);
  return rows.map(plain);
}

/** Ends a link of that page. False when there was none to end. */
export async function revokeReport(of: string, id: string): Promise<boolean> {
  const revoked = await database()
    .update(reportLink)
    .set({ revokedAt: sql`now()` })
    .where(and(eq(reportLink.id, id), eq(reportLink.page, of), isNull(reportLink.revokedAt)))
    .returning({ id: reportLink.id });
  return revoked.length > 0;
}

/** The link of that hash; null when there is none, it was ended, its time is over or its page was removed. */
export async function reportByHash(hash: string): Promise<ReportRow | null> {
  const [row] = await database()
    .select({ link: reportLink })
    .from(reportLink)
    .innerJoin(page, eq(page.id, reportLink.page))
    .where(and(eq(reportLink.hash, hash), works, isNull(page.removedAt)));
  return row ? plain(row.link) : null;
}

/** Takes one of so many tries, before the pass phrase is looked at: of many at once, only so many pass. False when none is left. */
export async function takeTry(id: string, most: number): Promise<boolean> {
  const taken = await database()
    .update(reportLink)
    .set({ misses: sql`${reportLink.misses} + 1` })
    .where(and(eq(reportLink.id, id), lt(reportLink.misses, most)))
    .returning({ id: reportLink.id });
  return taken.length > 0;
}
export async function forgetMisses(id: string): Promise<void> {
  await database().update(reportLink).set({ misses: 0 }).where(eq(reportLink.id, id));
}
/** Gives a link of that page its tries back, once so many are spent and while it works otherwise. False when there was nothing to give. */
export async function giveTries(of: string, id: string, most: number): Promise<boolean> {
  const given = await database()
    .update(reportLink)
    .set({ misses: 0 })
    .where(and(eq(reportLink.id, id), eq(reportLink.page, of), works, gte(reportLink.misses, most)))
    .returning({ id: reportLink.id });
  return given.length > 0;
}

/** The customer has it before them. */
export async function noteOpened(id: string): Promise<void> {
  await database()
    .update(reportLink)
    .set({ opened: sql`${reportLink.opened} + 1`, openedAt: sql`now()` })
    .where(eq(reportLink.id, id));
}
