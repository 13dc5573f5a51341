/** The whole stock ledger, for taking it away. */
import { database } from './database';
import { stockMove } from './schema';

/** Every movement, oldest first. */
export async function allMoves() {
  const rows = await database().select().from(stockMove).orderBy(stockMove.id);
  return rows.map(({ part, quantity, reason, page, member, at }) => ({ part, quantity, reason, page, by: member, at: at.toISOString() }));
}
