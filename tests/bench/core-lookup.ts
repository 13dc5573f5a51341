/** Lookup on the demo charts: exact clues from the index, clues that must be read and weighed, and the first answers of a fresh chart. */
import { readdirSync, readFileSync } from 'node:fs';
import { indexChart } from '@/lib/core/chart/build';
import { boardDesign, machine } from '@/lib/core/chart/schema';
import type { Chart } from '@/lib/core/chart/types';
import { lookup } from '@/lib/core/lookup';
import { exactClues } from '@/lib/core/lookup/exact';
import { figure } from './figure';

const content = new URL('../../content/', import.meta.url);
const read = (folder: string) =>
  readdirSync(new URL(folder, content))
    .filter((file) => file.endsWith('.json'))
    .map((file): unknown => JSON.parse(readFileSync(new URL(folder + file, content), 'utf8')));
const designs = read('designs/').map((json) => boardDesign.parse(json));
const freshCharts = (): Chart[] =>
  read('machines/')
    .map((json) => machine.parse(json))
    .flatMap((m) => designs.filter((d) => d.id === m.design).map((d) => indexChart(m, d)));

interface Ask {
  chart: Chart;
  clue: string;
}

/** As people type: some in capitals, some as they stand, all of them in an order that leaps about. */
const exactAsks = (charts: Chart[]): Ask[] =>
  leaping(charts.flatMap((chart) => exactClues(chart).map((clue, i) => ({ chart, clue: i % 3 === 0 ? clue.toUpperCase() : clue }))));

/** Names with a letter missing, exchanged or wrong, halves of names, wires with a slip, pieces in any order: none is in the index. */
const fuzzyAsks = (charts: Chart[]): Ask[] => {
  const indexOf = new Map(charts.map((chart) => [chart, new Set(exactClues(chart))]));
  return leaping(
    charts.flatMap((chart) =>
      chart.circuits.flatMap((c, i): Ask[] => {
        const at = 1 + (i % Math.max(1, c.name.length - 2));
        const missing = c.name.slice(0, at) + c.name.slice(at + 1);
        const exchanged = c.name.slice(0, at) + (c.name[at + 1] ?? '') + (c.name[at] ?? '') + c.name.slice(at + 2);
        const wrong = `${c.name.slice(0, at)}x${c.name.slice(at + 1)}`;
        const wires = c.nets.flatMap((net) => chart.nets.get(net)?.colour ?? []);
        const [column = '', row = ''] = wires;
        return [
          missing,
          exchanged,
          wrong,
          `${c.name.slice(0, 4)} ${row.replace('/', ' ')}`,
          `${missing} ${column.replace('/', '-')}`,
          `${row} sw ${c.number}`,
          `row ${c.row ?? 1} collum ${c.column ?? 1}`,
          `${column.replace('e', '')} ${row}`,
          `${c.location} ${c.name.slice(0, 3)}`,
        ].map((clue) => ({ chart, clue }));
      }),
    ),
  ).filter(({ chart, clue }) => !indexOf.get(chart)?.has(clue.trim().toLowerCase()));
};

const leaping = <T>(items: T[]): T[] => items.map((_, i) => items[(i * 7919) % items.length] as T);

export async function benchLookup(): Promise<void> {
  const cold = freshCharts();
  let began = performance.now();
  for (const chart of cold) lookup(chart, '46');
  figure('core', 'lookup, first answer of a fresh chart', (performance.now() - began) / cold.length, 'ms');
  began = performance.now();
  for (const chart of cold) lookup(chart, '46');
  figure('core', 'lookup, index of exact clues made', (performance.now() - began) / cold.length, 'ms');

  const charts = freshCharts();
  const exact = exactAsks(charts);
  for (const chart of charts) lookup(chart, ''); // the index is made at the second call
  began = performance.now();
  for (const { chart, clue } of exact) lookup(chart, clue);
  figure('core', 'lookup, exact clue asked for the first time', ((performance.now() - began) * 1000) / exact.length, 'µs');

  const batches = Array.from({ length: 101 }, () => {
    // New strings each time, as typed: one that was looked up before knows its own hash.
    const asks = exact.map(({ chart, clue }) => ({ chart, clue: Buffer.from(clue).toString() }));
    let wrong = 0;
    const from = performance.now();
    for (const { chart, clue } of asks) {
      const result = lookup(chart, clue);
      if (result.outcome === 'none' || result.outcome === 'empty' || result.clue !== clue) wrong += 1;
    }
    const took = performance.now() - from;
    if (wrong > 0) throw new Error(`${wrong} exact clues found nothing`);
    return (took * 1000) / asks.length;
  });
  const each = batches.toSorted((x, y) => x - y)[Math.floor(batches.length / 2)] ?? 0;
  const clues = `${exact.length} of ${charts.length} charts, median of ${batches.length} rounds`;
  figure('core', `lookup, exact clues (${clues})`, 1e6 / each, 'a second', 1e6, 'at least');
  figure('core', 'lookup, one exact clue', each, 'µs');

  const fuzzy = fuzzyAsks(charts);
  const times = fuzzy.map(() => 0);
  for (let round = 0; round < 3; round += 1) {
    fuzzy.forEach(({ chart, clue }, i) => {
      const from = performance.now();
      lookup(chart, clue);
      times[i] = performance.now() - from;
    });
  }
  const sorted = times.toSorted((a, b) => a - b);
  const quantile = (q: number) => sorted[Math.floor(q * sorted.length)] ?? 0;
  figure('core', `lookup, fuzzy clue, median of ${fuzzy.length}`, quantile(0.5), 'ms', 0.2);
  figure('core', 'lookup, fuzzy clue, 95th percentile', quantile(0.95), 'ms');
}
