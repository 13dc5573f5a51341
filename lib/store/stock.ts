/** The stock ledger: entries are added, never changed; what is on hand and reserved is their sum. */
import { and, desc, eq, sql } from 'drizzle-orm';
import { type Balance, changeOf, type EntryKind, type Wish } from '@/lib/core/parts/ledger';
import type { Reserved, Stock, StockHolder } from '@/lib/core/parts/schema';
import { type Database, database } from './database';
import { stockMove, stockPart, user } from './schema';

type Tx = Parameters<Parameters<Database['transaction']>[0]>[0];

export interface Held {
  onHand: number;
  reserved: number;
  last: number; // number of the part's last entry: what a screen has seen
}

/** Reservations of removed pages do not count. */
const heldNow = sql<number>`coalesce(sum(m.held) filter (where p.removed_at is null), 0)::int`;

/** Every part that has an entry. */
export async function balances(): Promise<Record<string, Held>> {
  const { rows } = await database().execute<{ part: string; onHand: number; reserved: number; last: number }>(
    sql`select m.part, sum(m.quantity)::int as "onHand", ${heldNow} as reserved, max(m.id)::int as last
        from stock_move m left join page p on p.id = m.page group by m.part`,
  );
  return Object.fromEntries(rows.map(({ part, ...held }) => [part, held]));
}

/** What of the stock is spoken for, seen from a page, or from none. Parts with none are left out. */
export async function reservedFor(page: string | null): Promise<Reserved> {
  const [{ rows }, holders] = await Promise.all([spokenFor(page ?? ''), allHolders(page ?? '')]);
  const by = (pieces: (row: (typeof rows)[number]) => number): Stock =>
    Object.fromEntries(rows.filter((row) => pieces(row) > 0).map((row) => [row.part, pieces(row)]));
  return { here: by((r) => r.here), elsewhere: by((r) => r.elsewhere), holders, used: by((r) => r.used) };
}

const spokenFor = (page: string) =>
  database().execute<{ part: string; here: number; elsewhere: number; used: number }>(
    sql`select m.part, coalesce(sum(m.held) filter (where m.page = ${page}), 0)::int as here,
               coalesce(sum(m.held) filter (where m.page <> ${page} and p.removed_at is null), 0)::int as elsewhere,
               coalesce(-sum(m.quantity) filter (where m.page = ${page}), 0)::int as used
        from stock_move m join page p on p.id = m.page group by m.part`,
  );

/** The other pages that have something reserved, by part, most first. */
async function allHolders(page: string): Promise<Record<string, StockHolder[]>> {
  const { rows } = await database().execute<{ part: string; page: string; title: string; pieces: number }>(
    sql`select m.part, p.id as page, coalesce(i.title, 'Untitled') as title, sum(m.held)::int as pieces
        from stock_move m join page p on p.id = m.page and p.removed_at is null left join page_index i on i.page = p.id
        where p.id <> ${page} group by m.part, p.id, i.title having sum(m.held) > 0 order by pieces desc, p.id`,
  );
  const holders: Record<string, StockHolder[]> = {};
  for (const { part, ...holder } of rows) holders[part] = [...(holders[part] ?? []), holder];
  return holders;
}

/** What a part is reserved for: the pages, most first. */
export async function holdersOf(part: string): Promise<{ page: string; title: string; held: number }[]> {
  const { rows } = await database().execute<{ page: string; title: string; held: number }>(
    sql`select p.id as page, coalesce(i.title, 'Untitled') as title, sum(m.held)::int as held
        from stock_move m join page p on p.id = m.page and p.removed_at is null left join page_index i on i.page = p.id
        where m.part = ${part} group by p.id, i.title having sum(m.held) > 0 order by held desc, p.id`,
  );
  return rows;
}

export interface EntryDetails {
  part: string;
  page?: string | null;
  member: string | null;
  reason?: string;
  packs?: number;
  supplier?: string;
  price?: number; // minor units, for all of it
  /** Number of the part's last entry that the writer had seen. A count made on an older state is refused. */
  seen?: number;
  /** Made with the form: the same form sent twice is written once. */
  token?: string;
}
/** `news`: what was written since the writer looked. */
export type Written = { ok: true; before: Balance; after: Balance; news: string | null; again: boolean } | { ok: false; message: string };

async function lock(tx: Tx, part: string) {
  await tx.insert(stockPart).values({ part }).onConflictDoNothing();
  await tx.select().from(stockPart).where(eq(stockPart.part, part)).for('update');
}

