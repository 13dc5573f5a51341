/** Links by which a customer reads one page's write-up. The token follows from the server's secret, so it can be shown again but isn't stored. */
import { newId } from '@/lib/notebook/ids';
import type { Copy } from '@/lib/notebook/writeup/copy';
import { forgetMisses, giveTries, listReports, type ReportRow, reportByHash, takeTry } from '@/lib/store/reports';
import { settings } from '@/lib/store/settings';
import type { Member } from '@/lib/store/types';
import { sendCopy } from '@/lib/store/write-ups';
import { hashPhrase, isPhrase } from './pass-phrase';
import { derivedToken, hashOf, sameText } from './secret-tokens';

export { noteOpened, revokeReport as revokeReportLink } from '@/lib/store/reports';

export type ReportLink = ReportRow & { token: string };
const tokenOf = (id: string) => derivedToken(settings().secret, id);
const keyOf = ({ id, pass }: ReportRow) => derivedToken(settings().secret, `opened:${id}:${pass}`);

/** Wrong pass phrases until the link is locked. */
export const mostMisses = 10;
const dayMs = 24 * 60 * 60 * 1000;

/** Freezes the copy and makes the link that shows it, for so many days. */
export async function sendReport(
  page: string,
  copy: Copy,
  { days, phrase }: { days: number; phrase: string | null },
  member: Member,
): Promise<{ number: number; link: string; token: string }> {
  const id = newId();
  const token = tokenOf(id);
  const number = await sendCopy(page, newId(), copy, member.id, {
    id,
    hash: hashOf(token),
    expiresAt: new Date(Date.now() + days * dayMs),
    pass: phrase === null ? null : await hashPhrase(phrase),
  });
  return { number, link: id, token };
}

/** A link as whoever has it meets it: `none` when it was guessed, taken back or is over; `locked` until its pass phrase is given. */
export type Opened = { state: 'none' } | { state: 'locked' | 'open'; link: ReportRow };

/** `key`: what `unlockReport` gave to this reader. */
export async function openReport(token: string, key: string | null): Promise<Opened> {
  const link = await reportByHash(hashOf(token));
  if (!link) return { state: 'none' };
  const open = link.pass === null || (key !== null && sameText(key, keyOf(link)));
  return { state: open ? 'open' : 'locked', link };
}

export type Unlocked = { ok: true; key: string } | { ok: false; why: 'none' | 'wrong' | 'spent' };

/** Tries a pass phrase. After so many wrong ones in a row the link opens for nobody until a member unlocks it. */
export async function unlockReport(token: string, phrase: string): Promise<Unlocked> {
  const link = await reportByHash(hashOf(token));
  if (link?.pass == null) return { ok: false, why: 'none' };
  if (!(await takeTry(link.id, mostMisses))) return { ok: false, why: 'spent' };
  if (!(await isPhrase(phrase, link.pass))) return { ok: false, why: 'wrong' };
  await forgetMisses(link.id);
  return { ok: true, key: keyOf(link) };
}

/** Unlocks a link that is locked after wrong pass phrases: so many more may be tried. False when it is not locked, or works no more. */
export const unlockReportLink = (page: string, id: string): Promise<boolean> => giveTries(page, id, mostMisses);

export const listReportLinks = async (page: string): Promise<ReportLink[]> =>
  (await listReports(page)).map((r) => ({ ...r, token: tokenOf(r.id) }));

/** Why a locked link is locked. */
export const lockedBecause = `${mostMisses} wrong pass phrases were tried in a row.`;

export type Standing = 'works' | 'over' | 'taken back' | 'locked';
export function standingOf({ revokedAt, expiresAt, misses }: ReportRow, now: Date): Standing {
  if (revokedAt !== null) return 'taken back';
  if (expiresAt !== null && new Date(expiresAt) <= now) return 'over';
  return misses >= mostMisses ? 'locked' : 'works';
}
