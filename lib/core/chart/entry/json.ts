/** A chart as one JSON file, and the JSON Schema of its two parts. */
import * as z from 'zod';
import { error } from '../finding';
import { type Read, readDesign, readMachine } from '../read';
import { type BoardDesign, boardDesign, type Machine, machine } from '../schema';

/** JSON Schema (draft 2020-12) of what may be given for a machine and a board design. */
export const chartSchemas = (): { machine: object; design: object } => ({
  machine: z.toJSONSchema(machine, { io: 'input' }),
  design: z.toJSONSchema(boardDesign, { io: 'input' }),
});

export const exportJson = (chart: { machine: Machine; design: BoardDesign }): string =>
  `${JSON.stringify({ machine: chart.machine, design: chart.design }, null, 2)}\n`;

/** Reads a chart of `exportJson`; exactly the same comes back. */
export function importJson(text: string): Read<{ machine: Machine; design: BoardDesign }> {
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\ufeff/, ''));
  } catch (reason) {
    const message = `This is not JSON: ${reason instanceof Error ? reason.message : 'it cannot be read'}.`;
    return { ok: false, findings: [error('not-json', '(whole)', message, 'Use the file as it was exported.')] };
  }
  const parts = (typeof json === 'object' && json !== null ? json : {}) as Record<string, unknown>;
  const m = readMachine(parts.machine);
  const d = readDesign(parts.design);
  if (m.ok && d.ok) return { ok: true, value: { machine: m.value, design: d.value } };
  const under = (part: string, read: Read<unknown>) => (read.ok ? [] : read.findings.map((f) => ({ ...f, path: `${part}.${f.path}` })));
  return { ok: false, findings: [...under('machine', m), ...under('design', d)] };
}
