/** Branch and bound over the relaxation, level by level: the least of the first, then of the second while the first stays, and so on. */
import { complete, openings } from './cutting-greedy';
import { compareCost, isPacking, type Level, levels, type Model, type Packing, stepOf } from './cutting-model';
import { type Goal, type Relaxed, relax } from './cutting-relaxation';
import { countsOf, fractional, readOff, roundOff } from './cutting-round';
import type { Column, Count, Row } from './cutting-rows';

export interface Searched {
  packing: Packing;
  /** The first level not proved least, with what it cannot be below; null when all are. */
  unproven: { level: Level; bound: number } | null;
  nodes: number; // relaxations solved
}

/** The best packing; `budget` is the most relaxations to solve, all levels together. */
export function searchPacking(model: Model, budget: number): Searched {
  const search = new Search(model, budget);
  const unproven = search.run();
  return { packing: search.best, unproven, nodes: search.nodes };
}

interface Node {
  rows: readonly Row[];
  start: readonly Column[];
  bound: number;
}

class Search {
  best: Packing;
  nodes = 0;
  private rows: Row[];
  private basis: readonly Column[] = [];
  private lost = Number.POSITIVE_INFINITY; // the least bound of a node that was given up

  constructor(
    private readonly model: Model,
    private readonly budget: number,
  ) {
    this.best = openings.map((opening) => complete(model, [], opening)).reduce((a, b) => (compareCost(b.cost, a.cost) < 0 ? b : a));
    this.rows = [
      ...model.demand.map((rhs, type): Row => ({ on: 'demand', type, rhs })),
      ...model.kinds.map((kind, k): Row => ({ on: 'supply', kind: k, rhs: kind.onHand })),
    ];
  }

  run(): Searched['unproven'] {
    for (const level of levels) {
      const step = stepOf(this.model, level);
      if (this.best.cost[level] > 0) {
        const bound = this.least({ level, step, packs: level === 'unmet' || this.best.cost.packs > 0, unmet: this.best.cost.unmet > 0 });
        if (bound < this.best.cost[level]) return { level, bound };
      }
      this.rows = [...this.rows, { on: 'level', level, step, rhs: this.best.cost[level] / step }];
    }
    return null;
  }

  /** Searches one level; returns what it cannot be below. */
  private least(goal: Goal): number {
    const { level, step } = goal;
    const lowest = (z: number) => (z === Number.NEGATIVE_INFINITY ? 0 : Math.max(0, Math.ceil(z - 1e-4) * step));
    const open: Node[] = [{ rows: this.rows, start: this.basis, bound: 0 }];
    for (let node = open.pop(); node; node = open.pop()) {
      if (node.bound >= this.best.cost[level]) continue;
      if (this.nodes >= this.budget) return Math.min(this.lost, node.bound, ...open.map((n) => n.bound));
      this.nodes += 1;
      const relaxed = relax(this.model, node.rows, goal, node.start);
      if (!relaxed) continue;
      if (node.rows === this.rows) this.basis = relaxed.basis;
      const bound = Math.max(node.bound, lowest(relaxed.bound));
      if (bound >= this.best.cost[level]) continue;
      this.offer(roundOff(this.model, relaxed));
      if (bound >= this.best.cost[level]) continue;
      open.push(...this.branch(node, relaxed, bound, level));
    }
    return Math.min(this.lost, this.best.cost[level]);
  }

  private offer(packing: Packing): void {
    if (isPacking(this.model, packing) && compareCost(packing.cost, this.best.cost) < 0) this.best = packing;
  }

  private branch(node: Node, relaxed: Relaxed, bound: number, level: Level): Node[] {
    const groups = countsOf(this.model, relaxed);
    const found = fractional(groups);
    if (!found) {
      const packing = readOff(this.model, groups);
      this.offer(packing);
      // Whole counts cost what the relaxation says. If they do not, rounding errors spoilt it and the node is not proved.
      if (!isPacking(this.model, packing) || packing.cost[level] > bound) this.lost = Math.min(this.lost, bound);
      return [];
    }
    const { count, amount } = found;
    const child = (sense: 1 | -1): Node => ({
      rows: [...node.rows, countRow(count, sense, amount)],
      start: relaxed.basis,
      bound,
    });
    const up = amount - Math.floor(amount) >= 0.5;
    return up ? [child(1), child(-1)] : [child(-1), child(1)];
  }
}

const countRow = (count: Count, sense: 1 | -1, amount: number): Row => ({
  on: 'count',
  count,
  sense,
  rhs: sense === 1 ? Math.floor(amount) : Math.ceil(amount),
});
