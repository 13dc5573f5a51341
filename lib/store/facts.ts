/** What is known about each page, derived from its log and chart; rebuilt at will, never edited. */
import { and, eq, isNull, sql } from 'drizzle-orm';
import type { Fact } from '@/lib/widgets/definition';
import { database } from './database';
import { page, pageChart, pageFact, pageIndex } from './schema';

export interface IndexEntry {
  title: string;
  body: string;
  state: 'open' | 'mended';
  record: unknown; // what lists show, as plain JSON
  facts: Fact[];
  machine: string | null; // the chart that the page was computed from
  design: string | null;
}

/** The database's time, for `writeIndex`. */
export async function databaseTime(): Promise<string> {
  const { rows } = await database().execute<{ now: string }>(sql`select clock_timestamp()::text as now`);
  if (!rows[0]) throw new Error('the database did not say its time');
  return rows[0].now;
}

/**
 * Replaces everything that is known about a page, all or nothing. `readAt` is the database's time just before the page was read (absent:
 * now); what another server has written meanwhile from a later reading stays.
 */
export async function writeIndex(
  id: string,
  { title, body, state, record, facts, machine, design }: IndexEntry,
  readAt?: string,
): Promise<void> {
  const words = { title, body, state, record, indexedAt: readAt === undefined ? sql`now()` : sql`${readAt}::timestamptz` };
  const chart = { machine, design };
  await database().transaction(async (tx) => {
    // The row of the index comes first: its lock lets two writers of one page follow each other.
    const written = await tx
      .insert(pageIndex)
      .values({ page: id, ...words })
      .onConflictDoUpdate({ target: pageIndex.page, set: words, setWhere: sql`${pageIndex.indexedAt} <= excluded.indexed_at` })
      .returning({ page: pageIndex.page });
    if (written.length === 0) return;
    await tx
      .insert(pageChart)
      .values({ page: id, ...chart })
      .onConflictDoUpdate({ target: pageChart.page, set: chart });
    await tx.delete(pageFact).where(eq(pageFact.page, id));
    const rows = facts.map(({ kind, value, label }) => ({ page: id, kind, value, label }));
    if (rows.length > 0) await tx.insert(pageFact).values(rows).onConflictDoNothing();
  });
}

/** Ids of the pages that were computed from a machine's chart. */
export async function pagesOfChart(machine: string): Promise<string[]> {
  return pagesFrom(eq(pageChart.machine, machine));
}

/** Ids of the pages that were computed from a board design. */
export async function pagesOfDesign(design: string): Promise<string[]> {
  return pagesFrom(eq(pageChart.design, design));
}

async function pagesFrom(chart: ReturnType<typeof eq>): Promise<string[]> {
  const rows = await database()
    .select({ page: pageChart.page })
    .from(pageChart)
    .innerJoin(page, eq(page.id, pageChart.page))
    .where(and(chart, isNull(page.removedAt)))
    .orderBy(pageChart.page);
  return rows.map((row) => row.page);
}
