/** Charts for the tests of the switch fault finder: those of the demo club, and plain grids; readings by printed numbers. */
import sb1 from '@/content/designs/sb-1.json';
import sb2 from '@/content/designs/sb-2.json';
import kestrelFile from '@/content/machines/kestrel-post-1.json';
import lanternFile from '@/content/machines/lantern-regatta-3.json';
import orchardFile from '@/content/machines/tin-orchard.json';
import { type Chart, indexChart } from '@/lib/core/chart';
import { boardDesign, machine } from '@/lib/core/chart/schema';
import { networkOf } from '@/lib/core/diagnosis/switch/network';
import { type Reading, readings } from '@/lib/core/diagnosis/switch/solve';
import { type Wiring, wiringOf } from '@/lib/core/diagnosis/switch/wiring';
import type { Effect } from '@/lib/core/diagnosis/types';
import { grid } from '../simulator/charts';

const designs = [sb1, sb2].map((d) => boardDesign.parse(d));
const chartOf = (file: unknown): Chart => {
  const found = machine.parse(file);
  const design = designs.find((d) => d.id === found.design);
  if (!design) throw new Error(`No design ${found.design}.`);
  return indexChart(found, design);
};
export const lantern = chartOf(lanternFile);
export const kestrel = chartOf(kestrelFile);
export const orchard = chartOf(orchardFile);

export const wiringFor = (chart: Chart): Wiring => wiringOf(networkOf(chart));
export const column = (n: number) => `switch-column.${n}`;
export const row = (n: number) => `switch-row.${n}`;

/** Readings that are not 0, by printed number, with these contacts closed. */
export function reads(wiring: Wiring, effects: readonly Effect[], closed: readonly string[]): Record<string, Reading> {
  const cells = new Set(closed.map((number) => cellOf(wiring, number)));
  const all = readings(wiring, effects, cells);
  return Object.fromEntries(wiring.cells.flatMap(({ number }, i) => ((all[i] ?? 0) > 0 ? [[number, all[i] ?? 0]] : [])));
}
/** Numbers that read closed for sure. */
export const closedNumbers = (wiring: Wiring, effects: readonly Effect[], closed: readonly string[]): string[] =>
  Object.entries(reads(wiring, effects, closed)).flatMap(([number, reading]) => (reading === 1 ? [number] : []));

export function cellOf(wiring: Wiring, number: string): number {
  const index = wiring.cellOf.get(number);
  if (index === undefined) throw new Error(`No switch ${number}.`);
  return index;
}

type Matrix = Parameters<typeof grid>[2];
/** A full grid; numbers are column then row. */
export const gridWiring = (columns: number, rows: number, matrix: Matrix = {}): Wiring => wiringFor(grid(columns, rows, matrix));
