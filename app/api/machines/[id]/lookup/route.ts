import * as z from 'zod';
import { lookup } from '@/lib/core/lookup';
import { endpoint } from '@/lib/http/endpoint';
import { machineId } from '../../../shapes';
import { chartOf } from '../chart-of';

const candidate = z.object({
  kind: z.string(),
  id: z.string(),
  title: z.string(),
  reasons: z.array(z.string()),
  score: z.number().describe('0 to 1, for ranking only'),
  guess: z.boolean().optional().describe('the clue’s wire is not in the chart; this one may be it, faded'),
});
/** The rest of each outcome is described in lib/core/lookup. */
const answer = z.looseObject({
  outcome: z.enum(['empty', 'none', 'several', 'one']),
  advice: z.array(z.string()).optional().describe('of none: what could not be read, and what to try'),
  guesses: z.array(candidate).optional().describe('of none: what the clue would fit if a wire of it were a faded one; take one with pick'),
  candidates: z.array(candidate).optional().describe('of several: choose one with pick'),
});

export const GET = endpoint({
  method: 'GET',
  path: '/api/machines/{id}/lookup',
  summary: 'From any clue to the circuit: number, name, column and row, wire in any notation, pin',
  params: machineId,
  query: z.object({
    clue: z.string().max(200, 'Keep a clue under 200 characters: a number, a few words of the name, a wire, or a pin.'),
    pick: z.string().max(80).optional().describe('kind:id of the candidate chosen among several'),
  }),
  response: answer,
  action: 'read',
  thing: 'machine',
  handler: async ({ params, query }) => ({ ...lookup(await chartOf(params.id), query.clue, query.pick) }),
});