async function balanceOf(tx: Tx, part: string, page: string | null): Promise<Balance & { last: number }> {
  const { rows } = await tx.execute<{ onHand: number; reserved: number; here: number; last: number }>(
    sql`select coalesce(sum(m.quantity), 0)::int as "onHand", ${heldNow} as reserved,
               coalesce(sum(m.held) filter (where m.page = ${page} and p.removed_at is null), 0)::int as here, coalesce(max(m.id), 0)::int as last
        from stock_move m left join page p on p.id = m.page where m.part = ${part}`,
  );
  const [row] = rows;
  if (!row) throw new Error('a sum without rows has one row');
  return row;
}

/** Who did what last: "Tomas took 5". Of the entries after `seen`; null when there are none. */
async function lastWords(tx: Tx, part: string, seen: number): Promise<string | null> {
  const [row] = await tx
    .select({ kind: stockMove.kind, quantity: stockMove.quantity, held: stockMove.held, name: user.name })
    .from(stockMove)
    .leftJoin(user, eq(user.id, stockMove.member))
    .where(and(eq(stockMove.part, part), sql`${stockMove.id} > ${seen}`))
    .orderBy(desc(stockMove.id))
    .limit(1);
  if (!row) return null;
  const who = row.name ?? 'Somebody';
  const pieces = Math.abs(row.quantity || row.held);
  const words: Record<EntryKind, string> = {
    received: `${who} put ${pieces} in`,
    counted: `${who} counted it`,
    used: `${who} took ${pieces}`,
    reserved: `${who} reserved ${pieces}`,
    released: `${who} released ${pieces}`,
    corrected: `${who} took an entry back`,
  };
  return words[row.kind];
}

/** Writes one entry, unless there is too little. Whoever writes on the same part at the same time waits for the other. */
export const writeEntry = (wish: Wish, details: EntryDetails): Promise<Written> =>
  database().transaction(async (tx) => {
    await lock(tx, details.part);
    return writeLocked(tx, wish, details);
  });

async function writeLocked(tx: Tx, wish: Wish, { page = null, seen, token, ...rest }: EntryDetails): Promise<Written> {
  const { last, ...before } = await balanceOf(tx, rest.part, page);
  if (token !== undefined) {
    const [done] = await tx.select({ id: stockMove.id }).from(stockMove).where(eq(stockMove.token, token));
    if (done) return { ok: true, before, after: before, news: null, again: true };
  }
  const news = seen === undefined ? null : await lastWords(tx, rest.part, seen);
  if (wish.kind === 'counted' && news)
    return { ok: false, message: `${news} while you were counting. Nothing was written: look at the drawer once more.` };
  const change = changeOf(wish, before);
  if ('atMost' in change) return { ok: false, message: await tooFew(tx, wish, rest.part, change.atMost, seen, before) };
  await tx.insert(stockMove).values({ ...rest, reason: rest.reason ?? '', page, token, kind: wish.kind, ...change });
  const { last: _, ...after } = await balanceOf(tx, rest.part, page);
  return { ok: true, before, after, news, again: false };
}

async function tooFew(tx: Tx, wish: Wish, part: string, atMost: number, seen: number | undefined, { onHand }: Balance): Promise<string> {
  if (wish.kind === 'released') return `This job has ${atMost} reserved. Nothing was written.`;
  const said = await lastWords(tx, part, seen ?? 0);
  const left = atMost === 0 ? 'none is left' : `${atMost} ${atMost === 1 ? 'is' : 'are'} left`;
  const others = onHand > atMost ? `, ${onHand - atMost} more ${onHand - atMost === 1 ? 'is' : 'are'} reserved for other jobs` : '';
  return `${said ? `${said}: ` : ''}${left}${others}. Nothing was written. If the drawer holds more, count it first.`;
}

/** Several parts of one job at once: all of them or none. The first that there is too little of is named. */
export const writeForJob = (
  wishes: readonly { part: string; wish: Wish }[],
  details: { page: string; member: string },
): Promise<{ ok: true; written: number } | { ok: false; part: string; message: string }> =>
  database()
    .transaction(async (tx) => {
      const inOrder = [...wishes].sort((a, b) => (a.part < b.part ? -1 : 1)); // two jobs lock in the same order
      for (const { part } of inOrder) await lock(tx, part);
      for (const { part, wish } of inOrder) {
        const written = await writeLocked(tx, wish, { part, ...details });
        if (!written.ok) throw new TooFew(part, written.message);
      }
      return { ok: true as const, written: inOrder.length };
    })
    .catch((error) => {
      if (error instanceof TooFew) return { ok: false as const, part: error.part, message: error.message };
      throw error;
    });

/** Leaves the transaction without a trace. */
class TooFew extends Error {
  constructor(
    readonly part: string,
    message: string,
  ) {
    super(message);
  }
}

