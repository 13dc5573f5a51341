/** A form that brings one picture, without scripts: a server action would take no file of this size. */
import { mostBytes } from '@/lib/files/limits';
import { keepPicture } from '@/lib/files/pictures';
import { refusalOf } from '@/lib/files/refusals';
import { ProblemError } from '@/lib/http/problem';
import { readBytes } from '@/lib/http/read-bytes';
import type { PictureRow } from '@/lib/store/pictures';

const roomForFields = 10_000; // what a form adds around its file

/** The picture that the form brings; null when it takes the one that is there away, else why there is none. */
export async function pictureFrom(request: Request): Promise<{ picture: PictureRow | null } | { trouble: keyof typeof pictureTroubles }> {
  const form = await readForm(request);
  if (!form) return { trouble: 'large' };
  if (form.get('remove') === 'yes') return { picture: null };
  const file = form.get('photo');
  if (!(file instanceof File) || file.size === 0) return { trouble: 'none' };
  const bytes = new Uint8Array(await file.arrayBuffer());
  if (bytes.length > mostBytes) return { trouble: 'large' };
  if (refusalOf(bytes)) return { trouble: 'kind' };
  const kept = await keepPicture(bytes);
  return kept.ok ? { picture: kept.picture } : { trouble: 'damaged' };
}

/** Why a picture was not kept, by what the address says. */
export const pictureTroubles = {
  none: 'No picture was chosen. Choose one first.',
  large: `The file is too large. Choose one of at most ${mostBytes / 1e6} MB.`,
  kind: 'That file is no picture that can be kept. Choose a JPEG, PNG, WebP, AVIF or GIF; save a HEIC as JPEG first.',
  damaged: 'That picture is damaged, moves, or has too many pixels. Choose another, or take it again.',
};

async function readForm(request: Request): Promise<FormData | null> {
  try {
    const bytes = await readBytes(request, mostBytes + roomForFields);
    return await new Response(new Uint8Array(bytes), { headers: { 'content-type': request.headers.get('content-type') ?? '' } }).formData();
  } catch (error) {
    if (error instanceof ProblemError) return null;
    return new FormData(); // no form that can be read holds no picture
  }
}
