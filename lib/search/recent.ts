/** Pages for lists: the bench, a machine's pages, and the marks on its matrix. */
import { sql } from 'drizzle-orm';
import type { Progress } from '@/lib/notebook/types';
import { database } from '@/lib/store/database';
import type { IndexRecord } from './record';

export interface ListedPage {
  id: string;
  title: string;
  state: 'open' | 'mended';
  machine: string;
  on: string;
  by: string;
  line: string; // cause and place once known, else what was seen
  wires: string[];
  progress: Progress[];
}

/** Newest work first. `machine: null` lists the notes that belong to no machine. */
export async function recentPages({
  machine,
  state,
  limit,
}: {
  machine?: string | null;
  state?: 'open' | 'mended';
  limit: number;
}): Promise<ListedPage[]> {
  const { rows } = await database().execute<{
    id: string;
    title: string;
    state: 'open' | 'mended';
    record: IndexRecord;
    day: string;
    machine: string | null;
    member: string | null;
  }>(
    sql`select p.id, i.title, i.state, i.record, p.day::text as day, concat_ws(', ', m.chart ->> 'name', m.chart ->> 'unit') as machine, u.name as member
        from page p join page_index i on i.page = p.id left join machine m on m.id = p.machine left join "user" u on u.id = p.created_by
        where p.removed_at is null
          and ${machine === undefined ? sql`true` : machine === null ? sql`p.machine is null` : sql`p.machine = ${machine}`}
          and (${state ?? null}::text is null or (i.state = ${state ?? null} and p.machine is not null))
        order by p.day desc, p.created_at desc limit ${limit}`,
  );
  return rows.map(({ record, ...row }) => ({
    id: row.id,
    title: row.title,
    state: row.state,
    machine: row.machine ?? '',
    on: record.on || row.day,
    by: record.by || (row.member ?? ''),
    line: record.cause ? [record.cause, record.place].filter(Boolean).join(' at ') : record.excerpt,
    wires: record.wires,
    progress: record.progress,
  }));
}

/** Which switches of a machine have open pages, and how many past fixes each has. */
export async function pageMarks(machine: string): Promise<{ open: string[]; past: Record<string, number> }> {
  const { rows } = await database().execute<{ value: string; state: 'open' | 'mended'; count: number }>(
    sql`select f.value, i.state, count(*)::int as count from page_fact f
        join page_index i on i.page = f.page join page p on p.id = f.page and p.removed_at is null and p.machine = ${machine}
        where f.kind = 'circuit' group by f.value, i.state`,
  );
  return {
    open: rows.filter((r) => r.state === 'open').map((r) => r.value),
    past: Object.fromEntries(rows.filter((r) => r.state === 'mended').map((r) => [r.value, r.count])),
  };
}
