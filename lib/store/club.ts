/** Settings that the club makes for itself, such as its name: plain words by key. */
import { eq } from 'drizzle-orm';
import { database } from './database';
import { setting } from './schema';

export async function getSetting(key: string): Promise<string | null> {
  const [row] = await database().select({ value: setting.value }).from(setting).where(eq(setting.key, key));
  return row?.value ?? null;
}

export async function setSetting(key: string, value: string): Promise<void> {
  await database().insert(setting).values({ key, value }).onConflictDoUpdate({ target: setting.key, set: { value } });
}
