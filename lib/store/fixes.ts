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
        fix as (
          select row_number() over () as id, p.created_at, c.machine, c.design, f.cause, f.outcome, f.proved, f.circuits,
                 coalesce(nullif(f."on", '')::date, p.day) as day
          from page_index i
          join page p on p.id = i.page and p.removed_at is null
          join page_chart c on c.page = i.page and c.machine is not null
          cross join lateral jsonb_to_recordset(i.record -> 'fixes')
            as f(cause text, outcome text, proved boolean, circuits text[], "on" text)
          where i.page <> ${page} and jsonb_typeof(i.record -> 'fixes') = 'array'
            and f.cause not in ('', 'not-found') and f.outcome <> 'not-found'
        ),
        -- One row for each circuit; of two on one day the one written down later comes after, and one that is mended after one that is not.
        next as (
          select fix.*, lead(day) over (
            partition by machine, cause, circuit order by day, created_at, outcome = 'mended', id
          ) as again
          from fix cross join lateral unnest(case when circuits = '{}' then array[''] else circuits end) as circuit
        ),
        proven as (
          select id, cause, design from next
          where outcome = 'mended' and proved
          group by id, cause, design
          having coalesce(bool_and(again > day + ${recurrenceDays}::int), true)
        )
        select cause, (count(*) filter (where proven.design = here.design))::int as own, count(*)::int as every
        from proven cross join here
        group by cause`,
  );
  const known = rows.filter(({ cause }) => faultClasses.some(({ id }) => id === cause));
  const own = known.reduce((sum, row) => sum + row.own, 0);
  const counts = known.map((row): [string, number] => [row.cause, own < fewest ? row.every : row.own]);
  return Object.fromEntries(counts.filter(([, count]) => count > 0)) as FixCounts;
}
