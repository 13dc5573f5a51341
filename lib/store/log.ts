/** The log in the database. */
import { sql } from 'drizzle-orm';
import { channel, pagesInOne } from './bus-wire';
import type { Database } from './database';
import { unpack } from './packing';
import type { UpdateLog } from './types';

const notNullViolation = '23502';

/** The log. `node` is this server among several (see bus.ts): each append then tells the others, at the very moment of its commit. */
export function pageLog(db: Database, node: string | null = null): UpdateLog {
  return {
    async load(id, after = 0) {
      // One statement, so that folding between two hides nothing, and an opening waits for the database once.
      const { rows } = await db.execute<{ what: 'base' | 'entry' | 'head'; number: string; bytes: Buffer }>(sql`
        with known as (
          select p.head, coalesce(b.number, 0) as base from page p left join page_base b on b.page = p.id
          where p.id = ${id} and p.removed_at is null
        )
        select 'base' as what, b.number, b.bytes from page_base b, known where b.page = ${id} and known.base > ${after}
        union all
        select 'entry', u.number, u.bytes from page_update u, known where u.page = ${id} and u.number > greatest(${after}, known.base)
        union all
        select 'head', head, null from known
        order by what, number`);
      const head = rows.at(-1);
      if (head?.what !== 'head') throw new Error(`there is no page ${id}`);
      const base = rows.find((row) => row.what === 'base');
      const tail = rows.filter((row) => row.what === 'entry').map((row) => row.bytes);
      return { base: base ? unpack(base.bytes) : null, tail, number: Number(head.number) };
    },
    async append(entries) {
      if (entries.length === 0) return [];
      const values = [entries.map((e) => e.page), entries.map((e) => e.member), entries.map((e) => Buffer.from(e.update))];
      const statement = node === null ? appending : appendingAndTelling;
      const { rows } = await db.$client
        .query<{ number: string }>({ ...statement, values: node === null ? values : [...values, node] })
        .catch((error: { code?: string }) => {
          if (error.code !== notNullViolation) throw error;
          throw new Error(`there is no page ${entries.map((e) => e.page).join(', or no page ')}`, { cause: error });
        });
      return rows.map((row) => Number(row.number));
    },
  };
}

/**
 * Three arrays, whatever the number of entries: a statement takes 65,535 parameters at most. The lock on each page's row puts appends of
 * several servers in one order; a page that is not there gives no number, which the table refuses. Named, so that a connection plans it
 * once: it runs hundreds of times a second beside those who write.
 */
const append = `
  with entry as (
    select * from unnest($1::text[], $2::text[], $3::bytea[]) with ordinality as e (page, member, bytes, place)
  ), known as (
    select id, head from page where id in (select page from entry) and removed_at is null order by id for no key update
  ), numbered as (
    select e.*, k.head + row_number() over (partition by e.page order by e.place) as number
    from entry e left join known k on k.id = e.page
  ), added as (
    insert into page_update (page, number, member, bytes) select page, number, member, bytes from numbered
  ), moved as (
    update page p set head = n.head, changed_at = now()
    from (select page, max(number) as head from numbered group by page) n where p.id = n.page
  )`;
const appending = { name: 'append', text: `${append} select number from numbered order by place` };
/** Notifies too; the pages go in several payloads, because one may not be long. */
const appendingAndTelling = {
  name: 'append-and-tell',
  text: `${append}, heads as (
    select page, max(number) as number, (row_number() over (order by page) - 1) / ${pagesInOne} as part from numbered group by page
  ), told as (
    select count(pg_notify('${channel}', payload::text)) from (
      select json_build_object('node', $4::text, 'message', json_build_object(
        'kind', 'log', 'pages', json_agg(json_build_array(page, number)))) as payload
      from heads group by part
    ) p
  )
  select number from numbered cross join told order by place`,
};
