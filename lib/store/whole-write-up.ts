/** All that is kept of a page's write-up, for archives: its wording and what was sent of it, without the links. */
import { asc, eq } from 'drizzle-orm';
import { type Copy, copyShape } from '@/lib/notebook/writeup/copy';
import { database } from './database';
import { writeUp, writeUpCopy, writeUpLine } from './schema';

export interface WholeWriteUp {
  priced: boolean;
  lines: { key: string; words: string | null; price: number | null; over: string; by: string | null; at: string }[]; // by: id of a member
  copies: { number: number; copy: Copy; by: string | null; at: string }[];
}

/** Null when nothing was ever worded, priced or sent. */
export async function wholeWriteUp(page: string): Promise<WholeWriteUp | null> {
  const [[own], lines, copies] = await Promise.all([
    database().select().from(writeUp).where(eq(writeUp.page, page)),
    database().select().from(writeUpLine).where(eq(writeUpLine.page, page)),
    database().select().from(writeUpCopy).where(eq(writeUpCopy.page, page)).orderBy(asc(writeUpCopy.number)),
  ]);
  if (!own && lines.length === 0 && copies.length === 0) return null;
  return {
    priced: own?.priced ?? false,
    lines: lines
      .toSorted((a, b) => (a.key < b.key ? -1 : 1)) // alike on every database
      .map(({ key, words, price, over, member, at }) => ({ key, words, price, over, by: member, at: at.toISOString() })),
    copies: copies.map(({ number, copy, member, at }) => ({ number, copy: copyShape.parse(copy), by: member, at: at.toISOString() })),
  };
}
