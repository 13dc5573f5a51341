/** A page of 200 widgets, computed again after one of them was changed. Runs in a process of its own. */
import { indexChart } from '@/lib/core/chart/build';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import type { Catalogue, Stock } from '@/lib/core/parts/schema';
import { evaluatePage } from '@/lib/notebook/evaluate';
import type { DocNode } from '@/lib/notebook/types';
import type { WidgetState } from '@/lib/widgets/definition';

/** How many of each kind: a long restoration, most of it look-ups and plans. */
const mix = { 'circuit-lookup': 100, 'connector-plan': 40, 'fix-record': 30, 'proof-test': 14, 'parts-tally': 8, 'fault-finder': 8 };

/** Milliseconds of the first computation, and of each one after a change to a widget of each kind in turn. */
export function timeRecompute(machine: Machine, design: BoardDesign, catalogue: Catalogue, stock: Stock, rounds: number) {
  const chart = indexChart(machine, design);
  const numbers = chart.circuits.map((c) => c.number);
  const headers = [...chart.headers.keys()];
  const stateOf = (kind: string, n: number): WidgetState => {
    const number = numbers[n % numbers.length] ?? '46';
    if (kind === 'circuit-lookup') return { clue: n % 3 === 0 ? number : (chart.circuit.get(number)?.name ?? number) };
    if (kind === 'connector-plan') return { header: headers[n % headers.length] ?? 'A3J4', headerSide: 'reflow' };
    if (kind === 'fix-record')
      return { symptom: `misses, ${n}`, [`circuit.${number}`]: true, cause: 'worn-contact', place: 'A3J4-7', outcome: 'mended' };
    if (kind === 'proof-test') return { what: number, 'before.missed': 5, 'before.presses': 20, condition: 'cold', 'run.0.cold.1': n };
    if (kind === 'fault-finder') return { [`seen.${number}`]: { presses: 3, missed: 3 }, 'seen.44': { presses: 3, missed: 0 } };
    return {};
  };
  const widgets: Record<string, WidgetState> = {};
  const content: DocNode[] = [];
  for (const [kind, count] of Object.entries(mix))
    for (let n = 0; n < count; n++) {
      const id = `${kind}-${n}`;
      widgets[id] = stateOf(kind, n);
      content.push({ type: 'widget', attrs: { id, kind } });
    }
  const context = { chart, catalogue, stock, record: {} };
  const evaluate = () => {
    const began = performance.now();
    evaluatePage({ doc: { type: 'doc', content }, widgets }, context);
    return performance.now() - began;
  };
  const first = evaluate();
  const times: number[] = [];
  for (let round = 0; round < rounds; round++)
    for (const kind of Object.keys(mix)) {
      widgets[`${kind}-0`] = stateOf(kind, round + 1);
      times.push(evaluate());
    }
  return { first, times };
}

Object.assign(globalThis, { timeRecompute });
