/** Keys of a connector on one machine: as its manual says, or as somebody found them there. */
import { connectorOf } from './inline';
import type { Chart } from './types';

/** Positions without a pin, and plugged positions of the housing. A side that nobody looked at is as the chart says. */
export function keysOnMachine(chart: Pick<Chart, 'headers' | 'inline' | 'machine'>, header: string): { pins: number[]; plug: number[] } {
  const byChart = connectorOf(chart, header)?.keys ?? [];
  const found = chart.machine.keysAsFound.filter((k) => k.header === header);
  return {
    pins: found.findLast((k) => k.pins)?.pins ?? byChart,
    plug: found.findLast((k) => k.plug)?.plug ?? byChart,
  };
}
