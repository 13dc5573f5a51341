/** The club's record of proven fixes, counted by fault class. */
import { sql } from 'drizzle-orm';
import { faultClasses } from '@/lib/core/diagnosis/classes';
import type { FixCounts } from '@/lib/core/diagnosis/switch/priors';
import { database } from './database';

const recurrenceDays = 90; // the same fault again within these: the first fix was none
const fewest = 5; // fixes of one board design; with fewer those of all designs speak

/**
 * Proven fixes on the board design of the page's machine, or on all where it has fewer than five, by fault class; without those of the page
 * itself. A fix counts when it is mended, has a proof and a cause, and the same class has not come back on a circuit of its own on that
 * machine within 90 days. Empty when the page belongs to no machine.
 */
export async function fixCounts(page: string): Promise<FixCounts> {
  const { rows } = await database().execute<{ cause: string; own: number; every: number }>(
    sql`with here as (select m.design from page p join machine m on m.id = p.machine where p.id = ${page}),
        fix as materialized (
          select i.page, p.created_at, c.machine, c.design, f.cause, f.outcome, f.proved, f.circuits,
                 coalesce(nullif(f."on", '')::date, p.day) as day
          from page_index i
          join page p on p.id = i.page and p.removed_at is null
          join page_chart c on c.page = i.page and c.machine is not null
          cross join lateral jsonb_to_recordset(i.record -> 'fixes')
            as f(cause text, outcome text, proved boolean, circuits text[], "on" text)
          where i.page <> ${page} and jsonb_typeof(i.record -> 'fixes') = 'array' and f.cause not in ('', 'not-found')
        )
        select a.cause, (count(*) filter (where a.design = here.design))::int as own, count(*)::int as every
        from fix a cross join here
        where a.outcome = 'mended' and a.proved and not exists (
          select from fix b
          where b.machine = a.machine and b.cause = a.cause and b.outcome <> 'not-found'
            and (b.day, b.created_at) > (a.day, a.created_at) and b.day <= a.day + ${recurrenceDays}::int
            and (b.circuits && a.circuits or (b.circuits = '{}' and a.circuits = '{}'))
        )
        group by a.cause`,
  );
  const known = rows.filter(({ cause }) => faultClasses.some(({ id }) => id === cause));
  const own = known.reduce((sum, row) => sum + row.own, 0);
  const counts = known.map((row): [string, number] => [row.cause, own < fewest ? row.every : row.own]);
  return Object.fromEntries(counts.filter(([, count]) => count > 0)) as FixCounts;
}
