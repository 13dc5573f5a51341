/** What the matrix figure draws, taken from a chart: its lines with colour and first pin, and its switches by crossing. */
import type { Chart, Circuit } from '@/lib/core/chart/types';

export interface MatrixLine {
  axis: 'column' | 'row';
  number: number;
  colour: string; // empty when the chart has no such net
  pin: string; // first header position of the line; empty when it has none
}

const line = (chart: Chart, axis: MatrixLine['axis'], number: number): MatrixLine => {
  const net = [...chart.nets.values()].find((n) => n.kind === `switch-${axis}` && n.number === number);
  return { axis, number, colour: net?.colour ?? '', pin: (net && chart.taps.get(net.id)?.[0]?.pin) ?? '' };
};

export interface MatrixPlan {
  columns: MatrixLine[];
  rows: MatrixLine[];
  /** Switches that share a crossing on purpose stand together. */
  at: ReadonlyMap<string, Circuit[]>; // by "column,row"
}

export function matrixPlan(chart: Chart): MatrixPlan {
  const at = new Map<string, Circuit[]>();
  for (const circuit of chart.circuits) {
    if (circuit.kind !== 'matrix' || circuit.column === undefined || circuit.row === undefined) continue;
    const key = `${circuit.column},${circuit.row}`;
    at.set(key, [...(at.get(key) ?? []), circuit]);
  }
  return { columns: chart.columns.map((n) => line(chart, 'column', n)), rows: chart.rows.map((n) => line(chart, 'row', n)), at };
}

/** At most two lines of a name, the last shortened when it must be. The whole name stands in the table. */
export function shortLines(name: string, room: number): string[] {
  const lines: string[] = [];
  for (const word of name.split(/\s+/)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= room) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  const kept = lines.slice(0, 2).map((l) => (l.length > room ? `${l.slice(0, room - 1)}…` : l));
  if (lines.length > 2 && kept[1] !== undefined && !kept[1].endsWith('…')) kept[1] = `${kept[1].slice(0, room - 1)}…`;
  return kept;
}
