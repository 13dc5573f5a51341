import * as z from 'zod';
import { conflictProblem, mergedCells, mergedOf } from '@/app/api/merged';
import { unreadable } from '@/app/api/unreadable';
import { findingsIn } from '@/app/findings';
import { readDesign } from '@/lib/core/chart';
import { boardDesign } from '@/lib/core/chart/schema';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { recomputeLater } from '@/lib/search/dependents';
import { getDesign, putDesign } from '@/lib/store/machines';
import { designId, finding } from '../../shapes';

export const GET = endpoint({
  method: 'GET',
  path: '/api/designs/{id}',
  summary: 'A board design, its version and what lint finds in it',
  params: designId,
  response: z.object({ design: boardDesign, version: z.number(), findings: z.array(finding) }),
  action: 'read',
  thing: 'machine',
  async handler({ params }) {
    const found = await getDesign(params.id);
    if (!found) throw problem(404, `There is no board design ${params.id}.`);
    return { ...found, findings: await findingsIn(found.design) };
  },
});

export const PUT = endpoint({
  method: 'PUT',
  path: '/api/designs/{id}',
  summary: 'Keeps a board design; every machine that uses it is computed again',
  params: designId,
  body: z.object({
    design: z.unknown(),
    version: z.number().int().nullable().describe('the version it was changed from; null for a new design'),
  }),
  response: z.object({ version: z.number(), merged: mergedCells, pages: z.number(), findings: z.array(finding) }),
  action: 'write',
  thing: 'machine',
  async handler({ params, body, member }) {
    const read = readDesign(body.design);
    if (!read.ok) throw unreadable('design', read.findings);
    if (read.value.id !== params.id)
      throw problem(422, `The design is ${read.value.id}, the address ${params.id}.`, [
        { field: 'design.id', message: `is ${read.value.id}`, mend: `Write ${params.id}, or use the other address.` },
      ]);
    const kept = await putDesign(read.value, body.version, member.id);
    if (!kept.ok) throw conflictProblem(kept.conflicts);
    return {
      version: kept.version,
      merged: mergedOf(kept.merged),
      pages: await recomputeLater('design', params.id),
      findings: await findingsIn(kept.chart),
    };
  },
});
