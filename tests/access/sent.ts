/** Sending an invented write-up, and links as they were made before copies were kept. */
import { sendReport } from '@/lib/access/reports';
import { derivedToken, hashOf } from '@/lib/access/secret-tokens';
import { newId } from '@/lib/notebook/ids';
import type { Copy } from '@/lib/notebook/writeup/copy';
import { database } from '@/lib/store/database';
import { reportLink } from '@/lib/store/schema';
import { settings } from '@/lib/store/settings';
import type { Member } from '@/lib/store/types';

export const copyTitled = (title: string, more: Partial<Copy> = {}): Copy => ({
  format: 'fettlebook-write-up/1',
  head: { name: 'Ashgate Shed', address: [], logo: null },
  title,
  machine: '',
  on: '2026-11-21',
  currency: null,
  sections: [],
  ...more,
});

export const send = (page: string, member: Member, copy = copyTitled('Lamps out'), phrase: string | null = null, days = 90) =>
  sendReport(page, copy, { days, phrase }, member);

export async function olderLink(page: string): Promise<string> {
  const id = newId();
  const token = derivedToken(settings().secret, id);
  await database()
    .insert(reportLink)
    .values({ id, page, hash: hashOf(token) });
  return token;
}
