/** Links by which a customer reads one page's write-up. The token follows from the server's secret, so it can be shown again but isn't stored. */
import { newId } from '@/lib/notebook/ids';
import { createReport, listReports, type ReportRow, reportByHash, revokeReport } from '@/lib/store/reports';
import { settings } from '@/lib/store/settings';
import type { Member } from '@/lib/store/types';
import { derivedToken, hashOf } from './secret-tokens';

export type ReportLink = ReportRow & { token: string };
const tokenOf = (id: string) => derivedToken(settings().secret, id);

export async function makeReportLink(page: string, member: Member): Promise<ReportLink> {
  const id = newId();
  const token = tokenOf(id);
  return { ...(await createReport({ id, page, hash: hashOf(token), createdBy: member.id })), token };
}
/** The page that a link opens; null when it was guessed or taken back. */
export const reportPage = async (token: string): Promise<string | null> => (await reportByHash(hashOf(token)))?.page ?? null;
export const listReportLinks = async (page: string): Promise<ReportLink[]> =>
  (await listReports(page)).map((r) => ({ ...r, token: tokenOf(r.id) }));
export const revokeReportLink = (id: string): Promise<boolean> => revokeReport(id);
