import * as z from 'zod';
import { machine } from '@/lib/core/chart/schema';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { newPageDoc } from '@/lib/notebook/content';
import { indexNow } from '@/lib/search/indexer';
import { getChartParts } from '@/lib/store/machines';
import { createPage, getPage, listPages } from '@/lib/store/pages';
import { machineId, pageInfo, pageWithText } from '../shapes';
import { info, pageText, readText } from './page-text';

export const GET = endpoint({
  method: 'GET',
  path: '/api/pages',
  summary: 'Pages, the one changed last first',
  query: z.object({
    machine: machineId.shape.id.optional(),
    state: z.enum(['open', 'mended']).optional(),
    limit: z.coerce.number().int().min(1).max(1000).default(100),
  }),
  response: z.object({ pages: z.array(pageInfo) }),
  action: 'read',
  thing: 'page',
  handler: async ({ query }) => ({
    pages: (await listPages({ machineId: query.machine, state: query.state, limit: query.limit })).map(info),
  }),
});

export const POST = endpoint({
  method: 'POST',
  path: '/api/pages',
  summary: 'Starts a page from CommonMark; a widget is a fenced block “widget <kind> <id>”',
  body: z.object({ markdown: z.string(), machine: machine.shape.id.nullable().default(null), on: z.iso.date().optional() }),
  response: pageWithText,
  action: 'create',
  thing: 'page',
  async handler({ body, member }) {
    if (body.machine && !(await getChartParts(body.machine)))
      throw problem(422, `There is no machine ${body.machine}.`, [
        { field: 'machine', message: 'is not in this notebook', mend: 'Use an id of /api/machines, or null.' },
      ]);
    const read = readText(body.markdown);
    const page = await createPage({ machineId: body.machine, member: member.id, on: body.on, update: newPageDoc(read.content) });
    await indexNow(page.id);
    const indexed = await getPage(page.id);
    return { ...(await pageText(page.id)), ...(indexed ? info(indexed) : {}), notices: read.notices };
  },
});
