/** The gauge of lines that are new to the board design: by question, once for a kind, where neither the table nor the design says it. */
import type { NetKind } from '../../schema';
import type { Understood } from '../types';
import { ask, type Reading } from './reading';

const choices = ['18', '20', '22', '24', '26', '28'].map((value) => ({ value, label: `${value} AWG` }));

/** The same with the gauges that were answered. */
export function settleGauges(reading: Reading, rows: Understood[]): Understood[] {
  const { nets } = reading.chart.design;
  const ids = new Set(nets.map((net) => net.id));
  const kinds = new Set(nets.map((net) => net.kind));
  const lines = rows.flatMap(({ at, put }) => (put.what === 'line' && !ids.has(put.id) ? [{ at, ...put }] : []));
  const said = new Set(lines.flatMap(({ id, fields }) => (fields.awg === undefined ? [] : [id, id.split('.')[0] ?? ''])));
  const gauges = new Map<string, number>();
  for (const { id, at, fields } of lines) {
    const kind = id.split('.')[0] ?? '';
    if (fields.colour === undefined || said.has(kind) || kinds.has(kind as NetKind) || gauges.has(id)) continue;
    const answer = ask(reading, {
      id: `gauge.${kind}`,
      text: `Which gauge are the wires of the ${kind.replace('-', ' ')} lines?`,
      choices,
      why: 'The board design does not know these lines yet, and the table does not say it.',
      at,
    });
    if (answer !== undefined) gauges.set(id, Number(answer));
  }
  if (gauges.size === 0) return rows;
  return rows.map((row) => {
    const { put } = row;
    const awg = put.what === 'line' && put.fields.colour !== undefined ? gauges.get(put.id) : undefined;
    return put.what === 'line' && awg !== undefined ? { ...row, put: { ...put, fields: { ...put.fields, awg } } } : row;
  });
}
