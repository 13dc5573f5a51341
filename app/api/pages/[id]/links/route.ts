import * as z from 'zod';
import { listReportLinks, lockedBecause, standingOf } from '@/lib/access/reports';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { getPage } from '@/lib/store/pages';
import { settings } from '@/lib/store/settings';
import { copiesOf } from '@/lib/store/write-ups';
import { pageId } from '../../../shapes';

const link = z.object({
  id: z.string(),
  copy: z.int().nullable().describe('number of the copy that it shows; null: an older link, which shows the page as it stands'),
  standing: z.enum(['works', 'over', 'taken back', 'locked']),
  why: z.string().nullable().describe('why it is locked'),
  expires: z.string().nullable().describe('ISO time'),
  opened: z.int().describe('how often by a customer'),
  url: z.string(),
});

export const GET = endpoint({
  method: 'GET',
  path: '/api/pages/{id}/links',
  summary: 'The links by which customers read a page’s write-up, newest first, also those that have ended',
  params: pageId,
  response: z.object({ links: z.array(link) }),
  action: 'read',
  thing: 'report',
  async handler({ params: { id } }) {
    if (!(await getPage(id))) throw problem(404, `There is no page ${id}.`);
    const [links, copies] = await Promise.all([listReportLinks(id), copiesOf(id)]);
    const now = new Date();
    return {
      links: links.map((each) => {
        const standing = standingOf(each, now);
        return {
          id: each.id,
          copy: copies.find((copy) => copy.id === each.copy)?.number ?? null,
          standing,
          why: standing === 'locked' ? lockedBecause : null,
          expires: each.expiresAt,
          opened: each.opened,
          url: `${settings().baseUrl}/report/${each.token}`,
        };
      }),
    };
  },
});
