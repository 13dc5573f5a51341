/** One figure of a bench on one line. `bar` is the most that is allowed; no bar, no verdict. */
export function figure(bench: string, name: string, value: number, unit: string, bar?: number) {
  const rounded = Math.round(value * 100) / 100;
  console.log(
    JSON.stringify({ bench, figure: name, value: rounded, unit, bar: bar ?? null, holds: bar === undefined ? null : rounded <= bar }),
  );
  if (bar !== undefined && rounded > bar) process.exitCode = 1;
}
