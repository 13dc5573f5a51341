/** A picture of a write-up, for whoever has the customer's link. */
import { askerOf, openedHere, shownBy } from '@/app/write-up';
import { maySeePicture } from '@/lib/access/pictures';
import { isHash } from '@/lib/files/limits';
import { noPicture, pictureResponse } from '@/lib/http/picture';

type Context = { params: Promise<{ token: string; hash: string; size: string }> };

export async function GET(request: Request, { params }: Context) {
  const { token, hash, size } = await params;
  const met = await openedHere(request.headers, token);
  const copy = isHash(hash) && met.state === 'open' ? await shownBy(met.link) : null;
  if (met.state !== 'open' || !copy) return noPicture();
  const answer = await pictureResponse(request, await maySeePicture(askerOf(met.link.page, copy), hash), size);
  answer.headers.set('cache-control', 'no-store'); // on a customer's device nothing stays once the link has ended
  return answer;
}
