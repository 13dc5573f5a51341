/** The whole stock ledger, for taking it away. */
import { database } from './database';
import { stockMove } from './schema';

/** Every movement, oldest first; `undoes` is the place in this list of the one that it took back. */
export async function allMoves() {
  const rows = await database().select().from(stockMove).orderBy(stockMove.id);
  const places = new Map(rows.map(({ id }, n) => [id, n]));
  return rows.map(({ id: _, token: __, member, at, undoes, ...row }) => ({
    ...row,
    undoes: undoes === null ? null : (places.get(undoes) ?? null),
    by: member,
    at: at.toISOString(),
  }));
}
