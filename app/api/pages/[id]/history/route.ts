import * as z from 'zod';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { listStretches } from '@/lib/store/history';
import { getPage } from '@/lib/store/pages';
import { settings } from '@/lib/store/settings';
import { pageId, stretch } from '../../../shapes';

export const GET = endpoint({
  method: 'GET',
  path: '/api/pages/{id}/history',
  summary: 'Who worked on a page, and when: stretches of one member’s work, oldest first, with the points that have a name',
  params: pageId,
  response: z.object({ stretches: z.array(stretch) }),
  action: 'read',
  thing: 'page',
  async handler({ params: { id } }) {
    if (!(await getPage(id))) throw problem(404, `There is no page ${id}.`);
    const stretches = (await listStretches(id)).toSorted((a, b) => a.number - b.number);
    return { stretches: stretches.map((s) => ({ ...s, url: `${settings().baseUrl}/pages/${id}/history?at=${s.number}` })) };
  },
});
