/** The catalogue, and what is on hand of it: the sum of the ledger (stock.ts). */
import { eq, sql } from 'drizzle-orm';
import type { Catalogue, Stock } from '@/lib/core/parts/schema';
import { database } from './database';
import { catalogue, stockMove } from './schema';
import type { PutResult } from './types';

const empty: Catalogue = { format: 'fettlebook-parts/1', currency: 'GBP', parts: [] };
const onlyRow = 1;

/** The catalogue and its version; an empty one without a version before the first is kept. */
export async function getCatalogue(): Promise<{ catalogue: Catalogue; version: number | null }> {
  const [row] = await database().select({ catalogue: catalogue.parts, version: catalogue.version }).from(catalogue);
  return row ?? { catalogue: empty, version: null };
}

/** Keeps the catalogue. `expected` is the version it was changed from, null for the first; when the stored one is another, nothing is kept. */
export async function putCatalogue(parts: Catalogue, expected: number | null, member: string | null): Promise<PutResult> {
  const row = { parts, version: (expected ?? 0) + 1, changedBy: member, changedAt: new Date() };
  const kept =
    expected === null
      ? await database()
          .insert(catalogue)
          .values({ id: onlyRow, ...row })
          .onConflictDoNothing()
          .returning({ version: catalogue.version })
      : await database().update(catalogue).set(row).where(eq(catalogue.version, expected)).returning({ version: catalogue.version });
  return kept[0] ? { ok: true, version: kept[0].version } : { ok: false, reason: 'changed' };
}

/** Quantity on hand by part id. */
export async function stock(): Promise<Stock> {
  const rows = await database()
    .select({ part: stockMove.part, quantity: sql<number>`sum(${stockMove.quantity})::int` })
    .from(stockMove)
    .groupBy(stockMove.part);
  return Object.fromEntries(rows.map((row) => [row.part, row.quantity]));
}
