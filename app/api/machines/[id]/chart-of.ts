import { indexChart } from '@/lib/core/chart';
import { problem } from '@/lib/http/problem';
import { getChartParts } from '@/lib/store/machines';

/** The machine's chart, indexed; a 404 problem when there is no such machine. */
export async function chartOf(id: string) {
  const parts = await getChartParts(id);
  if (!parts) throw problem(404, `There is no machine ${id}.`);
  return indexChart(parts.machine, parts.design);
}
