import * as z from 'zod';
import { headerName } from '@/lib/core/chart/schema';
import { planConnector } from '@/lib/core/harness';
import { freeFor } from '@/lib/core/parts';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { getCatalogue, stock } from '@/lib/store/parts';
import { reservedFor } from '@/lib/store/stock';
import { machineId, result } from '../../../shapes';
import { chartOf } from '../chart-of';

export const GET = endpoint({
  method: 'GET',
  path: '/api/machines/{id}/connector-plan',
  summary:
    'The plan for one header, or for one half of an in-line connector: positions, terminals, housing, key, parts, cautions, order of work',
  params: machineId,
  query: z.object({
    header: z.union([headerName, z.string().regex(/^X\d{1,2}[BF]$/, 'write a half as X1B (towards the boards) or X1F (the far one)')]),
    headerSide: z.enum(['sound', 'reflow', 'replace']).default('sound'),
    saveKey: z.enum(['true', 'false']).default('false'),
    pigtails: z
      .string()
      .regex(/^\d{1,2}(,\d{1,2})*$/, 'write positions with commas between them, such as 3,7')
      .optional()
      .describe('positions whose wire goes on a pigtail, such as 3,7'),
  }),
  response: result,
  action: 'read',
  thing: 'machine',
  async handler({ params, query }) {
    const [chart, { catalogue }, onHand, reserved] = await Promise.all([chartOf(params.id), getCatalogue(), stock(), reservedFor(null)]);
    const plan = planConnector(chart, query.header, catalogue, freeFor(onHand, reserved), {
      headerSide: query.headerSide,
      saveKey: query.saveKey === 'true',
      pigtails: query.pigtails?.split(',').map(Number) ?? [],
    });
    if (!plan.ok) throw problem(404, plan.message, [{ field: 'header', message: plan.message, mend: plan.mend }]);
    return { ...plan.plan };
  },
});
