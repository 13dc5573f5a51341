/** The answer that is a picture: checked again at each visit, never taken for anything else, kept by no cache that others share. */
import { etagOf, readPicture } from '@/lib/files/pictures';
import type { PictureRow } from '@/lib/store/pictures';

const headers = {
  // A right can end: the browser asks each time, and is answered without the bytes as long as nothing has changed.
  'cache-control': 'private, no-cache',
  vary: 'cookie, authorization',
  'x-content-type-options': 'nosniff',
  'cross-origin-resource-policy': 'same-origin',
  'content-disposition': 'inline',
};

export const noPicture = () =>
  new Response('There is no such picture, or it is not yours to see.', {
    status: 404,
    headers: { 'content-type': 'text/plain; charset=utf-8', 'cache-control': 'no-store', 'x-content-type-options': 'nosniff' },
  });

/** `picture`: null when it may not be seen. `size` as it stands in the address. */
export async function pictureResponse(request: Request, picture: PictureRow | null, size: string): Promise<Response> {
  const asked = /^\d{1,5}$/.test(size) ? Number(size) : 0;
  if (!picture) return noPicture();
  if (knows(request, etagOf(picture, asked)))
    return new Response(null, { status: 304, headers: { ...headers, etag: etagOf(picture, asked) } });
  const file = await readPicture(picture, asked);
  if (!file) return noPicture();
  return new Response(file.bytes, {
    headers: { ...headers, 'content-type': file.type, 'content-length': String(file.bytes.length), etag: file.etag },
  });
}

/** RFC 9110 § 13.1.2, with its weak comparison. */
const knows = (request: Request, etag: string) =>
  (request.headers.get('if-none-match') ?? '').split(',').some((one) => one.trim().replace(/^W\//, '') === etag);
