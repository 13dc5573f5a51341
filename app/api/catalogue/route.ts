import * as z from 'zod';
import { readCatalogue } from '@/lib/core/parts';
import { catalogue } from '@/lib/core/parts/schema';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { getCatalogue, putCatalogue, stock } from '@/lib/store/parts';

export const GET = endpoint({
  method: 'GET',
  path: '/api/catalogue',
  summary: 'The parts catalogue, its version, and what is on hand',
  response: z.object({ catalogue, version: z.number().nullable(), stock: z.record(z.string(), z.number()) }),
  action: 'read',
  thing: 'catalogue',
  handler: async () => ({ ...(await getCatalogue()), stock: await stock() }),
});

export const PUT = endpoint({
  method: 'PUT',
  path: '/api/catalogue',
  summary: 'Keeps the parts catalogue',
  body: z.object({
    catalogue: z.unknown(),
    version: z.number().int().nullable().describe('the version it was changed from; null for the first'),
  }),
  response: z.object({ version: z.number() }),
  action: 'write',
  thing: 'catalogue',
  async handler({ body, member }) {
    const read = readCatalogue(body.catalogue);
    if (!read.ok)
      throw problem(
        422,
        'The catalogue cannot be read.',
        read.findings.map((f) => ({ field: `catalogue.${f.path}`, message: f.message, mend: f.mend })),
      );
    const kept = await putCatalogue(read.value, body.version, member.id);
    if (!kept.ok) throw problem(409, 'Somebody changed the catalogue meanwhile. Read it again, and make your change on that version.');
    return { version: kept.version };
  },
});
