/** A chart as files to take away: one JSON, or one CSV a table. */
import { headers } from 'next/headers';
import { can } from '@/lib/access/can';
import { actorOf } from '@/lib/access/session';
import { type ChartFile, exportJson, exportTables } from '@/lib/core/chart/entry';

/** The answer for `chart.json`, or for one of the tables by its name; only for who may read. */
export async function chartFileResponse(name: string, file: string, chart: () => Promise<ChartFile | null>): Promise<Response> {
  if (!can(await actorOf(await headers()), 'read', 'machine')) return new Response('Sign in first.', { status: 401 });
  const found = await chart();
  if (!found) return new Response('There is no such chart.', { status: 404 });
  const table = exportTables(found).find((t) => t.name === file);
  const json = file === 'chart.json';
  if (!json && !table) return new Response('A chart has no such file.', { status: 404 });
  return new Response(json ? exportJson(found) : `\ufeff${table?.csv ?? ''}`, {
    headers: {
      'content-type': json ? 'application/json' : 'text/csv; charset=utf-8',
      'content-disposition': `attachment; filename="${name}-${file}"`,
      'cache-control': 'no-store',
    },
  });
}

/** Files of a chart by name, for links. */
export const chartFiles = (chart: ChartFile): { name: string; rows: number }[] =>
  exportTables(chart).map(({ name, csv }) => ({ name, rows: csv.split('\r\n').length - 2 }));
