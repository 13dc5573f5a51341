import * as z from 'zod';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { live } from '@/lib/live/house';
import { NewerDocument, writeContent } from '@/lib/notebook/content';
import { indexNow } from '@/lib/search/indexer';
import { getPage, removePage } from '@/lib/store/pages';
import { pageId, pageWithText } from '../../shapes';
import { pageText, readText } from '../page-text';

export const GET = endpoint({
  method: 'GET',
  path: '/api/pages/{id}',
  summary: 'A page as CommonMark',
  params: pageId,
  response: pageWithText,
  action: 'read',
  thing: 'page',
  handler: ({ params }) => pageText(params.id),
});

export const PUT = endpoint({
  method: 'PUT',
  path: '/api/pages/{id}',
  summary: 'Makes a page read as the CommonMark says; only what differs is changed, and people who have it open see it at once',
  params: pageId,
  body: z.object({ markdown: z.string() }),
  response: pageWithText,
  action: 'write',
  thing: 'page',
  async handler({ params, body, member }) {
    if (!(await getPage(params.id))) throw problem(404, `There is no page ${params.id}.`);
    const read = readText(body.markdown);
    await live()
      .change(params.id, member.id, (doc) => writeContent(doc, read.content))
      .catch((error) => {
        throw error instanceof NewerDocument ? problem(409, error.message) : error;
      });
    await indexNow(params.id);
    return { ...(await pageText(params.id)), notices: read.notices };
  },
});

export const DELETE = endpoint({
  method: 'DELETE',
  path: '/api/pages/{id}',
  summary: 'Takes a page out of every list and search; what was written stays in the log',
  params: pageId,
  response: z.object({ removed: z.boolean() }),
  action: 'remove',
  thing: 'page',
  async handler({ params, member }) {
    const removed = await removePage(params.id, member.id);
    if (!removed) throw problem(404, `There is no page ${params.id}.`);
    live().closePage(params.id);
    return { removed };
  },
});
