/** Shapes shared by the endpoints. Results of the core are described loosely: their types are in lib/core. */
import * as z from 'zod';
import { machine } from '@/lib/core/chart/schema';

export const machineId = z.object({ id: machine.shape.id });
export const designId = z.object({ id: z.string().regex(/^[A-Z0-9][A-Z0-9-]{0,31}$/, 'use the name of a board design, such as SB-2') });
export const pageId = z.object({ id: z.string().regex(/^[\w-]{1,64}$/, 'use the id of a page') });
export const finding = z.object({
  level: z.enum(['error', 'warning', 'information']),
  rule: z.string(),
  path: z.string(),
  message: z.string(),
  mend: z.string(),
});
export const result = z.record(z.string(), z.unknown());
export const pageInfo = z.object({
  id: z.string(),
  title: z.string(),
  machine: z.string().nullable(),
  state: z.enum(['open', 'mended']),
  on: z.string(),
  url: z.string(),
});
export const pageWithText = pageInfo.extend({
  markdown: z.string().describe('the page whole: what PUT takes'),
  readable: z.string().describe('for reading elsewhere: widgets written out as what they show'),
  notices: z.array(z.string()),
});
export const stretch = z.object({
  number: z.int().describe('of its last entry in the log; the page at the end of the stretch is the page at this number'),
  from: z.int().describe('number of its first entry'),
  members: z
    .array(z.object({ id: z.string(), name: z.string() }))
    .describe('who wrote it, several when they wrote at the same time; none: the notebook itself'),
  began: z.string().describe('ISO time of its first entry'),
  at: z.string().describe('ISO time of its last entry'),
  bytes: z.int().describe('size as stored'),
  name: z.string().nullable().describe('of a named version'),
  url: z.string(),
});
export const chartVersion = z.object({
  versions: z.array(
    z.object({ version: z.int(), member: z.object({ id: z.string(), name: z.string() }).nullable(), at: z.string().describe('ISO time') }),
  ),
  chart: z.unknown().optional().describe('the chart as it was then, when one version is asked for'),
  changes: z
    .array(z.object({ label: z.string(), path: z.array(z.string()), before: z.unknown().optional(), after: z.unknown().optional() }))
    .optional()
    .describe('what that version changed'),
});
