/** How a line runs from the board to one switch. */
import { pathsOf } from '../chart/chain';
import type { Chart, Circuit, Tap } from '../chart/types';
import { perChart } from './per-chart';

/** A switch on a line: the tap it hangs on and the joints passed on the way, its own lug last. */
export interface Run {
  tap: Tap;
  path: string[]; // "splice S2", "46"
}

/** By pin: the ways of each chain behind it, by switch. */
const waysOf = perChart((chart) => {
  const ways = new Map<string, ReadonlyMap<string, string[]>[]>();
  for (const { tap, steps } of chart.machine.chains) ways.set(tap, [...(ways.get(tap) ?? []), pathsOf(steps)]);
  return ways;
});

/** Null when no chain of the chart tells. */
export function runOf(chart: Chart, number: string, net: string): Run | null {
  for (const tap of chart.taps.get(net) ?? []) {
    if (!tap.behind.includes(number)) continue;
    for (const way of waysOf(chart).get(tap.pin) ?? []) {
      const path = way.get(number);
      if (path) return { tap, path };
    }
  }
  return null;
}

/** Taps that a switch may hang on: the one the chart tells, else all of the line. */
export function tapsOf(chart: Chart, circuit: Pick<Circuit, 'number'>, net: string): Tap[] {
  const all = chart.taps.get(net) ?? [];
  const own = all.filter((tap) => tap.behind.includes(circuit.number));
  return own.length > 0 ? own : all;
}
