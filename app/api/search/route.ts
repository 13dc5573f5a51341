import * as z from 'zod';
import { endpoint } from '@/lib/http/endpoint';
import { longestQuery } from '@/lib/search/read-query';
import { searchFixes } from '@/lib/search/search';
import { machineId, result } from '../shapes';

export const GET = endpoint({
  method: 'GET',
  path: '/api/search',
  summary: 'Past fixes by symptom and clue, each with its reasons; the circuit itself when the query is a clue',
  query: z.object({
    q: z.string().min(1).max(longestQuery, `Keep a search under ${longestQuery} characters; the few words that matter are enough.`),
    machine: machineId.shape.id.optional(),
    state: z.enum(['open', 'mended']).optional(),
    limit: z.coerce.number().int().min(1).max(100).default(20),
  }),
  response: result,
  action: 'read',
  thing: 'search',
  handler: async ({ query: { q, ...options } }) => ({ ...(await searchFixes(q, options)) }),
});
