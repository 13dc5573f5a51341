import * as z from 'zod';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { getVersion, listVersions } from '@/lib/store/charts';
import { chartVersion, machineId } from '../../../../shapes';

export const GET = endpoint({
  method: 'GET',
  path: '/api/machines/{id}/chart/versions',
  summary: 'Saved states of a machine’s chart, the newest first; with `version`, that one whole and what it changed',
  params: machineId,
  query: z.object({ version: z.coerce.number().int().min(1).optional() }),
  response: chartVersion,
  action: 'read',
  thing: 'machine',
  async handler({ params, query }) {
    const versions = await listVersions('machine', params.id);
    if (versions.length === 0) throw problem(404, `There is no machine ${params.id}.`);
    if (query.version === undefined) return { versions };
    const found = await getVersion('machine', params.id, query.version);
    if (!found) throw problem(404, `There is no version ${query.version}.`);
    return { versions: versions.filter(({ version }) => version === query.version), ...found };
  },
});
