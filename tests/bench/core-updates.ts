/** Ticks observations one after the other, as at the bench, and times each answer of the fault finder. Runs in Node and in the browser. */
import { indexChart } from '@/lib/core/chart/build';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { findFault, type Observation, type Seen } from '@/lib/core/diagnosis';

const press = (number: string, presses: number, missed: number, others: string[] = []): Observation => ({
  kind: 'presses',
  number,
  presses,
  missed,
  how: 'hand',
  others,
});
/** Each list is one repair: what was seen, in that order. */
const repairs: Observation[][] = [
  [press('46', 3, 3), press('44', 3, 0), press('26', 3, 0), press('47', 3, 0)],
  [press('46', 20, 5), press('26', 20, 4), press('36', 20, 6), press('44', 20, 0), press('45', 20, 0)],
  [press('46', 3, 0, ['56']), press('45', 3, 0, ['55']), press('36', 3, 0)],
  [{ kind: 'rest', number: '63', reads: 'active' }, press('62', 3, 0), press('53', 3, 0)],
];

/** Milliseconds of each answer: the first of all, then `rounds` times the same repairs. */
export function timeUpdates(machine: Machine, design: BoardDesign, rounds: number): { first: number; times: number[] } {
  const chart = indexChart(machine, design);
  const times: number[] = [];
  for (let round = 0; round < rounds; round++)
    for (const repair of repairs)
      for (let n = 1; n <= repair.length; n++) {
        const seen: Seen = { observations: repair.slice(0, n), results: [], done: [] };
        const began = performance.now();
        findFault(chart, seen);
        times.push(performance.now() - began);
      }
  const [first = 0] = times;
  return { first, times: times.slice(Math.floor(times.length / rounds)) };
}

Object.assign(globalThis, { timeUpdates });
