/** A picture, for members who may see a page or a machine that holds it. */
import { maySeePicture } from '@/lib/access/pictures';
import { actorOf } from '@/lib/access/session';
import { isHash } from '@/lib/files/limits';
import { pictureResponse } from '@/lib/http/picture';

type Context = { params: Promise<{ hash: string; size: string }> };

export async function GET(request: Request, { params }: Context) {
  const { hash, size } = await params;
  const picture = isHash(hash) ? await maySeePicture(await actorOf(request.headers), hash) : null;
  return pictureResponse(request, picture, size);
}
