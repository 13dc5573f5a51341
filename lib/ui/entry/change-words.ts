/** What a paste puts into a chart, counted as a person counts: 64 switches, 3 lamps, 5 cells more. */
import type { Change } from '@/lib/core/chart/differences';
import { count } from './paste-words';

const rows: Readonly<Record<string, [string, string]>> = {
  switches: ['switch', 'switches'],
  direct: ['direct switch', 'direct switches'],
  lamps: ['lamp', 'lamps'],
  loads: ['load', 'loads'],
  illumination: ['lamp string', 'lamp strings'],
  chains: ['run of the harness', 'runs of the harness'],
  nets: ['line', 'lines'],
  headers: ['header', 'headers'],
  pins: ['pin', 'pins'],
};

/** Empty when nothing changed. The order of rows is no change that anybody made. */
export function changeWords(changes: readonly Change[]): string {
  const fresh = new Map<string, number>();
  let cells = 0;
  for (const { path, before, after } of changes) {
    const list = path.at(-2) ?? '';
    const isRow = path.at(-1)?.startsWith('=') === true;
    if (isRow && before === undefined && rows[list]) fresh.set(list, (fresh.get(list) ?? 0) + 1);
    else if (!Array.isArray(before) || !Array.isArray(after)) cells += 1;
  }
  const parts = [...fresh].map(([list, n]) => count(n, ...(rows[list] as [string, string])));
  if (cells > 0) parts.push(count(cells, 'cell', 'cells'));
  return parts.length < 2 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}
