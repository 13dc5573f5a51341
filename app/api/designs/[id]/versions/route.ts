import * as z from 'zod';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { getVersion, listVersions } from '@/lib/store/charts';
import { chartVersion, designId } from '../../../shapes';

export const GET = endpoint({
  method: 'GET',
  path: '/api/designs/{id}/versions',
  summary: 'Saved states of a board design, the newest first; with `version`, that one whole and what it changed',
  params: designId,
  query: z.object({ version: z.coerce.number().int().min(1).optional() }),
  response: chartVersion,
  action: 'read',
  thing: 'machine',
  async handler({ params, query }) {
    const versions = await listVersions('design', params.id);
    if (versions.length === 0) throw problem(404, `There is no board design ${params.id}.`);
    if (query.version === undefined) return { versions };
    const found = await getVersion('design', params.id, query.version);
    if (!found) throw problem(404, `There is no version ${query.version}.`);
    return { versions: versions.filter(({ version }) => version === query.version), ...found };
  },
});
