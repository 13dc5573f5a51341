import * as z from 'zod';
import { endpoint } from '@/lib/http/endpoint';
import { progressOf } from '@/lib/search/dependents';
import { machineId } from '../../../shapes';

export const GET = endpoint({
  method: 'GET',
  path: '/api/machines/{id}/dependents',
  summary: 'How many pages are computed from a machine’s chart, and how many are behind its last state',
  params: machineId,
  response: z.object({ pages: z.int(), left: z.int().describe('0 once everything that is searched follows from the chart as it is') }),
  action: 'read',
  thing: 'machine',
  handler: ({ params }) => progressOf('machine', params.id),
});
