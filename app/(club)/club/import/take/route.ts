import { can } from '@/lib/access/can';
import { actorOf, bearerOf } from '@/lib/access/session';
import { shelve } from '@/lib/archive/shelf';
import { limits } from '@/lib/archive/zip-read';
import { formFile } from '@/lib/http/form-file';
import { sameOrigin } from '@/lib/http/origin';
import { settings } from '@/lib/store/settings';

const go = (where: string) => new Response(null, { status: 303, headers: { location: where, 'cache-control': 'no-store' } });
const formAround = 10_000; // bytes that a form adds to its file

/** Takes an archive from the form and shows what is in it. */
export async function POST(request: Request) {
  if (!can(await actorOf(request.headers), 'manage', 'club')) return new Response('Only an owner brings an archive in.', { status: 403 });
  if (bearerOf(request.headers) === null && !sameOrigin(request.headers, settings().baseUrl))
    return new Response('This was not sent by a page of this notebook.', { status: 403 });
  const length = Number(request.headers.get('content-length') ?? Number.NaN);
  if (!(length <= limits.archiveBytes + formAround)) return go('/club/import?why=large');
  const id = await shelve((take) => formFile(request, 'archive', limits.archiveBytes + formAround, take));
  return go(id ? `/club/import/${id}` : '/club/import?why=none');
}
