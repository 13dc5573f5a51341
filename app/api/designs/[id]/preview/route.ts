import * as z from 'zod';
import { preview } from '@/app/api/preview';
import { unreadable } from '@/app/api/unreadable';
import { readDesign } from '@/lib/core/chart';
import { endpoint } from '@/lib/http/endpoint';
import { previewDesign } from '@/lib/search/preview';
import { designId } from '../../../shapes';

export const POST = endpoint({
  method: 'POST',
  path: '/api/designs/{id}/preview',
  summary: 'Which pages would mean something else if this board design were kept; nothing is written',
  params: designId,
  body: z.object({ design: z.unknown() }),
  response: preview,
  action: 'write',
  thing: 'machine',
  async handler({ params, body }) {
    const read = readDesign(body.design);
    if (!read.ok) throw unreadable('design', read.findings);
    return previewDesign({ ...read.value, id: params.id });
  },
});
