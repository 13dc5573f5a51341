/** The answer that is a picture: checked again at each visit, never taken for anything else, kept by no cache that others share. */
import { extentAt, servedSize } from '@/lib/files/limits';
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

/** What stands for a picture that was removed for good, in its shape; for whoever might have seen it. */
function removedPicture(picture: PictureRow): Response {
  const { width, height } = extentAt(picture, 800);
  const letter = Math.max(12, Math.round(Math.min(width / 12, height / 4, 34)));
  const text = `x="50%" y="50%" text-anchor="middle" dominant-baseline="central" font-family="sans-serif" font-size="${letter}" fill="#1c1b18"`;
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}">` +
    '<style>@media (prefers-color-scheme: dark) { rect { fill: #2b2f31 } text { fill: #f3ece0 } }</style>' +
    `<rect width="100%" height="100%" fill="#ede5d4"/><text ${text}>Picture removed</text></svg>`;
  return new Response(svg, { status: 410, headers: { ...headers, 'cache-control': 'private, no-store', 'content-type': 'image/svg+xml' } });
}

/** `picture`: null when it may not be seen. `size` as it stands in the address. */
export async function pictureResponse(request: Request, picture: PictureRow | null, size: string): Promise<Response> {
  const asked = /^\d{1,5}$/.test(size) ? Number(size) : 0;
  if (!picture || servedSize(picture, asked) === null) return noPicture();
  if (picture.removedAt) return removedPicture(picture);
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
