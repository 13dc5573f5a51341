import * as z from 'zod';
import { conflictProblem, mergedCells, mergedOf } from '@/app/api/merged';
import { unreadable } from '@/app/api/unreadable';
import { findingsIn } from '@/app/findings';
import { readMachine } from '@/lib/core/chart';
import { machine } from '@/lib/core/chart/schema';
import { endpoint } from '@/lib/http/endpoint';
import { problem } from '@/lib/http/problem';
import { recomputeLater } from '@/lib/search/dependents';
import { getDesign, getMachine, putMachine } from '@/lib/store/machines';
import { finding, machineId } from '../../../shapes';

const chartResponse = z.object({ machine, version: z.number(), findings: z.array(finding) });

export const GET = endpoint({
  method: 'GET',
  path: '/api/machines/{id}/chart',
  summary: 'A machine’s chart, its version and what lint finds in it',
  params: machineId,
  response: chartResponse,
  action: 'read',
  thing: 'machine',
  async handler({ params }) {
    const found = await getMachine(params.id);
    if (!found) throw problem(404, `There is no machine ${params.id}.`);
    const design = await getDesign(found.machine.design);
    return { ...found, findings: design ? await findingsIn(design.design, found.machine) : [] };
  },
});

export const PUT = endpoint({
  method: 'PUT',
  path: '/api/machines/{id}/chart',
  summary: 'Keeps a machine’s chart. A chart with findings is kept and they are told; a chart that cannot be read is refused.',
  params: machineId,
  body: z.object({
    machine: z.unknown(),
    version: z.number().int().nullable().describe('the version it was changed from; null for a new machine'),
  }),
  response: z.object({
    version: z.number(),
    merged: mergedCells,
    pages: z.number().describe('pages that are computed again, beside the work; how far it is, …/dependents tells'),
    findings: z.array(finding),
  }),
  action: 'write',
  thing: 'machine',
  async handler({ params, body, member }) {
    const read = readMachine(body.machine);
    if (!read.ok) throw unreadable('machine', read.findings);
    if (read.value.id !== params.id)
      throw problem(422, `The chart is of ${read.value.id}, the address of ${params.id}.`, [
        { field: 'machine.id', message: `is ${read.value.id}`, mend: `Write ${params.id}, or use the other address.` },
      ]);
    const design = await getDesign(read.value.design);
    if (!design)
      throw problem(422, `There is no board design ${read.value.design}.`, [
        { field: 'machine.design', message: `${read.value.design} is not in this notebook`, mend: 'Put the board design in first.' },
      ]);
    const kept = await putMachine(read.value, body.version, member.id);
    if (!kept.ok) throw conflictProblem(kept.conflicts);
    return {
      version: kept.version,
      merged: mergedOf(kept.merged),
      pages: await recomputeLater('machine', params.id),
      findings: await findingsIn(design.design, kept.chart),
    };
  },
});
