/** A photo sent by a form of its own, without scripts: a server action would take no file of this size. */
import { mostBytes } from '@/lib/files/limits';
import { keepPicture } from '@/lib/files/pictures';
import { refusalOf } from '@/lib/files/refusals';
import { ProblemError } from '@/lib/http/problem';
import { readBytes } from '@/lib/http/read-bytes';
import type { PictureRow } from '@/lib/store/pictures';

/** Why a photo was not kept, by what the address says. */
export const photoTroubles: Record<string, string> = {
  none: 'No photo was chosen. Choose one, then press Keep the photo.',
  large: `The file is too large. Choose one of at most ${mostBytes / 1e6} MB.`,
  kind: 'That file is no photo that can be kept. Choose a JPEG, PNG, WebP, AVIF or GIF; save a HEIC as JPEG first.',
  damaged: 'That photo is damaged, moves, has too many pixels, or was removed for good. Choose another, or take it again.',
  changed: 'Somebody changed this chart meanwhile. Send the photo again.',
  full: 'There are as many photos here as there may be. Take one off first.',
};
export const photoTrouble = (code: string): string | null => (Object.hasOwn(photoTroubles, code) ? (photoTroubles[code] ?? null) : null);

const roomForFields = 10_000; // what a form adds around its file

/** The form that came; null when it is too large. */
export async function readPhotoForm(request: Request): Promise<FormData | null> {
  try {
    const bytes = await readBytes(request, mostBytes + roomForFields);
    return await new Response(new Uint8Array(bytes), { headers: { 'content-type': request.headers.get('content-type') ?? '' } }).formData();
  } catch (error) {
    if (error instanceof ProblemError) return null;
    return new FormData(); // no form that can be read holds no photo
  }
}

/** The picture that the form brings, kept; or what is wrong with it. */
export async function photoFrom(form: FormData): Promise<{ picture: PictureRow } | { trouble: string }> {
  const file = form.get('photo');
  if (!(file instanceof File) || file.size === 0) return { trouble: 'none' };
  const bytes = new Uint8Array(await file.arrayBuffer());
  if (bytes.length > mostBytes) return { trouble: 'large' };
  if (refusalOf(bytes)) return { trouble: 'kind' };
  const kept = await keepPicture(bytes);
  return kept.ok ? { picture: kept.picture } : { trouble: 'damaged' };
}
