/** The pins of one photo of a chart, read and saved by themselves: the same for machines and board designs. */
import * as z from 'zod';
import { photoOf, pinsOf } from '@/lib/core/chart/pinned';
import { chartPhoto, pinned } from '@/lib/core/chart/schema';
import { problem } from '@/lib/http/problem';
import { recomputeLater } from '@/lib/search/dependents';
import { getChart, savePins } from '@/lib/store/chart-photos';
import type { ChartKind } from '@/lib/store/charts';
import { conflictProblem, mergedCells, mergedOf } from './merged';

export const photoParam = { photo: chartPhoto.shape.picture };
export const pinsShape = z.object({
  caption: z.string().trim().max(120).describe('empty: none'),
  pins: z.array(pinned.omit({ photo: true })).max(3000),
});
export const pinsBody = pinsShape.extend({ version: z.int().describe('of the chart, from which they were changed') });
export const pinsResponse = pinsBody.extend({ merged: mergedCells });

export async function readPins(kind: ChartKind, id: string, picture: string) {
  const found = await getChart(kind, id);
  const photo = found && photoOf(found.chart, picture);
  if (!photo) throw problem(404, 'This chart has no such photo.');
  return { version: found.version, caption: photo.caption ?? '', pins: pinsOf(found.chart, picture), merged: [] };
}

export async function putPins(kind: ChartKind, id: string, picture: string, made: z.infer<typeof pinsBody>, member: string) {
  const kept = await savePins(kind, id, picture, made, member);
  if (!kept.ok && kept.reason === 'gone') throw problem(404, 'This chart has no such photo. It may have been taken off meanwhile.');
  if (!kept.ok) throw conflictProblem(kept.conflicts);
  await recomputeLater(kind, id);
  return {
    version: kept.version,
    caption: photoOf(kept.chart, picture)?.caption ?? '',
    pins: pinsOf(kept.chart, picture),
    merged: mergedOf(kept.merged),
  };
}
