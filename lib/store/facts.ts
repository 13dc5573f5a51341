/** What is known about each page, derived from its log and chart; rebuilt at will, never edited. */
import { and, eq, isNull, sql } from 'drizzle-orm';
import type { Fact } from '@/lib/widgets/definition';
import { database } from './database';
import { page, pageChart, pageFact, pageIndex, thisTransaction } from './schema';

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
  const words = {
    title,
    body,
    state,
    record,
    indexedAt: readAt === undefined ? sql`now()` : sql`${readAt}::timestamptz`,
    written: thisTransaction,
  };
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

/** A page's index as it is kept. */
export interface IndexRow extends IndexEntry {
  page: string;
  day: string; // of the page, ISO
  removed: boolean;
  written: string; // the transaction
}

/** The oldest transaction that may still write, and how many pages there are; what is written from here on is at or after it. */
export async function indexHead(): Promise<{ from: string; pages: number }> {
  const { rows } = await database().execute<{ from: string; pages: number }>(
    sql`select pg_snapshot_xmin(pg_current_snapshot())::text as from, (select count(*)::int from page_index) as pages`,
  );
  return rows[0]!;
}

const factsOf = sql`coalesce((select json_agg(json_build_object('kind', f.kind, 'value', f.value, 'label', f.label) order by f.kind, f.value) from page_fact f where f.page = i.page), '[]') as facts`;
const indexRow = sql`i.page, i.title, i.body, i.state, i.record, c.machine, c.design, p.day::text as day, p.removed_at is not null as removed, i.written::text as written, ${factsOf}
  from page_index i join page p on p.id = i.page left join page_chart c on c.page = i.page`;
type Row = IndexRow & Record<string, unknown>;

/** Pages by id, after one, a number of them at the most. */
export async function indexAfter(page: string, limit: number): Promise<IndexRow[]> {
  const { rows } = await database().execute<Row>(sql`select ${indexRow} where i.page > ${page} order by i.page limit ${limit}`);
  return rows;
}

/** Pages whose index was written, or that were removed, by that transaction or a later one, and where to go on. */
export async function indexSince(from: string): Promise<{ rows: IndexRow[]; from: string }> {
  const { rows } = await database().execute<Partial<Row> & { next: string }>(
    sql`select n.next, r.* from (select pg_snapshot_xmin(pg_current_snapshot())::text as next) n
        left join lateral (select ${indexRow} where i.written >= ${from}::xid8) r on true`,
  );
  return { from: rows[0]!.next, rows: rows.filter((row) => row.page != null) as unknown as IndexRow[] };
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
