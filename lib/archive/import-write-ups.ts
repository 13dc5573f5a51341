/** Write-ups that are brought in: the wording takes the place of what is here, what was sent is only ever added. */
import { eq, sql } from 'drizzle-orm';
import { newId } from '@/lib/notebook/ids';
import { copyShape, isSame } from '@/lib/notebook/writeup/copy';
import type { Database } from '@/lib/store/database';
import { writeUp, writeUpCopy, writeUpLine } from '@/lib/store/schema';
import type { WriteUpFile } from './format';

type Transaction = Parameters<Parameters<Database['transaction']>[0]>[0];

/** `page`: its id here. `who`: the member here by the archive's id. A copy whose number another has gets the next free one. */
export async function putWriteUp(
  tx: Transaction,
  page: string,
  { priced, lines, copies }: WriteUpFile,
  who: (id: string | null) => string | null,
): Promise<void> {
  await tx.insert(writeUp).values({ page, priced }).onConflictDoUpdate({ target: writeUp.page, set: { priced } });
  await tx.delete(writeUpLine).where(eq(writeUpLine.page, page));
  for (const { by, at, ...line } of lines) await tx.insert(writeUpLine).values({ page, ...line, member: who(by), at: new Date(at) });
  await tx.execute(sql`select 1 from page where id = ${page} for update`); // of two who number at once, one is the next
  const here = await tx.select().from(writeUpCopy).where(eq(writeUpCopy.page, page));
  const taken = new Set(here.map(({ number }) => number));
  for (const { by, at, number, copy } of copies) {
    if (here.some((each) => each.at.toISOString() === at && isSame(copyShape.parse(each.copy), copy))) continue;
    const own = taken.has(number) ? Math.max(...taken) + 1 : number;
    taken.add(own);
    await tx.insert(writeUpCopy).values({ id: newId(), page, number: own, copy, member: who(by), at: new Date(at) });
  }
}
