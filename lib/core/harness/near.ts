/** Lines that a slip reaches. */
import { boardOf } from '../chart/names';
import type { Header, Net } from '../chart/schema';
import type { Chart } from '../chart/types';

/** Lines of every header on the same board and of the same loom, each once. */
export function linesNear(chart: Chart, header: Header): Net[] {
  const board = [...chart.headers.values()].filter((h) => boardOf(h.id) === boardOf(header.id)).flatMap((h) => h.pins.map((p) => p.net));
  return [...new Set([...board, ...(header.beside ?? [])])].flatMap((id) => chart.nets.get(id) ?? []);
}
