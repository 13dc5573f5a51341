/**
 * The least force, in newton, that a crimp holds before the wire leaves it. A destructive test of two or three samples of the same wire,
 * terminal and tool; on the harness there is only a tug by hand. Standards differ by a factor of three: the figure names its own.
 */
import figures from '@/content/pull-tests.json';
import { crimpedAwgs } from './pigtail';
import { wireWords } from './terminal';
import type { PlanRow, Problem, PullTest, TogetherTest } from './types';

export const pullStandard = figures.standard;
const table = Object.entries(figures.newtons)
  .map(([awg, newtons]) => ({ awg: Number(awg), newtons }))
  .sort((a, b) => b.awg - a.awg); // thinnest first
const thinnest = table[0]?.awg ?? 0;

/** Newton for a wire by itself. A gauge between two of the table takes the thicker's force; null outside the table. */
export function leastPull(awg: number): number | null {
  if (awg > thinnest) return null;
  return table.find((row) => row.awg <= awg)?.newtons ?? null;
}

/** Other tables of the same wire, each with its own scope. IEC 60352-2 goes by mm² and edition and is not among them. */
const others = figures.beside.map(({ standard, newtons }) => ({ standard, newtons: newtons as Readonly<Record<string, number>> }));

const gaugesOf = (rows: readonly PlanRow[]) => [...new Set(rows.flatMap(crimpedAwgs))].sort((a, b) => a - b);

export const pullTests = (rows: readonly PlanRow[]): PullTest[] =>
  gaugesOf(rows).flatMap((awg) => {
    const newtons = leastPull(awg);
    return newtons === null ? [] : [{ awg, newtons, standard: pullStandard, beside: besideAt(awg) }];
  });

const besideAt = (awg: number) =>
  others.flatMap(({ standard, newtons }) => (newtons[awg] === undefined ? [] : [{ standard, newtons: newtons[awg] }]));

/** Wires together in one terminal: each is pulled alone, against the force for the smallest of them. */
export const togetherTests = (rows: readonly PlanRow[]): TogetherTest[] =>
  rows
    .filter((r) => r.wires.length > 1 && r.terminal !== null && !r.pigtail?.chosen)
    .map(({ position, wires }) => {
      const awg = Math.max(...wires.map((w) => w.awg));
      return { position, wires: wireWords(wires), awg, newtons: leastPull(awg) };
    });

/** Gauges that the table has no figure for. */
export const withoutPull = (rows: readonly PlanRow[]): Problem[] =>
  gaugesOf(rows)
    .filter((awg) => leastPull(awg) === null)
    .map((awg) => ({
      level: 'warning',
      message: `There is no pull-test figure for ${awg} AWG in ${pullStandard}.`,
      mend: 'Go by the terminal maker’s own figure.',
    }));
