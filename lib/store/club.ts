/** Single values kept in the database: the club's name and letterhead, how the index was made, which secret signs. */
import { eq } from 'drizzle-orm';
import { database } from './database';
import { setting } from './schema';

type SettingKey = 'club.name' | 'club.letterhead' | 'index.version' | 'secret.fingerprint' | 'thesaurus';

export async function getSetting(key: SettingKey): Promise<string | null> {
  const [row] = await database().select({ value: setting.value }).from(setting).where(eq(setting.key, key));
  return row?.value ?? null;
}

export async function setSetting(key: SettingKey, value: string): Promise<void> {
  await database().insert(setting).values({ key, value }).onConflictDoUpdate({ target: setting.key, set: { value } });
}
