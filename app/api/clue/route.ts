import * as z from 'zod';
import { endpoint } from '@/lib/http/endpoint';
import { longestQuery } from '@/lib/search/read-query';
import { clueAnswers } from '@/lib/search/search';

export const GET = endpoint({
  method: 'GET',
  path: '/api/clue',
  summary:
    'The circuit itself, of any machine, when what is typed is a clue: a wire, a pin, a number, a name; no past fixes are looked for',
  query: z.object({
    q: z.string().min(1).max(longestQuery, `Keep a clue under ${longestQuery} characters; the few words that matter are enough.`),
  }),
  response: z.object({
    answers: z.array(
      z.object({
        machineId: z.string(),
        machine: z.string(),
        kind: z.string(),
        id: z.string(),
        title: z.string(),
        wires: z.array(z.string()),
        pins: z.array(z.string()),
        reason: z.string(),
      }),
    ),
  }),
  action: 'read',
  thing: 'search',
  handler: async ({ query: { q } }) => ({ answers: await clueAnswers(q) }),
});
