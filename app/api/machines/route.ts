import * as z from 'zod';
import { endpoint } from '@/lib/http/endpoint';
import { listMachines } from '@/lib/store/machines';

export const GET = endpoint({
  method: 'GET',
  path: '/api/machines',
  summary: 'All machines',
  response: z.object({
    machines: z.array(z.object({ id: z.string(), title: z.string(), sort: z.string(), design: z.string(), version: z.number() })),
  }),
  action: 'read',
  thing: 'machine',
  handler: async () => ({ machines: await listMachines() }),
});
