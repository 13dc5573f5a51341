/**
 * Folds the tail of one page's log: into its base, and into stretches of its past. What is folded is deleted from the tail in the same
 * transaction, so that a crash leaves the old or the new and nothing between.
 */
import { and, asc, desc, eq, gte, isNull, lte, sql } from 'drizzle-orm';
import type { Database } from './database';
import type { Folded, FoldWork } from './fold-work';
import { page, pageBase, pageStretch, pageUpdate, pageVersion } from './schema';
import { groupEntries, type StretchMark } from './stretches';

/** Most of a tail that one step takes, so that neither memory nor time grows with it. A longer tail takes several. */
export const mostEntries = 10_000;
export const mostBytes = 8 * 1024 * 1024;

export interface Tail {
  entries: number;
  bytes: number;
  baseBytes: number; // as stored
}

/** How much of a page is not folded; null when there is no such page. */
export async function tailOf(db: Database, id: string): Promise<Tail | null> {
  const { rows } = await db.execute<{ entries: number; bytes: number; base: number }>(sql`
    select count(u.number)::int as entries, coalesce(sum(octet_length(u.bytes)), 0)::float8 as bytes,
           coalesce((select octet_length(b.bytes) from page_base b where b.page = p.id), 0) as base
    from page p left join page_update u on u.page = p.id
    where p.id = ${id} and p.removed_at is null group by p.id`);
  const row = rows[0];
  return row ? { entries: row.entries, bytes: row.bytes, baseBytes: row.base } : null;
}

interface Step {
  from: number; // number of the base that it starts from; 0: none
  to: number;
  last: number | null; // number of the newest stretch so far
  extends: boolean;
  stretches: StretchMark[];
  work: FoldWork;
}

/** Reads what the next step folds; null when there is nothing. */
function readStep(db: Database, id: string): Promise<Step | null> {
  return db.transaction(
    async (tx): Promise<Step | null> => {
      const [there] = await tx
        .select({ id: page.id })
        .from(page)
        .where(and(eq(page.id, id), isNull(page.removedAt)));
      if (!there) return null;
      const [base] = await tx.select({ number: pageBase.number, bytes: pageBase.bytes }).from(pageBase).where(eq(pageBase.page, id));
      const [last] = await tx.select().from(pageStretch).where(eq(pageStretch.page, id)).orderBy(desc(pageStretch.number)).limit(1);
      const from = base?.number ?? 0;
      // Only lengths are read to find where the step ends; it takes one entry at least.
      const end = sql`(select max(number) from (
        select number, sum(octet_length(bytes)) over (order by number) - octet_length(bytes) as before
        from page_update where page = ${id} and number <= ${from + mostEntries}) e where before < ${mostBytes})`;
      const rows = await tx
        .select({ number: pageUpdate.number, member: pageUpdate.member, at: pageUpdate.at, bytes: pageUpdate.bytes })
        .from(pageUpdate)
        .where(and(eq(pageUpdate.page, id), lte(pageUpdate.number, end)))
        .orderBy(asc(pageUpdate.number));
      const to = rows.at(-1)?.number;
      if (to === undefined) return null;
      if (rows[0]?.number !== from + 1 || rows.length !== to - from) throw new Error(`the log of page ${id} has a gap`);
      const named = await namedFrom(tx, id, from, to);
      const mark = last ? { ...last, began: last.began.getTime(), at: last.at.getTime() } : null;
      const stretches = groupEntries(
        mark,
        rows.map((row) => ({ ...row, at: row.at.getTime() })),
        named,
      );
      const extending = mark !== null && stretches[0]?.first === mark.first;
      let next = 0;
      const groups = stretches.map(({ number }) => {
        const begin = next;
        while (next < rows.length && rows[next]!.number <= number) next++;
        return rows.slice(begin, next).map((row) => row.bytes);
      });
      const work = { base: base?.bytes ?? null, extended: extending && last ? last.bytes : null, groups };
      return { from, to, last: last?.number ?? null, extends: extending, stretches, work };
    },
    { isolationLevel: 'repeatable read', accessMode: 'read only' },
  );
}

type Transaction = Parameters<Parameters<Database['transaction']>[0]>[0];

/** Numbers with a name, from the end of what is folded on. */
async function namedFrom(tx: Transaction, id: string, from: number, to: number): Promise<Set<number>> {
  const rows = await tx
    .select({ number: pageVersion.number })
    .from(pageVersion)
    .where(and(eq(pageVersion.page, id), gte(pageVersion.number, from), lte(pageVersion.number, to)));
  return new Set(rows.map((row) => row.number));
}

/** Keeps the outcome unless the page was folded, removed or given a name in the wrong place meanwhile; false then, and nothing has changed. */
function writeStep(db: Database, id: string, step: Step, folded: Folded): Promise<boolean> {
  const { from, to } = step;
  return db.transaction(async (tx) => {
    // Appends and other folds of this page wait from here on; everything slow lies behind us.
    const [there] = await tx
      .select({ id: page.id })
      .from(page)
      .where(and(eq(page.id, id), isNull(page.removedAt)))
      .for('no key update');
    if (!there) return false;
    const [base] = await tx.select({ number: pageBase.number }).from(pageBase).where(eq(pageBase.page, id));
    if ((base?.number ?? 0) !== from) return false;
    const points = new Set([...(step.extends ? [] : [from]), ...step.stretches.map((s) => s.number)]);
    for (const number of await namedFrom(tx, id, from, to)) if (number > 0 && !points.has(number)) return false;

    const kept = { number: to, bytes: folded.base };
    await tx
      .insert(pageBase)
      .values({ page: id, ...kept })
      .onConflictDoUpdate({ target: pageBase.page, set: kept });
    if (step.extends && step.last !== null)
      await tx.delete(pageStretch).where(and(eq(pageStretch.page, id), eq(pageStretch.number, step.last)));
    await tx.insert(pageStretch).values(
      step.stretches.map((stretch, at) => ({
        page: id,
        ...stretch,
        began: new Date(stretch.began),
        at: new Date(stretch.at),
        bytes: folded.stretches[at]!,
      })),
    );
    const gone = await tx.delete(pageUpdate).where(and(eq(pageUpdate.page, id), lte(pageUpdate.number, to)));
    if (gone.rowCount !== to - from) throw new Error(`the log of page ${id} changed while it was folded`);
    return true;
  });
}

/**
 * Folds one step of a page's tail with `compute`. 'done': there may be more; 'nothing': there is no tail; 'lost': another was quicker,
 * or a point was named meanwhile. Rejects, with nothing changed, when the database or the computing fails.
 */
export async function foldStep(
  db: Database,
  id: string,
  compute: (work: FoldWork) => Folded | Promise<Folded>,
): Promise<'done' | 'nothing' | 'lost'> {
  const step = await readStep(db, id);
  if (!step) return 'nothing';
  const folded = await compute(step.work);
  return (await writeStep(db, id, step, folded)) ? 'done' : 'lost';
}
