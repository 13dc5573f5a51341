import { can } from '@/lib/access/can';
import { actorOf } from '@/lib/access/session';
import { tallyCsv } from '@/lib/archive/csv';
import { readPage, tallyOf } from '@/lib/archive/page-files';
import { getPage } from '@/lib/store/pages';
import { getCatalogue, stock } from '@/lib/store/parts';

type Context = { params: Promise<{ id: string }> };

/** What a page needs, as a table for a spreadsheet. */
export async function GET(request: Request, { params }: Context) {
  if (!can(await actorOf(request.headers), 'read', 'page')) return new Response('Sign in first.', { status: 401 });
  const page = await getPage((await params).id);
  if (!page) return new Response('There is no such page.', { status: 404 });
  const shelf = { catalogue: (await getCatalogue()).catalogue, stock: await stock() };
  const { evaluated, reserved } = await readPage(page, shelf);
  return new Response(tallyCsv(tallyOf(evaluated, shelf, reserved)), {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': `attachment; filename="parts-${page.id}.csv"`,
      'cache-control': 'no-store',
    },
  });
}
