/** Pictures by what holds them, and what holds a picture: also what shows it no longer, whose history does. */
import { sql } from 'drizzle-orm';
import { database } from './database';
import type { PictureRow } from './pictures';

export type Holder = { page: string } | { machine: string } | { design: string };
export interface HeldPicture extends Pick<PictureRow, 'hash' | 'width' | 'height' | 'removedAt'> {
  at: string; // ISO time when it came to its holder
  by: string; // empty: nobody who is known here
}
const titleOf = sql`concat_ws(', ', m.chart ->> 'name', m.chart ->> 'unit')`;

/** The pictures of a page or a chart, the newest first. */
export async function picturesHeldBy(holder: Holder): Promise<HeldPicture[]> {
  const held =
    'page' in holder
      ? sql`page_picture h where h.page = ${holder.page}`
      : 'machine' in holder
        ? sql`machine_picture h where h.machine = ${holder.machine}`
        : sql`design_picture h where h.design = ${holder.design}`;
  const { rows } = await database().execute<Omit<HeldPicture, 'removedAt' | 'by'> & { removed: string | null; by: string | null }>(
    sql`select p.hash, p.width, p.height, p.removed_at::text as removed, to_char(h.at at time zone 'utc', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as at, u.name as by
        from (select * from ${held}) h join picture p on p.hash = h.picture left join "user" u on u.id = h.member order by h.at desc, p.hash`,
  );
  return rows.map(({ removed, by, ...row }) => ({ ...row, by: by ?? '', removedAt: removed === null ? null : new Date(removed) }));
}

export interface PictureHolders {
  pages: { id: string; title: string }[];
  removedPages: number; // pages that were removed and hold it still
  machines: { id: string; title: string }[];
  designs: { id: string }[];
  sentCopies: number; // write-ups that were sent with it
  letterhead: boolean; // it is or was the logo
}

export async function holdersOf(hash: string): Promise<PictureHolders> {
  const all = async <T extends Record<string, unknown>>(query: ReturnType<typeof sql>) => (await database().execute<T>(query)).rows;
  const [pages, gone, machines, designs, copies, letterhead] = await Promise.all([
    all<{ id: string; title: string }>(
      sql`select p.id, coalesce(i.title, 'Untitled') as title from page_picture h join page p on p.id = h.page
          left join page_index i on i.page = p.id where h.picture = ${hash} and p.removed_at is null order by title, p.id`,
    ),
    all<{ count: number }>(
      sql`select count(*)::int as count from page_picture h join page p on p.id = h.page where h.picture = ${hash} and p.removed_at is not null`,
    ),
    all<{ id: string; title: string }>(
      sql`select m.id, ${titleOf} as title from machine_picture h join machine m on m.id = h.machine where h.picture = ${hash} order by title, m.id`,
    ),
    all<{ id: string }>(sql`select design as id from design_picture where picture = ${hash} order by design`),
    all<{ count: number }>(sql`select count(*)::int as count from write_up_copy where position(${hash}::text in copy::text) > 0`),
    all(sql`select 1 from letterhead_picture where picture = ${hash}`),
  ]);
  return {
    pages,
    removedPages: gone[0]?.count ?? 0,
    machines,
    designs,
    sentCopies: copies[0]?.count ?? 0,
    letterhead: letterhead.length > 0,
  };
}

/** Hashes of a page's pictures that were removed for good. */
export async function removedOn(page: string): Promise<string[]> {
  const { rows } = await database().execute<{ hash: string }>(
    sql`select p.hash from page_picture h join picture p on p.hash = h.picture where h.page = ${page} and p.removed_at is not null`,
  );
  return rows.map(({ hash }) => hash);
}

/** Those of some hashes that were removed for good. */
export async function removedAmong(hashes: readonly string[]): Promise<Set<string>> {
  if (hashes.length === 0) return new Set();
  const { rows } = await database().execute<{ hash: string }>(
    sql`select hash from picture where removed_at is not null and hash in ${[...hashes]}`,
  );
  return new Set(rows.map(({ hash }) => hash));
}
