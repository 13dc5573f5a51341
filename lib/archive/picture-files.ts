/** The pictures of an archive: their list, and their files one picture at a time. */
import { keptFiles } from '@/lib/files/pictures';
import { heldPicture } from '@/lib/store/pictures';
import type { PictureEntry } from './format';
import type { ArchiveFile } from './zip-stream';

export const picturePath = (hash: string, size: number) => `pictures/${hash}/${size}.jpg`;

/**
 * Only pictures that a page, a chart or the letterhead of this notebook holds: a hash that somebody wrote by hand takes nothing away. One that never came,
 * or whose files are missing here, is left out.
 */
export async function* pictureFiles(hashes: Iterable<string>): AsyncGenerator<ArchiveFile> {
  const list: PictureEntry[] = [];
  for (const hash of new Set(hashes)) {
    const picture = await heldPicture(hash);
    if (!picture || !(picture.onPage || picture.onChart || picture.onLetterhead)) continue;
    const { width, height, removedAt } = picture;
    const files = removedAt ? [] : await keptFiles(picture);
    if (!files) continue;
    list.push({ hash, width, height, removedAt: removedAt?.toISOString() ?? null });
    for (const { size, bytes } of files) yield { path: picturePath(hash, size), bytes };
  }
  if (list.length > 0) yield { path: 'pictures.json', text: `${JSON.stringify(list, null, 1)}\n` };
}
