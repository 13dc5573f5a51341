/** What a matrix figure draws, taken from a chart: its lines with colour and first pin, and what sits at each crossing. */
import type { Chart, Circuit } from '@/lib/core/chart/types';
import { colourOf } from '@/lib/core/wire/colours';
import { splitColour } from './colours';

export type MatrixOf = 'switch' | 'lamp';
export interface MatrixLine {
  axis: 'column' | 'row';
  number: number;
  colour: string; // empty when the chart has no such net
  pin: string; // first header position of the line; empty when it has none
}
/** What sits at a crossing, as far as a figure needs it. */
export interface MatrixThing {
  number: string; // as printed
  name: string;
  column?: number;
  row?: number;
}

const line = (chart: Chart, of: MatrixOf, axis: MatrixLine['axis'], number: number): MatrixLine => {
  const net = [...chart.nets.values()].find((n) => n.kind === `${of}-${axis}` && n.number === number);
  return { axis, number, colour: net?.colour ?? '', pin: (net && chart.taps.get(net.id)?.[0]?.pin) ?? '' };
};

export interface MatrixPlan<T extends MatrixThing = MatrixThing> {
  columns: MatrixLine[];
  rows: MatrixLine[];
  /** In the order of the chart. */
  things: T[];
  /** Things that share a crossing on purpose stand together. */
  at: ReadonlyMap<string, T[]>; // by "column,row"
}

/** The switch matrix. */
export const matrixPlan = (chart: Chart): MatrixPlan<Circuit> =>
  planOf(
    chart,
    'switch',
    chart.circuits.filter((c) => c.kind === 'matrix'),
    chart.columns,
    chart.rows,
  );

/** The lamp matrix: its lines are those of the design and those that only the machine uses. */
export function lampPlan(chart: Chart): MatrixPlan<Chart['lamps'][number]> {
  const numbers = (axis: 'column' | 'row') => {
    const known = [...chart.nets.values()].flatMap((n) => (n.kind === `lamp-${axis}` && n.number !== undefined ? [n.number] : []));
    return [...new Set([...known, ...chart.lamps.map((l) => l[axis])])].sort((a, b) => a - b);
  };
  return planOf(chart, 'lamp', chart.lamps, numbers('column'), numbers('row'));
}

function planOf<T extends MatrixThing>(chart: Chart, of: MatrixOf, things: T[], columns: number[], rows: number[]): MatrixPlan<T> {
  const at = new Map<string, T[]>();
  for (const thing of things) {
    if (thing.column === undefined || thing.row === undefined) continue;
    const key = `${thing.column},${thing.row}`;
    at.set(key, [...(at.get(key) ?? []), thing]);
  }
  return {
    columns: columns.map((n) => line(chart, of, 'column', n)),
    rows: rows.map((n) => line(chart, of, 'row', n)),
    things,
    at,
  };
}

/** `grey/orange` → `GRY` and `ORN`, as charts of the trade print them; a name without a short form stands in full. */
export function codeLetters(colour: string): string[] {
  const { base, stripe } = splitColour(colour);
  return [base, stripe].flatMap((name) => (name ? [(colourOf(name)?.short[0] ?? name).toUpperCase()] : []));
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
