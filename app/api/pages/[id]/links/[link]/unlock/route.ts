import * as z from 'zod';
import { unlockReportLink } from '@/lib/access/reports';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { getPage } from '@/lib/store/pages';
import { pageId } from '../../../../../shapes';

export const POST = endpoint({
  method: 'POST',
  path: '/api/pages/{id}/links/{link}/unlock',
  summary: 'Unlocks a customer’s link that is locked after wrong pass phrases; the pass phrase stays the same',
  params: pageId.extend({ link: z.string().regex(/^[\w-]{1,40}$/, 'use the id of a link') }),
  response: z.object({ unlocked: z.boolean() }),
  action: 'create',
  thing: 'report',
  async handler({ params: { id, link } }) {
    if (!(await getPage(id)) || !(await unlockReportLink(id, link))) throw problem(404, `Page ${id} has no link ${link} that is locked.`);
    return { unlocked: true };
  },
});
