import * as z from 'zod';
import { lookup } from '@/lib/core/lookup';
import { endpoint } from '@/lib/http/endpoint';
import { machineId, result } from '../../../shapes';
import { chartOf } from '../chart-of';

export const GET = endpoint({
  method: 'GET',
  path: '/api/machines/{id}/lookup',
  summary: 'From any clue to the circuit: number, name, column and row, wire in any notation, pin',
  params: machineId,
  query: z.object({
    clue: z.string().max(200, 'Keep a clue under 200 characters: a number, a few words of the name, a wire, or a pin.'),
    pick: z.string().max(80).optional().describe('kind:id of the candidate chosen among several'),
  }),
  response: result,
  action: 'read',
  thing: 'machine',
  handler: async ({ params, query }) => ({ ...lookup(await chartOf(params.id), query.clue, query.pick) }),
});
