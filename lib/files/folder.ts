/** Files in a folder of the server. */
import { randomUUID } from 'node:crypto';
import { mkdir, open, readFile, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { FilePlace } from './place';

const isMissing = (error: unknown) => (error as NodeJS.ErrnoException).code === 'ENOENT';

export function folderPlace(folder: string): FilePlace {
  return {
    async put(name, bytes) {
      const path = join(folder, name);
      await mkdir(dirname(path), { recursive: true });
      const fresh = `${path}.${randomUUID()}.new`;
      try {
        const file = await open(fresh, 'wx', 0o600);
        try {
          await file.writeFile(bytes);
          await file.sync(); // the name must not come before what it names
        } finally {
          await file.close();
        }
        await rename(fresh, path);
      } catch (error) {
        await rm(fresh, { force: true });
        throw error;
      }
    },
    async get(name) {
      try {
        return new Uint8Array(await readFile(join(folder, name)));
      } catch (error) {
        if (isMissing(error)) return null;
        throw error;
      }
    },
    remove: (name) => rm(join(folder, name), { force: true }),
  };
}
