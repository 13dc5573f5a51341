/** Keeping a picture that came, or saying what to mend. */
import * as z from 'zod';
import { mostBytes } from '@/lib/files/limits';
import { keepPicture } from '@/lib/files/pictures';
import { problem } from '@/lib/http/problem';
import type { PictureRow } from '@/lib/store/pictures';

export const pictureFile = { most: mostBytes, about: 'The picture itself: JPEG, PNG, WebP, AVIF or a GIF that does not move' };
export const pictureShape = z.object({
  hash: z.string().describe('SHA-256 of the bytes that were sent; the picture is at /files/{hash}/{320|800|1600|3200}'),
  width: z.int().describe('upright, in pixels, as it came'),
  height: z.int(),
});

export async function keptOrProblem(file: Uint8Array): Promise<PictureRow> {
  const kept = await keepPicture(file);
  if (kept.ok) return kept.picture;
  throw problem(422, `${kept.message}. ${kept.mend}`, [{ field: 'picture', message: kept.message, mend: kept.mend }]);
}
