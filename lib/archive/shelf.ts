/** Archives that were uploaded and wait for somebody to say what becomes of them: files of the data folder, for a day at most. */
import { existsSync } from 'node:fs';
import { mkdir, open, readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { newId } from '@/lib/notebook/ids';
import { settings } from '@/lib/store/settings';
import { fileSource, type ZipSource } from './zip-source';

const aDay = 24 * 60 * 60 * 1000;
export const shelfFolder = () => join(settings().dataDir, 'brought');
/** The file of an archive, or what is noted of it beside it; null for what is no id. */
export const shelfPlace = (id: string, kind: 'zip' | 'going' | 'over') =>
  /^[a-z2-7]{12}$/.test(id) ? join(shelfFolder(), `${id}.${kind}`) : null;

/** Keeps an archive as `write` puts it into a file, and gives its id; null when `write` says no. Those of yesterday go. */
export async function shelve(write: (take: (bytes: Uint8Array) => Promise<void>) => Promise<boolean>): Promise<string | null> {
  await mkdir(shelfFolder(), { recursive: true, mode: 0o700 });
  for (const name of await readdir(shelfFolder())) {
    const path = join(shelfFolder(), name);
    const last = await stat(path).catch(() => null); // a note of progress comes and goes
    if (last && Date.now() - last.mtimeMs > aDay) await rm(path, { force: true });
  }
  const id = newId();
  const path = join(shelfFolder(), `${id}.zip`);
  const file = await open(path, 'wx', 0o600);
  let whole = false;
  try {
    whole = await write((bytes) => file.writeFile(bytes)); // at the end of what stands there
  } finally {
    await file.close();
    if (!whole) await rm(path, { force: true });
  }
  return whole ? id : null;
}

/** The archive, or null when it is not here (any more). */
export function shelved(id: string): ZipSource | null {
  const path = shelfPlace(id, 'zip');
  return path && existsSync(path) ? fileSource(path) : null;
}
