/** Searches that a member keeps, each under a name of its own. */
import { and, eq } from 'drizzle-orm';
import { newId } from '@/lib/notebook/ids';
import { database } from './database';
import { savedSearch } from './schema';

export interface SavedSearch {
  id: string;
  name: string;
  /** What stands behind the question mark of its address. */
  asked: string;
}
const columns = { id: savedSearch.id, name: savedSearch.name, asked: savedSearch.asked };

/** By name. */
export async function listSavedSearches(member: string): Promise<SavedSearch[]> {
  return database().select(columns).from(savedSearch).where(eq(savedSearch.member, member)).orderBy(savedSearch.name, savedSearch.id);
}

/** Keeps it; one that asks the same gets the new name. */
export async function saveSearch(given: { member: string; name: string; asked: string }): Promise<void> {
  await database()
    .insert(savedSearch)
    .values({ id: newId(), ...given })
    .onConflictDoUpdate({ target: [savedSearch.member, savedSearch.asked], set: { name: given.name } });
}

/** False when the member has no such search. */
export async function forgetSearch(id: string, member: string): Promise<boolean> {
  const gone = await database()
    .delete(savedSearch)
    .where(and(eq(savedSearch.id, id), eq(savedSearch.member, member)))
    .returning({ id: savedSearch.id });
  return gone.length > 0;
}
