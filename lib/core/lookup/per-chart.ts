/** What is worked out once for a chart and kept as long as the chart is. Charts and all that is made here are plain data that nobody changes. */
import type { Chart } from '../chart/types';

export function perChart<T extends object>(make: (chart: Chart) => T): (chart: Chart) => T {
  const kept = new WeakMap<Chart, T>();
  return (chart) => {
    const known = kept.get(chart);
    if (known) return known;
    const made = make(chart);
    kept.set(chart, made);
    return made;
  };
}
