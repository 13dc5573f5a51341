import * as z from 'zod';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { getPage } from '@/lib/store/pages';
import { holdOnPage } from '@/lib/store/pictures';
import { keptOrProblem, pictureFile, pictureShape } from '../../../kept-picture';
import { pageId } from '../../../shapes';

export const POST = endpoint({
  method: 'POST',
  path: '/api/pages/{id}/pictures',
  summary: 'Keeps a picture on a page: upright, in sRGB, in a few sizes, without place and device; the same bytes are kept once',
  params: pageId,
  query: z.object({
    member: z.string().optional().describe('Whose picture it is; refused when another has signed in on the device that kept it'),
  }),
  file: pictureFile,
  response: pictureShape,
  action: 'write',
  thing: 'page',
  async handler({ params: { id }, query, member, file }) {
    if ((query.member ?? member.id) !== member.id)
      throw problem(401, 'This is another member’s picture. It is sent when they have signed in again.');
    if (!(await getPage(id))) throw problem(404, `There is no page ${id}.`);
    const picture = await keptOrProblem(file);
    await holdOnPage(id, picture.hash, member.id);
    return picture;
  },
});
