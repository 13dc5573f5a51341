/** The jobs of a club with their state: what is on the bench, and what left it. */
import { sql } from 'drizzle-orm';
import { type JobState, jobState } from '@/lib/notebook/job-state';
import { database } from '@/lib/store/database';
import { getCatalogue, stock } from '@/lib/store/parts';
import { reservedForEach } from '@/lib/store/stock';
import type { ListedPage } from './recent';
import type { IndexRecord } from './record';

export interface BenchJob extends ListedPage {
  assignee: string | null;
  job: { state: JobState; why: string };
}

/** On the bench: open, or mended without a proof. Off it: mended and proved. */
const unproved = sql`(i.state = 'open' or i.record #>> '{job,proved}' = 'false')`;
const where = { on: unproved, off: sql`not ${unproved}` };

/** Newest first, at most `limit`; of one member only with `assigned`. Pages are not read: the index keeps what their state follows from. */
export async function benchJobs(bench: keyof typeof where, { assigned, limit }: { assigned?: string; limit: number }): Promise<BenchJob[]> {
  const { rows } = await database().execute<{
    id: string;
    title: string;
    state: 'open' | 'mended';
    record: IndexRecord;
    day: string;
    machine: string;
    member: string | null;
    assignee: string | null;
    aside: string | null;
    sent: boolean;
  }>(
    sql`select p.id, i.title, i.state, i.record, p.day::text as day, concat_ws(', ', m.chart ->> 'name', m.chart ->> 'unit') as machine,
               u.name as member, a.name as assignee, j.aside,
               exists (select from write_up_copy w where w.page = p.id and (w.copy ->> 'proved')::boolean is not false)
                 or exists (select from report_link r where r.page = p.id and r.copy is null and r.revoked_at is null) as sent
        from page_index i join page p on p.id = i.page join machine m on m.id = p.machine
          left join job j on j.page = p.id left join "user" u on u.id = p.created_by left join "user" a on a.id = j.assigned
        where p.removed_at is null and i.record ? 'job' and ${where[bench]}
          and (${assigned ?? null}::text is null or j.assigned = ${assigned ?? null})
        order by (i.state = 'open') desc, p.day desc, p.created_at desc limit ${limit}`,
  );
  const [{ catalogue }, onHand, reserved] = await Promise.all([getCatalogue(), stock(), reservedForEach(rows.map((r) => r.id))]);
  const none = { here: {}, elsewhere: {}, used: {} };
  return rows.map(({ id, title, state, record, day, machine, member, assignee, aside, sent }) => ({
    id,
    title,
    state,
    machine,
    on: record.on || day,
    by: record.by || (member ?? ''),
    line: record.cause ? [record.cause, record.place].filter(Boolean).join(' at ') : record.excerpt,
    wires: record.wires,
    progress: record.progress,
    assignee,
    job: jobState(record.job, { catalogue, stock: onHand, reserved: reserved.get(id) ?? none, aside, writtenUp: sent }),
  }));
}
