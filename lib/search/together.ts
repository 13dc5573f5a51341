/** How many circuits a fix is about, by what they have in common on the chart. Pure. */
import type { Chart } from '@/lib/core/chart/types';
import type { Lexicon } from '@/lib/core/symptom/lexicon';
import { readName } from '@/lib/core/symptom/read';

export type Together = 'line' | 'bank';
const leastBank = 3;

/** `line`: switches on one column or row; `bank`: devices of one kind. One circuit is never together. */
export function togetherOf(circuits: readonly { number: string; name: string }[], chart: Chart | null, lexicon: Lexicon): Together[] {
  if (circuits.length < 2) return [];
  const [first = [], ...others] = circuits.map(({ number }) => chart?.circuit.get(number)?.nets ?? []);
  const line = first.some((net) => others.every((nets) => nets.includes(net)));
  const [device, ...devices] = circuits.map(({ name }) => readName(name, lexicon).find((t) => t.kind === 'device')?.value);
  const bank = circuits.length >= leastBank && device !== undefined && devices.every((d) => d === device);
  return [...(line ? (['line'] as const) : []), ...(bank ? (['bank'] as const) : [])];
}

const fewLine = 5; // from this many on, circuits with nothing in common are all there are

/** As a word of the reading; null when no circuit is recorded. */
export function extentOf(count: number, together: readonly Together[]): string | null {
  if (count === 0) return null;
  if (count === 1) return 'one';
  return together.at(-1) ?? (count >= fewLine ? 'everything' : 'several');
}
