/** What the database has of a page, read afresh, and whether its log is whole. */
import pg from 'pg';
import * as Y from 'yjs';
import { applyLoaded } from '@/lib/live/loaded';
import { databaseOn } from '@/lib/store/database';
import { pageLog } from '@/lib/store/log';
import type { LogPage } from '@/lib/store/types';

export interface FromLog {
  doc: Y.Doc;
  /** Number of the newest entry. */
  number: number;
  faults: string[];
}

/** Opens pages from the log over connections of its own, once the database answers. */
export async function readPages(connection: pg.PoolConfig, pages: readonly string[]): Promise<Map<string, FromLog>> {
  const pool = new pg.Pool({ ...connection, max: 2 });
  pool.on('error', () => {});
  try {
    const log = pageLog(databaseOn(pool));
    const read = new Map<string, FromLog>();
    for (const page of pages) {
      const loaded = await log.load(page);
      const { doc, faults } = opened(loaded);
      read.set(page, { doc, number: loaded.number, faults: [...faults, ...(await gapsOf(pool, page))] });
    }
    return read;
  } finally {
    await pool.end();
  }
}

function opened(loaded: LogPage): { doc: Y.Doc; faults: string[] } {
  const doc = new Y.Doc();
  try {
    applyLoaded(doc, loaded);
  } catch (error) {
    return { doc, faults: [`the document does not open: ${error}`] };
  }
  const pending = doc.store.pendingStructs || doc.store.pendingDs;
  return { doc, faults: pending ? ['the document waits for something that the log does not have'] : [] };
}

/** `gaps` in one moment of the database: servers that outlived it may be writing what they still had. */
async function gapsOf(pool: pg.Pool, page: string): Promise<string[]> {
  const client = await pool.connect();
  try {
    await client.query('begin isolation level repeatable read read only');
    const faults = await gaps(client, page);
    await client.query('commit');
    return faults;
  } finally {
    client.release();
  }
}

/** Entries are numbered 1, 2, 3 … to the page's head, in stretches where they are folded and one by one behind. */
async function gaps(client: pg.PoolClient, page: string): Promise<string[]> {
  const { rows: heads } = await client.query<{ head: string; base: string | null }>(
    'select p.head, b.number as base from page p left join page_base b on b.page = p.id where p.id = $1',
    [page],
  );
  const { rows: entries } = await client.query<{ first: string; last: string }>(
    `select first, number as last from page_stretch where page = $1
     union all select number, number from page_update where page = $1 order by 2`,
    [page],
  );
  const faults: string[] = [];
  let next = 1;
  for (const { first, last } of entries) {
    if (Number(first) !== next) faults.push(`the log goes on at ${first} where ${next} was to come`);
    next = Number(last) + 1;
  }
  const head = Number(heads[0]?.head);
  if (next !== head + 1) faults.push(`the page says its newest entry is ${head}, the log ends at ${next - 1}`);
  const folded = Number(heads[0]?.base ?? 0);
  const { rows: stretches } = await client.query<{ last: string | null }>('select max(number) as last from page_stretch where page = $1', [
    page,
  ]);
  if (Number(stretches[0]?.last ?? 0) !== folded) faults.push(`folded up to ${folded}, but the stretches end at ${stretches[0]?.last}`);
  return faults;
}

/** Makes pages without content, and members who are not there yet: the log names nobody who is no member. */
export async function makePages(connection: pg.PoolConfig, pages: readonly string[], members: readonly string[]) {
  const pool = new pg.Pool({ ...connection, max: 1 });
  try {
    await pool.query('insert into page (id, day) select unnest($1::text[]), current_date', [pages]);
    await pool.query(
      `insert into "user" (id, name, email, role) select m, m, m || '@club.example', 'editor' from unnest($1::text[]) m on conflict do nothing`,
      [members],
    );
  } finally {
    await pool.end();
  }
}
