/** Answers that depend on the chart and a few names alone are worked out once for a chart, and live as long as it does. */
import type { Chart } from '../../chart/types';

export function perChart<Names extends readonly unknown[], T>(
  make: (chart: Chart, ...names: Names) => T,
  keyOf: (...names: Names) => string,
): (chart: Chart, ...names: Names) => T {
  const known = new WeakMap<Chart, Map<string, T>>();
  return (chart, ...names) => {
    const ofChart = known.get(chart) ?? new Map<string, T>();
    known.set(chart, ofChart);
    const key = keyOf(...names);
    const found = ofChart.get(key);
    if (found !== undefined) return found;
    const made = make(chart, ...names);
    ofChart.set(key, made);
    return made;
  };
}
