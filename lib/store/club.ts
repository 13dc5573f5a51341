/** Settings of the club itself, kept in the database: its name. */
import { eq } from 'drizzle-orm';
import { database } from './database';
import { setting } from './schema';

export async function getSetting(key: 'club.name'): Promise<string | null> {
  const [row] = await database().select({ value: setting.value }).from(setting).where(eq(setting.key, key));
  return row?.value ?? null;
}

export async function setSetting(key: 'club.name', value: string): Promise<void> {
  await database().insert(setting).values({ key, value }).onConflictDoUpdate({ target: setting.key, set: { value } });
}
