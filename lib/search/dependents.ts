/** After a chart was saved: every page that used it is computed again beside the work. How far that is, the database tells. */
import { sql } from 'drizzle-orm';
import type { ChartKind } from '@/lib/store/charts';
import { database } from '@/lib/store/database';
import { pagesOfChart, pagesOfDesign } from '@/lib/store/facts';
import { indexNow } from './indexer';

const waiting = new Set<string>();
let busy = false;

/**
 * Queues the pages of a chart and returns how many they are. One page is computed at a time; what a crash leaves undone, the indexer
 * catches up with.
 */
export async function recomputeLater(kind: ChartKind, id: string): Promise<number> {
  const pages = await (kind === 'machine' ? pagesOfChart(id) : pagesOfDesign(id));
  for (const page of pages) waiting.add(page);
  void work();
  return pages.length;
}

async function work() {
  if (busy) return;
  busy = true;
  for (const page of waiting) {
    waiting.delete(page); // before it is read: a change from here on queues it again
    await new Promise(setImmediate);
    await indexNow(page).catch((error) => console.error(`Page ${page} could not be indexed; the indexer tries it again.`, error));
  }
  busy = false;
}

export interface Progress {
  pages: number; // of the machines of this chart
  left: number; // not yet computed from its last state
}

/** The same on every server: a page is behind when it was last computed before its chart changed. */
export async function progressOf(kind: ChartKind, id: string): Promise<Progress> {
  const { rows } = await database().execute<{ pages: number; left: number }>(
    sql`select count(*)::int as pages,
          (count(*) filter (where i.indexed_at is null or i.indexed_at < greatest(m.changed_at, d.changed_at)))::int as left
        from page p join machine m on m.id = p.machine join board_design d on d.id = m.design left join page_index i on i.page = p.id
        where p.removed_at is null and ${kind === 'machine' ? sql`m.id = ${id}` : sql`d.id = ${id}`}`,
  );
  return rows[0] ?? { pages: 0, left: 0 };
}
