/** A picture of a write-up, for whoever has the customer's link. */
import { loadPage } from '@/app/(club)/pages/[id]/load';
import { maySeePicture } from '@/lib/access/pictures';
import { reportPage } from '@/lib/access/reports';
import { isHash } from '@/lib/files/limits';
import { noPicture, pictureResponse } from '@/lib/http/picture';
import { writeUp } from '@/lib/notebook/writeup';

type Context = { params: Promise<{ token: string; hash: string; size: string }> };

export async function GET(request: Request, { params }: Context) {
  const { token, hash, size } = await params;
  const page = isHash(hash) ? await reportPage(token) : null;
  if (!page) return noPicture();
  const { content, chart, evaluated } = await loadPage(page);
  const shows = writeUp(evaluated, content, chart).photos.map(({ picture }) => picture);
  return pictureResponse(request, await maySeePicture({ page, shows }, hash), size);
}
