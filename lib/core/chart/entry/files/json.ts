/** A chart as one JSON file, and the JSON Schema of that file. */
import * as z from 'zod';
import { error } from '../../finding';
import { type Read, read } from '../../read';
import { boardDesign, machine } from '../../schema';
import type { ChartFile } from './export';

const chartFile = z.object({
  format: z.literal('fettlebook-chart/1'),
  design: boardDesign,
  machine: machine.optional(), // absent: the board design by itself
});

/** JSON Schema (draft 2020-12) of what `importJson` reads: a board design, and a machine on it or none. */
export const chartSchema = (): Record<string, unknown> => ({
  ...z.toJSONSchema(chartFile, { io: 'input' }),
  title: 'Chart of a machine',
  description: 'A board design, and a machine that stands on it or none.',
});

export const exportJson = ({ design, machine: own }: ChartFile): string =>
  `${JSON.stringify({ format: 'fettlebook-chart/1', design, ...(own && { machine: own }) }, null, 2)}\n`;

/** Reads a chart of `exportJson`; exactly the same comes back. All that is wrong is found by path. */
export function importJson(text: string): Read<ChartFile> {
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\ufeff/, ''));
  } catch (reason) {
    const message = `This is not JSON: ${reason instanceof Error ? reason.message : 'it cannot be read'}.`;
    return { ok: false, findings: [error('not-json', '(whole)', message, 'Use the file as it was exported.')] };
  }
  const whole = read(chartFile, json);
  if (!whole.ok) return whole;
  const { design, machine: own } = whole.value;
  return { ok: true, value: { design, ...(own && { machine: own }) } };
}
