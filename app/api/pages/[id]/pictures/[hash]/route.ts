import * as z from 'zod';
import { dropUnheld } from '@/lib/files/pictures';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { getPicture, releaseFromPage } from '@/lib/store/pictures';
import { pageId } from '../../../../shapes';

export const DELETE = endpoint({
  method: 'DELETE',
  path: '/api/pages/{id}/pictures/{hash}',
  summary: 'Takes a picture from a page for good, from its history too; its files go when nothing else holds it',
  params: pageId.extend({ hash: z.string().regex(/^[0-9a-f]{64}$/, 'use the hash of a picture') }),
  response: z.object({ removed: z.boolean(), gone: z.boolean().describe('no page or machine holds it any more') }),
  action: 'remove',
  thing: 'file',
  async handler({ params: { id, hash } }) {
    const picture = await getPicture(hash);
    if (!picture || !(await releaseFromPage(id, hash))) throw problem(404, `Page ${id} holds no such picture.`);
    return { removed: true, gone: await dropUnheld(picture) };
  },
});
