/** The exact plan for a job of 40 connectors: time, and what it costs against HiGHS on the same jobs (tests/core/cutting-mip.ts). */
import { type CuttingPlan, type Piece, planCuts } from '@/lib/core/harness/cutting';
import type { StripKind } from '@/lib/core/harness/cutting-strips';
import { loadHighs, solveMip } from '../core/cutting-mip';
import { figure } from './figure';

const jobs = 25;
const connectors = 40;
const reusable = 3;
/** Lengths as headers have them, the common ones more than once; from memory. */
const lengths = [3, 4, 4, 5, 6, 6, 6, 7, 8, 9, 9, 9, 10, 10, 11, 12, 12, 13, 14, 15, 16, 18, 20, 24];
/** Positions, most on hand, pack, pence a pack: an invented catalogue. */
const housings = [
  [6, 8, 10, 240],
  [9, 8, 10, 320],
  [16, 6, 5, 460],
  [20, 5, 5, 590],
  [24, 4, 5, 690],
] as const;

/** The same row of numbers at every run (Numerical Recipes' linear congruence). */
function dice(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state * 1664525 + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

function jobOf(seed: number): { pieces: Piece[]; kinds: StripKind[] } {
  const roll = dice(seed);
  const kinds = housings.map(([positions, most, size, pence]): StripKind => {
    const onHand = roll(most + 1);
    return {
      part: `H-254-${positions}`,
      positions,
      cut: 'sawn',
      onHand,
      value: (100 * pence) / size,
      pack: { size, pence },
      offcut: false,
    };
  });
  const pieces = Array.from({ length: connectors }, (_, i): Piece => ({ id: `A1J${i}`, length: lengths[roll(lengths.length)]! }));
  return { pieces, kinds };
}

export async function benchPlan(): Promise<void> {
  const times: number[] = [];
  const plans: CuttingPlan[] = [];
  for (let seed = 1; seed <= jobs; seed++) {
    const { pieces, kinds } = jobOf(seed);
    const began = performance.now();
    plans.push(planCuts(pieces, kinds));
    times.push(performance.now() - began);
  }
  times.sort((a, b) => a - b);
  figure('core', `exact plan, ${connectors} connectors, median of ${jobs} jobs`, times[Math.floor(jobs / 2)]!, 'ms', 250);
  figure('core', `exact plan, ${connectors} connectors, slowest`, times.at(-1)!, 'ms');
  figure('core', 'exact plan, jobs not proved in every cost', plans.filter((p) => p.unproven).length, 'jobs', 0);

  const highs = await loadHighs();
  let spend = 0;
  let value = 0;
  let mip = 0;
  for (let seed = 1; seed <= jobs; seed++) {
    const { pieces, kinds } = jobOf(seed);
    const began = performance.now();
    const least = solveMip(highs, pieces, kinds, reusable, 2);
    mip += performance.now() - began;
    const { cost } = plans[seed - 1]!;
    spend += Math.abs(cost.spend - least.spend!);
    if (cost.spend === least.spend) value += Math.abs(cost.value - least.value!);
  }
  figure('core', `exact plan, to pay against HiGHS, difference over ${jobs} jobs`, spend, 'p', 0);
  figure('core', `exact plan, value of stock taken against HiGHS, difference over ${jobs} jobs`, value / 100, 'p', 0);
  figure('core', 'exact plan, HiGHS on the same jobs (two of seven costs), mean', mip / jobs, 'ms');
}
