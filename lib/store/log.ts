/** The log in the database. */
import { and, eq, isNull, sql } from 'drizzle-orm';
import type { Database } from './database';
import { page, pageUpdate } from './schema';
import type { UpdateLog } from './types';

export function pageLog(db: Database): UpdateLog {
  return {
    async load(id) {
      const [known] = await db
        .select({ id: page.id })
        .from(page)
        .where(and(eq(page.id, id), isNull(page.removedAt)));
      if (!known) throw new Error(`there is no page ${id}`);
      const rows = await db.select({ bytes: pageUpdate.bytes }).from(pageUpdate).where(eq(pageUpdate.page, id)).orderBy(pageUpdate.seq);
      return rows.map((row) => row.bytes);
    },
    async append(entries) {
      if (entries.length === 0) return;
      const pages = sql.param(entries.map((e) => e.page));
      const members = sql.param(entries.map((e) => e.member));
      const bytes = sql.param(entries.map((e) => Buffer.from(e.update)));
      // Three arrays, whatever the number of entries: a statement takes 65,535 parameters at most.
      await db.execute(sql`
        insert into page_update (page, member, bytes)
        select page, member, bytes
        from unnest(${pages}::text[], ${members}::text[], ${bytes}::bytea[]) with ordinality as entry (page, member, bytes, place)
        order by place`);
    },
  };
}
