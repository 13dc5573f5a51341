import * as z from 'zod';
import { conflictProblem, mergedCells, mergedOf } from '@/app/api/merged';
import { findingsIn } from '@/app/findings';
import { readDesign } from '@/lib/core/chart';
import { boardDesign } from '@/lib/core/chart/schema';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { indexNow } from '@/lib/search/indexer';
import { pagesOfDesign } from '@/lib/store/facts';
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
    if (!read.ok)
      throw problem(
        422,
        'The board design cannot be read.',
        read.findings.map((f) => ({ field: `design.${f.path}`, message: f.message, mend: f.mend })),
      );
    if (read.value.id !== params.id)
      throw problem(422, `The design is ${read.value.id}, the address ${params.id}.`, [
        { field: 'design.id', message: `is ${read.value.id}`, mend: `Write ${params.id}, or use the other address.` },
      ]);
    const kept = await putDesign(read.value, body.version, member.id);
    if (!kept.ok) throw conflictProblem(kept.conflicts);
    const pages = await pagesOfDesign(params.id);
    for (const page of pages) await indexNow(page);
    return { version: kept.version, merged: mergedOf(kept.merged), pages: pages.length, findings: await findingsIn(kept.chart) };
  },
});