/** Takes an entry back by a counter-entry. Refused when it was taken back before, or when fewer than none would be left. */
export const takeBack = (id: number, member: string): Promise<{ ok: true } | { ok: false; message: string }> =>
  database().transaction(async (tx) => {
    const [entry] = await tx.select().from(stockMove).where(eq(stockMove.id, id));
    if (!entry) return { ok: false, message: 'There is no such entry.' };
    await lock(tx, entry.part);
    const [undone] = await tx.select({ id: stockMove.id }).from(stockMove).where(eq(stockMove.undoes, id));
    if (undone) return { ok: false, message: 'It was taken back before.' };
    if (entry.undoes !== null) return { ok: false, message: 'That entry takes another one back. Write a new entry instead.' };
    const { onHand, here } = await balanceOf(tx, entry.part, entry.page);
    if (onHand - entry.quantity < 0)
      return { ok: false, message: `Only ${onHand} are left of those ${entry.quantity}. Count the drawer instead.` };
    if (here - entry.held < 0) return { ok: false, message: `Only ${here} are still reserved of those ${entry.held}.` };
    const { part, page, quantity, held } = entry;
    await tx.insert(stockMove).values({
      part,
      page,
      member,
      kind: 'corrected',
      reason: `takes back no. ${id}`,
      quantity: 0 - quantity,
      held: 0 - held,
      undoes: id,
    });
    return { ok: true };
  });

/** Entries, newest first. `undone`: another entry takes it back. */
export interface LedgerRow {
  id: number;
  part: string;
  kind: EntryKind;
  quantity: number;
  held: number;
  reason: string;
  packs: number | null;
  supplier: string | null;
  price: number | null;
  page: string | null;
  title: string | null; // of the page
  member: string | null; // name
  at: string;
  undoes: number | null;
  undone: boolean;
}
export async function ledger({ part, page, limit = 100 }: { part?: string; page?: string; limit?: number } = {}): Promise<LedgerRow[]> {
  const { rows } = await database().execute<Omit<LedgerRow, 'at'> & { at: string | Date }>(
    sql`select m.id::int, m.part, m.kind, m.quantity, m.held, m.reason, m.packs, m.supplier, m.price, m.page, i.title, u.name as member, m.at,
               m.undoes::int, exists (select from stock_move b where b.undoes = m.id) as undone
        from stock_move m left join "user" u on u.id = m.member left join page_index i on i.page = m.page
        where (${part ?? null}::text is null or m.part = ${part ?? null}) and (${page ?? null}::text is null or m.page = ${page ?? null})
        order by m.id desc limit ${limit}`,
  );
  return rows.map((row) => ({ ...row, at: new Date(row.at).toISOString() }));
}

/** Who sold this part, in which packs and for how much: the newest delivery of each, as it was received. */
export async function sourcesOf(part: string): Promise<{ supplier: string; pack: number; price: number | null; at: string }[]> {
  const { rows } = await database().execute<{ supplier: string; pack: number; price: number | null; at: string | Date }>(
    sql`select distinct on (m.supplier, m.quantity / m.packs) m.supplier, m.quantity / m.packs as pack, m.price / m.packs as price, m.at
        from stock_move m where m.part = ${part} and m.kind = 'received' and m.supplier is not null and m.packs is not null
          and not exists (select from stock_move b where b.undoes = m.id)
        order by m.supplier, m.quantity / m.packs, m.id desc`,
  );
  return rows.map((row) => ({ ...row, at: new Date(row.at).toISOString() }));
}

/** How many there should be at least, by part; parts without a mark are left out. */
export async function lows(): Promise<Record<string, number>> {
  const rows = await database().select().from(stockPart);
  return Object.fromEntries(rows.flatMap(({ part, low }) => (low === null ? [] : [[part, low]])));
}
/** `null` takes the mark away. */
export async function setLow(part: string, low: number | null): Promise<void> {
  await database().insert(stockPart).values({ part, low }).onConflictDoUpdate({ target: stockPart.part, set: { low } });
}

/** What of the stock is spoken for, seen from each of these pages. */
export async function reservedForEach(pages: readonly string[]): Promise<Map<string, Reserved>> {
  const [all, { rows }] = await Promise.all([
    balances(),
    database().execute<{ page: string; part: string; here: number; used: number }>(
      sql`select page, part, sum(held)::int as here, -sum(quantity)::int as used from stock_move
          where page in (select jsonb_array_elements_text(${JSON.stringify(pages)}::jsonb)) group by page, part`,
    ),
  ]);
  const total: Stock = Object.fromEntries(Object.entries(all).map(([part, { reserved }]) => [part, reserved]));
  return new Map(
    pages.map((page) => {
      const own = rows.filter((row) => row.page === page);
      const here: Stock = Object.fromEntries(own.map((row) => [row.part, row.here]));
      const elsewhere: Stock = Object.fromEntries(Object.entries(total).map(([part, pieces]) => [part, pieces - (here[part] ?? 0)]));
      return [page, { here, elsewhere, used: Object.fromEntries(own.map((row) => [row.part, Math.max(0, row.used)])) }];
    }),
  );
}
