/** Archives that were uploaded and wait for somebody to say what becomes of them: files of the data folder, for a day at most. */
import { mkdir, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { newId } from '@/lib/notebook/ids';
import { settings } from '@/lib/store/settings';

const aDay = 24 * 60 * 60 * 1000;
const folder = () => join(settings().dataDir, 'brought');
const placeOf = (id: string) => (/^[a-z2-7]{12}$/.test(id) ? join(folder(), `${id}.zip`) : null);

/** Keeps an archive and gives its id; those of yesterday go. */
export async function shelve(bytes: Uint8Array): Promise<string> {
  await mkdir(folder(), { recursive: true, mode: 0o700 });
  for (const name of await readdir(folder())) {
    const path = join(folder(), name);
    const age = Date.now() - (await stat(path)).mtimeMs;
    if (age > aDay) await rm(path, { force: true });
  }
  const id = newId();
  await writeFile(join(folder(), `${id}.zip`), bytes, { mode: 0o600 });
  return id;
}

/** The archive, or null when it is not here (any more). */
export async function shelved(id: string): Promise<Uint8Array | null> {
  const path = placeOf(id);
  return path ? readFile(path).catch(() => null) : null;
}
