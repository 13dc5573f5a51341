/** Links by which a customer reads the write-up of one page. */
import { and, desc, eq, isNull, sql } from 'drizzle-orm';
import { database } from './database';
import { page, reportLink } from './schema';

export interface ReportRow {
  id: string;
  page: string;
  createdBy: string | null; // member id
  createdAt: string;
}
const columns = {
  id: reportLink.id,
  page: reportLink.page,
  createdBy: reportLink.createdBy,
  createdAt: reportLink.createdAt,
};
type Row = Omit<ReportRow, 'createdAt'> & { createdAt: Date };
const plain = (row: Row): ReportRow => ({ ...row, createdAt: row.createdAt.toISOString() });
const valid = isNull(reportLink.revokedAt);

export async function createReport(given: { id: string; page: string; hash: string; createdBy: string | null }): Promise<ReportRow> {
  const [row] = await database().insert(reportLink).values(given).returning(columns);
  if (!row) throw new Error('the link was not kept');
  return plain(row);
}

/** Links of a page that still work, newest first. */
export async function listReports(of: string): Promise<ReportRow[]> {
  const rows = await database()
    .select(columns)
    .from(reportLink)
    .where(and(eq(reportLink.page, of), valid))
    .orderBy(desc(reportLink.createdAt), reportLink.id);
  return rows.map(plain);
}

/** Ends a link. False when there was none to end. */
export async function revokeReport(id: string): Promise<boolean> {
  const revoked = await database()
    .update(reportLink)
    .set({ revokedAt: sql`now()` })
    .where(and(eq(reportLink.id, id), valid))
    .returning({ id: reportLink.id });
  return revoked.length > 0;
}

/** The link of that hash; null when there is none, it was ended or its page was removed. */
export async function reportByHash(hash: string): Promise<ReportRow | null> {
  const [row] = await database()
    .select(columns)
    .from(reportLink)
    .innerJoin(page, eq(page.id, reportLink.page))
    .where(and(eq(reportLink.hash, hash), valid, isNull(page.removedAt)));
  return row ? plain(row) : null;
}
