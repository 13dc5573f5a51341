/** What was worded over a page's write-up, whether it shows prices, and the numbered copies that were sent. */
import { and, eq, sql } from 'drizzle-orm';
import { type Copy, copyShape } from '@/lib/notebook/writeup/copy';
import type { Wording, Wordings } from '@/lib/notebook/writeup/wording';
import { database } from './database';
import { reportLink, user, writeUp, writeUpCopy, writeUpLine } from './schema';

export async function wordingsOf(page: string): Promise<Wordings> {
  const rows = await database()
    .select({ line: writeUpLine, name: user.name })
    .from(writeUpLine)
    .leftJoin(user, eq(user.id, writeUpLine.member))
    .where(eq(writeUpLine.page, page))
    .orderBy(writeUpLine.at, writeUpLine.key);
  return Object.fromEntries(rows.map(({ line, name }) => [line.key, plain(line, name)]));
}

const plain = ({ words, price, over, at }: typeof writeUpLine.$inferSelect, name: string | null): Wording => ({
  words,
  price,
  over,
  by: name ?? 'Somebody',
  at: at.toISOString(),
});

export interface LineToWord {
  page: string;
  key: string;
  words: string | null;
  price: number | null;
  over: string;
  member: string;
  /** When the wording that the writer saw was written; empty: there was none. */
  seen: string;
}

/** Keeps the wording of a line, unless somebody else wrote it since the writer looked: then theirs comes back and nothing is kept. */
export const putWording = ({ seen, ...given }: LineToWord): Promise<{ ok: true } | { ok: false; now: Wording | null }> =>
  database().transaction(async (tx) => {
    const mine = and(eq(writeUpLine.page, given.page), eq(writeUpLine.key, given.key));
    const [row] = await tx.select().from(writeUpLine).where(mine).for('update');
    if ((row?.at.toISOString() ?? '') !== seen) {
      const [who] = row?.member ? await tx.select({ name: user.name }).from(user).where(eq(user.id, row.member)) : [];
      return { ok: false, now: row ? plain(row, who?.name ?? null) : null };
    }
    const kept = row
      ? await tx
          .update(writeUpLine)
          .set({ ...given, at: sql`now()` })
          .where(mine)
          .returning({ key: writeUpLine.key })
      : await tx.insert(writeUpLine).values(given).onConflictDoNothing().returning({ key: writeUpLine.key });
    return kept.length > 0 ? { ok: true } : { ok: false, now: null };
  });

/** Takes wording away, when it is still the one that was seen. False when it is not. */
export async function dropWording(page: string, key: string, seen: string): Promise<boolean> {
  const same = sql`date_trunc('milliseconds', ${writeUpLine.at}) = ${seen}::timestamptz`;
  const gone = await database()
    .delete(writeUpLine)
    .where(and(eq(writeUpLine.page, page), eq(writeUpLine.key, key), same))
    .returning({ key: writeUpLine.key });
  return gone.length > 0;
}

export async function isPriced(page: string): Promise<boolean> {
  const [row] = await database().select({ priced: writeUp.priced }).from(writeUp).where(eq(writeUp.page, page));
  return row?.priced ?? false;
}
export async function setPriced(page: string, priced: boolean): Promise<void> {
  await database().insert(writeUp).values({ page, priced }).onConflictDoUpdate({ target: writeUp.page, set: { priced } });
}

export interface LinkToKeep {
  id: string;
  hash: string;
  expiresAt: Date;
  pass: string | null; // hashed
}

/** Freezes a copy under the page's next number, with the link that shows it. */
export const sendCopy = (page: string, id: string, copy: Copy, member: string, link: LinkToKeep): Promise<number> =>
  database().transaction(async (tx) => {
    await tx.execute(sql`select 1 from page where id = ${page} for update`); // of two who send at once, one is the next
    const { rows } = await tx.execute<{ next: number }>(
      sql`select coalesce(max(number), 0)::int + 1 as next from write_up_copy where page = ${page}`,
    );
    const number = rows[0]?.next ?? 1;
    await tx.insert(writeUpCopy).values({ id, page, number, copy, member });
    await tx.insert(reportLink).values({ ...link, page, copy: id, createdBy: member });
    return number;
  });

export interface SentCopy {
  id: string;
  page: string;
  number: number;
  copy: Copy;
  by: string;
  at: string;
}

/** The copies of a page that were sent, newest first. */
export async function copiesOf(page: string): Promise<SentCopy[]> {
  return (await copies(eq(writeUpCopy.page, page))).sort((a, b) => b.number - a.number);
}
export async function getCopy(id: string): Promise<SentCopy | null> {
  return (await copies(eq(writeUpCopy.id, id)))[0] ?? null;
}
async function copies(which: ReturnType<typeof eq>): Promise<SentCopy[]> {
  const rows = await database()
    .select({ row: writeUpCopy, name: user.name })
    .from(writeUpCopy)
    .leftJoin(user, eq(user.id, writeUpCopy.member))
    .where(which);
  return rows.map(({ row: { id, page, number, copy, at }, name }) => ({
    id,
    page,
    number,
    copy: copyShape.parse(copy),
    by: name ?? 'Somebody',
    at: at.toISOString(),
  }));
}
