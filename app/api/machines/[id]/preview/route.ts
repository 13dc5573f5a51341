import * as z from 'zod';
import { preview } from '@/app/api/preview';
import { unreadable } from '@/app/api/unreadable';
import { readMachine } from '@/lib/core/chart';
import { endpoint } from '@/lib/http/endpoint';
import { previewMachine } from '@/lib/search/preview';
import { machineId } from '../../../shapes';

export const POST = endpoint({
  method: 'POST',
  path: '/api/machines/{id}/preview',
  summary: 'Which pages would mean something else if this chart were kept; nothing is written',
  params: machineId,
  body: z.object({ machine: z.unknown() }),
  response: preview,
  action: 'write',
  thing: 'machine',
  async handler({ params, body }) {
    const read = readMachine(body.machine);
    if (!read.ok) throw unreadable('machine', read.findings);
    return previewMachine({ ...read.value, id: params.id });
  },
});
