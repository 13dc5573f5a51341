/** One figure of a bench on one line. `bar` is the most that is allowed, or the least; no bar, no verdict. */
export function figure(bench: string, name: string, value: number, unit: string, bar?: number, sense: 'at most' | 'at least' = 'at most') {
  const rounded = Math.round(value * 100) / 100;
  const holds = bar === undefined ? null : sense === 'at most' ? rounded <= bar : rounded >= bar;
  console.log(JSON.stringify({ bench, figure: name, value: rounded, unit, bar: bar ?? null, holds }));
  if (holds === false) process.exitCode = 1;
}

/** The middle of some figures. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}
