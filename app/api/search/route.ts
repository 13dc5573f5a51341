import * as z from 'zod';
import { endpoint } from '@/lib/http/endpoint';
import { facets } from '@/lib/search/facet';
import { longestQuery } from '@/lib/search/read-query';
import { searchFixes } from '@/lib/search/search';
import { machineId, result } from '../shapes';

const value = z.string().min(1).max(80).optional();
const terms = z
  .string()
  .max(400)
  .optional()
  .transform((text) => (text ? text.split(',').map((term) => term.trim()) : []))
  .pipe(z.array(z.string().regex(/^[a-z-]+:.+$/, 'write kind:value, such as does:sometimes')).max(12));

export const GET = endpoint({
  method: 'GET',
  path: '/api/search',
  summary:
    'Past fixes by symptom and clue, each with its reasons; how the symptom was read, what the causes were, the circuit itself when the query is a clue',
  query: z.object({
    q: z.string().min(1).max(longestQuery, `Keep a search under ${longestQuery} characters; the few words that matter are enough.`),
    machine: machineId.shape.id.optional(),
    design: value,
    circuitKind: value,
    cause: value,
    year: value,
    by: value,
    state: z.enum(['open', 'mended']).optional(),
    not: terms.describe('terms of the reading that are not meant, such as does:dead,device:flipper'),
    as: terms.describe('terms that are meant, such as does:sometimes'),
    limit: z.coerce.number().int().min(1).max(100).default(20),
  }),
  response: result,
  action: 'read',
  thing: 'search',
  handler: async ({ query: { q, limit, not, as, ...given } }) => {
    const narrow = Object.fromEntries(facets.flatMap((facet) => (given[facet] ? [[facet, given[facet]]] : [])));
    return { ...(await searchFixes(q, { limit, not, as, narrow })) };
  },
});
