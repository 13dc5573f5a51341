/** Cut arithmetic against cutting-stock instances with proved results. Figures and their sources: cutting.json. */
import { describe, expect, it } from 'vitest';
import { lostPerCut, offcut, piecesFit } from '@/lib/core/harness';
import { planCuts } from '@/lib/core/harness/cutting';
import figures from './cutting.json';

interface Mill {
  stock: number;
  widths: number[];
  demand: number[];
  total: number;
  lower_bound_rolls: number;
  optimum_rolls: number;
  nonempty_patterns: number;
  maximal_patterns: number;
  example_solution: { rolls: number; pattern: Record<string, number> }[];
}
interface Bins {
  stock: number;
  items: number[];
  optimum_bins: number;
  first_fit_decreasing_bins: number;
}
const row = (id: string) => figures.rows.find((r) => r.id === id);
const mill = row('paper-mill') as unknown as Mill;

/** Every way to cut one roll, as pieces by width, no kerf. */
function patternsOf({ stock, widths }: Mill): number[][] {
  const grow = (pieces: number[], from: number): number[][] =>
    widths.slice(from).flatMap((width, i) => {
      const next = [...pieces, width];
      return piecesFit(next, stock, 0) ? [next, ...grow(next, from + i)] : [];
    });
  return grow([], 0);
}

describe('the paper mill (encyclopaedia example, pattern counts proved by enumeration)', () => {
  it('has 308 patterns that fit, 213 of them maximal', () => {
    const patterns = patternsOf(mill);
    expect(patterns).toHaveLength(mill.nonempty_patterns);
    const narrowest = Math.min(...mill.widths);
    const maximal = patterns.filter((p) => !piecesFit([...p, narrowest], mill.stock, 0));
    expect(maximal).toHaveLength(mill.maximal_patterns);
  });

  it('is cut from 73 rolls by the published solution: every roll fits, every demand is met, the waste adds up', () => {
    const rolls = mill.example_solution.map(({ rolls: count, pattern }) => ({
      count,
      pieces: Object.entries(pattern).flatMap(([width, n]) => Array<number>(n).fill(Number(width))),
    }));
    for (const { pieces } of rolls) expect(piecesFit(pieces, mill.stock, 0)).toBe(true);
    expect(rolls.reduce((sum, r) => sum + r.count, 0)).toBe(mill.optimum_rolls);
    const made = mill.widths.map((w) => rolls.reduce((sum, r) => sum + r.count * r.pieces.filter((p) => p === w).length, 0));
    expect(made).toEqual(mill.demand);
    const waste = rolls.reduce((sum, r) => sum + r.count * offcut(r.pieces, mill.stock, 0), 0);
    expect(waste).toBe(mill.optimum_rolls * mill.stock - mill.total);
  });
});

describe('bin packing instances (OR-Library, uniform class): first fit decreasing', () => {
  it.each(['u120_00', 'u120_01'])('%s takes the published number of bins', (id) => {
    const { items, stock, first_fit_decreasing_bins, optimum_bins } = row(id) as unknown as Bins;
    const bins: number[][] = [];
    for (const item of [...items].sort((a, b) => b - a)) {
      const bin = bins.find((b) => piecesFit([...b, item], stock, 0));
      if (bin) bin.push(item);
      else bins.push([item]);
    }
    expect(bins).toHaveLength(first_fit_decreasing_bins);
    expect(bins.length).toBeGreaterThanOrEqual(optimum_bins);
  });
});

/** Strips without loss, bought singly at one penny. */
const bought = (items: readonly number[], stock: number) => {
  const roll = {
    part: 'ROLL',
    positions: stock,
    cut: 'scored',
    onHand: 0,
    value: 100,
    pack: { size: 1, pence: 1 },
    offcut: false,
  } as const;
  return planCuts(
    items.map((length, i) => ({ id: String(i), length })),
    [roll],
    { reusable: 1, nodes: 150 },
  );
};

describe('the planner proves the published optima', () => {
  const proved = ({ unproven }: ReturnType<typeof planCuts>) =>
    unproven === null || ['positions', 'cuts', 'scrap'].includes(unproven.level);

  it('73 rolls for the paper mill', { timeout: 30_000 }, () => {
    const items = mill.widths.flatMap((width, i) => Array<number>(mill.demand[i]!).fill(width));
    const plan = bought(items, mill.stock);
    expect(plan.cost).toMatchObject({ unmet: 0, spend: mill.optimum_rolls });
    expect(plan.strips).toHaveLength(mill.optimum_rolls);
    expect(proved(plan)).toBe(true);
  });

  it.each(['u120_00', 'u120_01'])(
    'the bins of %s',
    (id) => {
      const { items, stock, optimum_bins } = row(id) as unknown as Bins;
      const plan = bought(items, stock);
      expect(plan.cost).toMatchObject({ unmet: 0, spend: optimum_bins });
      expect(proved(plan)).toBe(true);
    },
    60_000,
  );
});

describe('triplets (the class of E. Falkenauer, 1994: three items fill a bin exactly, so n/3 bins are the optimum; items made here)', () => {
  it.each([30, 60])(
    '%i items',
    (n) => {
      const triplets = Array.from({ length: n / 3 }, (_, i) => {
        const first = 380 + ((i * 67) % 110);
        const second = 250 + ((i * 41) % (Math.floor((1000 - first) / 2) - 250));
        return [first, second, 1000 - first - second];
      });
      const plan = bought(triplets.flat(), 1000);
      expect(plan.cost).toMatchObject({ unmet: 0, spend: n / 3, scrap: 0 });
      expect(plan.unproven).toBeNull();
    },
    30_000,
  );
});

describe('sawn housings lose a position at each cut (examples worked by hand, no source)', () => {
  const { sawn, scored } = lostPerCut;
  it('24 gives 9, 7 and 6 exactly: two cuts', () => {
    expect(piecesFit([9, 7, 6], 24, sawn)).toBe(true);
    expect(offcut([9, 7, 6], 24, sawn)).toBe(0);
  });
  it('24 does not give two of 12 when sawn: 12 leaves 11; scored it does', () => {
    expect(piecesFit([12, 12], 24, sawn)).toBe(false);
    expect(offcut([12], 24, sawn)).toBe(11);
    expect(piecesFit([12, 12], 24, scored)).toBe(true);
    expect(offcut([12, 12], 24, scored)).toBe(0);
  });
  it('12 from 13 leaves nothing', () => {
    expect(piecesFit([12], 13, sawn)).toBe(true);
    expect(offcut([12], 13, sawn)).toBe(0);
  });
  it('is the usual problem with items l + κ in a bin L + κ', () => {
    for (let l = 1; l <= 12; l++)
      for (let stock = 1; stock <= 40; stock++) {
        const pieces = Array<number>(3).fill(l);
        expect(piecesFit(pieces, stock, sawn)).toBe(piecesFit([l + 1, l + 1, l + 1], stock + 1, 0));
      }
  });
});
