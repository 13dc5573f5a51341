/** Pages: the rows that own a log. */
import { and, desc, eq, isNull, type SQL, sql } from 'drizzle-orm';
import { newId } from '@/lib/notebook/ids';
import { database } from './database';
import { page, pageIndex, pageUpdate, thisTransaction } from './schema';
import type { PageRow } from './types';

const columns = {
  id: page.id,
  machineId: page.machine,
  title: pageIndex.title,
  state: pageIndex.state,
  on: page.day,
  createdAt: page.createdAt,
  createdBy: page.createdBy,
  updatedAt: page.changedAt,
};

function select(where: SQL | undefined, limit?: number) {
  const query = database()
    .select(columns)
    .from(page)
    .leftJoin(pageIndex, eq(pageIndex.page, page.id))
    .where(and(isNull(page.removedAt), where))
    .orderBy(desc(page.changedAt), page.id);
  return limit === undefined ? query : query.limit(limit);
}

type Selected = Awaited<ReturnType<typeof select>>[number];
const plain = (row: Selected): PageRow => ({
  ...row,
  title: row.title ?? 'Untitled',
  state: row.state ?? 'open',
  createdAt: row.createdAt.toISOString(),
  updatedAt: row.updatedAt.toISOString(),
});

export interface NewPage {
  id?: string;
  machineId: string | null;
  member: string | null;
  on?: string; // day of the work, 2025-11-08; absent: today
  update: Uint8Array; // first content, as a Yjs update
}

/** Makes a page and the first entry of its log, both or neither. Throws when the machine or the member is unknown. */
export async function createPage({ id = newId(), machineId, member, on, update }: NewPage): Promise<PageRow> {
  await database().transaction(async (tx) => {
    await tx.insert(page).values({ id, machine: machineId, createdBy: member, day: on ?? sql`current_date`, head: 1 });
    await tx.insert(pageUpdate).values({ page: id, number: 1, member, bytes: update });
  });
  const made = await getPage(id);
  if (!made) throw new Error(`page ${id} was removed while it was made`);
  return made;
}

/** The page, or null when there is none or it was removed. */
export async function getPage(id: string): Promise<PageRow | null> {
  const [row] = await select(eq(page.id, id));
  return row ? plain(row) : null;
}

/** Pages, the one changed last first. */
export async function listPages({
  machineId,
  state,
  limit,
}: {
  machineId?: string;
  state?: PageRow['state'];
  limit?: number;
} = {}): Promise<PageRow[]> {
  const where = and(
    machineId === undefined ? undefined : eq(page.machine, machineId),
    state === undefined ? undefined : eq(sql`coalesce(${pageIndex.state}, 'open')`, state),
  );
  return (await select(where, limit)).map(plain);
}

/** How many pages each machine has, by state; a machine without pages is absent. */
export async function countPages(): Promise<Record<string, Record<PageRow['state'], number>>> {
  const counts: Record<string, Record<PageRow['state'], number>> = {};
  const state = sql<PageRow['state']>`coalesce(${pageIndex.state}, 'open')`;
  const rows = await database()
    .select({ machine: page.machine, state, count: sql<number>`count(*)::int` })
    .from(page)
    .leftJoin(pageIndex, eq(pageIndex.page, page.id))
    .where(isNull(page.removedAt))
    .groupBy(page.machine, state);
  for (const { machine, state, count } of rows) {
    if (machine === null) continue;
    counts[machine] ??= { open: 0, mended: 0 };
    counts[machine][state] = count;
  }
  return counts;
}

/** Takes a page out of every list; its log stays. False when there is no such page. */
export async function removePage(id: string, member: string | null): Promise<boolean> {
  const db = database();
  const removed = await db
    .update(page)
    .set({ removedAt: new Date(), removedBy: member })
    .where(and(eq(page.id, id), isNull(page.removedAt)))
    .returning({ id: page.id });
  await db.update(pageIndex).set({ written: thisTransaction }).where(eq(pageIndex.page, id)); // so that the search lets go of it
  return removed.length > 0;
}
