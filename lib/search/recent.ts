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

/** A page that names a circuit. `proved`: of a mended one, every fix recorded there for it passed its proof. */
export interface CircuitPage {
  id: string;
  title: string;
  state: 'open' | 'mended';
  proved: boolean;
  cause: string;
}

/** The pages of a machine by the number of each switch or load they name, the newest first. */
export async function circuitPages(machine: string): Promise<Map<string, CircuitPage[]>> {
  const { rows } = await database().execute<{
    value: string;
    id: string;
    title: string;
    state: 'open' | 'mended';
    cause: string | null;
    fixes: IndexRecord['fixes'] | null;
  }>(
    sql`select f.value, p.id, i.title, i.state, i.record ->> 'cause' as cause, i.record -> 'fixes' as fixes from page_fact f
        join page_index i on i.page = f.page join page p on p.id = f.page and p.removed_at is null and p.machine = ${machine}
        where f.kind = 'circuit' order by p.day desc, p.id`,
  );
  const pages = new Map<string, CircuitPage[]>();
  for (const { value, fixes, cause, ...page } of rows) {
    const here = (fixes ?? []).filter((fix) => fix.circuits.length === 0 || fix.circuits.includes(value));
    const proved = here.length > 0 && here.every((fix) => fix.proved);
    pages.set(value, [...(pages.get(value) ?? []), { ...page, proved, cause: cause ?? '' }]);
  }
  return pages;
}

/** How many open pages and past fixes each circuit has, and how many of those fixes passed no proof. */
export function marksOfPages(pages: ReadonlyMap<string, readonly CircuitPage[]>) {
  const count = (is: (page: CircuitPage) => boolean) =>
    Object.fromEntries([...pages].flatMap(([number, list]) => (list.some(is) ? [[number, list.filter(is).length]] : [])));
  return {
    open: count((p) => p.state === 'open'),
    past: count((p) => p.state === 'mended'),
    unproved: count((p) => p.state === 'mended' && !p.proved),
  };
}
