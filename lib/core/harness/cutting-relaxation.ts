/** The linear relaxation of the cutting problem, by the revised simplex method; patterns enter as they are priced (Gilmore and Gomory, 1961). */
import type { Level, Model } from './cutting-model';
import { bestPattern, pricesFrom } from './cutting-price';
import { type Column, fill, levelOf, type Row, slackSign } from './cutting-rows';

export interface Goal {
  level: Level; // to be least
  step: number;
  packs: boolean; // packs may be bought
  unmet: boolean; // pieces may be left out
}
export interface Relaxed {
  bound: number; // in steps of the goal, valid by weak duality; −∞ when the method did not settle, which proves nothing
  basis: Column[]; // one a row
  amounts: Float64Array;
}

const tiny = 1e-9;
const mostPivots = 4000;
const refactorEvery = 60;
/** Inequalities are let out by a hair, each by another, so that the method does not go round in circles. Bounds use the true figures. */
const hair = (r: number) => 1e-7 * (1 + ((r * 0.618034) % 1));

/** Solves over `rows`. `start` is a basis of the first rows, from a relaxation with fewer of them. Null when nothing fits the rows. */
export function relax(model: Model, rows: readonly Row[], goal: Goal, start: readonly Column[]): Relaxed | null {
  const simplex = new Simplex(model, rows, goal, start);
  const infeasible = simplex.basis.some((c) => c.is === 'artificial') ? simplex.minimise('artificial') : 0;
  if (infeasible > 1e-6) return null;
  const bound = infeasible === Number.NEGATIVE_INFINITY ? infeasible : simplex.minimise('goal');
  return { bound, basis: simplex.basis, amounts: simplex.trueAmounts() };
}

class Simplex {
  readonly basis: Column[];
  private readonly size: number;
  private readonly column: Float64Array;
  private inverse: Float64Array; // row-major
  private broken = false; // a singular basis: figures mean nothing
  private amounts: Float64Array;

  constructor(
    private readonly model: Model,
    private readonly rows: readonly Row[],
    private readonly goal: Goal,
    start: readonly Column[],
  ) {
    this.size = rows.length;
    this.column = new Float64Array(this.size);
    this.basis = rows.map((row, r) => {
      const sign = slackSign(row);
      return start[r] ?? (sign === 0 ? { is: 'artificial', row: r, sign: 1 } : { is: 'slack', row: r, sign });
    });
    this.inverse = this.invert();
    this.amounts = this.amountsAt(true);
    this.basis.forEach((column, i) => {
      if (column.is === 'slack' && this.amounts[i]! < -tiny) this.flip(i, column);
    });
  }

  /** The least of all artificial columns, or of the goal. Returns the bound that the duals prove. */
  minimise(what: 'artificial' | 'goal'): number {
    const { size } = this;
    const alpha = new Float64Array(size);
    for (let pivots = 1; pivots <= mostPivots && !this.broken; pivots++) {
      const duals = this.duals(what);
      const entering = this.entering(what, duals);
      if (!entering) return this.rows.reduce((sum, row, r) => sum + duals[r]! * row.rhs, 0);
      fill(this.model, this.rows, entering, this.column);
      for (let i = 0; i < size; i++) {
        let sum = 0;
        for (let r = 0; r < size; r++) sum += this.inverse[i * size + r]! * this.column[r]!;
        alpha[i] = sum;
      }
      const leaving = this.leaving(what, alpha);
      if (leaving < 0) break;
      this.pivot(leaving, alpha, entering);
      if (pivots % refactorEvery === 0) this.refactor();
    }
    return Number.NEGATIVE_INFINITY;
  }

  trueAmounts(): Float64Array {
    return this.broken ? new Float64Array(this.size) : this.amountsAt(false);
  }

  private cost(column: Column, what: 'artificial' | 'goal'): number {
    if (what === 'artificial') return column.is === 'artificial' ? 1 : 0;
    return levelOf(this.model, column, this.goal.level) / this.goal.step;
  }

  private duals(what: 'artificial' | 'goal'): Float64Array {
    const { size } = this;
    const duals = new Float64Array(size);
    for (let i = 0; i < size; i++) {
      const cost = this.cost(this.basis[i]!, what);
      if (cost !== 0) for (let r = 0; r < size; r++) duals[r]! += cost * this.inverse[i * size + r]!;
    }
    return duals;
  }

  private entering(what: 'artificial' | 'goal', duals: Float64Array): Column | null {
    const { model, rows, goal } = this;
    let best: Column | null = null;
    let most = 1e-8;
    const offer = (column: Column, gain: number) => {
      if (gain > most) [best, most] = [column, gain];
    };
    const prices = pricesFrom(model, rows, duals, what === 'goal' ? goal : null);
    model.kinds.forEach((kind, k) => {
      if (kind.onHand === 0 && !(goal.packs && kind.pack)) return;
      const found = bestPattern(model, k, prices);
      if (found) offer({ is: 'pattern', pattern: found.pattern }, found.gain);
    });
    const offerDirect = (column: Column) => {
      fill(model, rows, column, this.column);
      const worth = duals.reduce((sum, dual, r) => sum + dual * this.column[r]!, 0);
      offer(column, worth - this.cost(column, what));
    };
    if (goal.packs) for (const [k, kind] of model.kinds.entries()) if (kind.pack) offerDirect({ is: 'packs', kind: k });
    if (goal.unmet) for (const type of model.lengths.keys()) offerDirect({ is: 'unmet', type });
    rows.forEach((row, r) => {
      const sign = slackSign(row);
      if (sign !== 0) offer({ is: 'slack', row: r, sign }, duals[r]! * sign);
    });
    return best;
  }

  /** The basic column that runs out first; an artificial one that stands at nothing must not grow again. */
  private leaving(what: 'artificial' | 'goal', alpha: Float64Array): number {
    let leaving = -1;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < this.size; i++) {
      const a = alpha[i]!;
      const stuck = what === 'goal' && this.basis[i]!.is === 'artificial' && Math.abs(a) > 1e-7;
      if (a <= 1e-8 && !stuck) continue;
      const ratio = stuck ? 0 : Math.max(0, this.amounts[i]!) / a;
      if (ratio < least - 1e-12 || (ratio <= least && Math.abs(a) > Math.abs(alpha[leaving] ?? 0))) [leaving, least] = [i, ratio];
    }
    return leaving;
  }

  private pivot(leaving: number, alpha: Float64Array, entering: Column): void {
    const { size, inverse, amounts } = this;
    const by = alpha[leaving]!;
    const base = leaving * size;
    for (let r = 0; r < size; r++) inverse[base + r]! /= by;
    amounts[leaving]! /= by;
    for (let i = 0; i < size; i++) {
      const a = alpha[i]!;
      if (i === leaving || a === 0) continue;
      for (let r = 0; r < size; r++) inverse[i * size + r]! -= a * inverse[base + r]!;
      amounts[i]! -= a * amounts[leaving]!;
    }
    this.basis[leaving] = entering;
  }

  private refactor(): void {
    this.inverse = this.invert();
    this.amounts = this.amountsAt(true);
  }

  private flip(i: number, { row, sign }: { row: number; sign: 1 | -1 }): void {
    this.basis[i] = { is: 'artificial', row, sign: sign === 1 ? -1 : 1 };
    this.amounts[i]! *= -1;
    for (let r = 0; r < this.size; r++) this.inverse[i * this.size + r]! *= -1;
  }

  private amountsAt(hairs: boolean): Float64Array {
    const { size, rows, inverse } = this;
    const rhs = rows.map((row, r) => row.rhs + (hairs ? slackSign(row) * hair(r) : 0));
    return Float64Array.from(this.basis, (_, i) => rhs.reduce((sum, b, r) => sum + inverse[i * size + r]! * b, 0));
  }

  /** Gauss and Jordan with the largest pivot of each column. */
  private invert(): Float64Array {
    const { size } = this;
    const wide = 2 * size;
    const work = new Float64Array(size * wide);
    this.basis.forEach((column, j) => {
      fill(this.model, this.rows, column, this.column);
      for (let r = 0; r < size; r++) work[r * wide + j] = this.column[r]!;
      work[j * wide + size + j] = 1;
    });
    for (let j = 0; j < size; j++) {
      let top = j;
      for (let r = j + 1; r < size; r++) if (Math.abs(work[r * wide + j]!) > Math.abs(work[top * wide + j]!)) top = r;
      const by = work[top * wide + j]!;
      if (Math.abs(by) < 1e-11) {
        this.broken = true;
        return new Float64Array(size * size);
      }
      for (let c = j; c < wide; c++) {
        const swapped = work[top * wide + c]!;
        work[top * wide + c] = work[j * wide + c]!;
        work[j * wide + c] = swapped / by;
      }
      for (let r = 0; r < size; r++) {
        const a = work[r * wide + j]!;
        if (r === j || a === 0) continue;
        for (let c = j; c < wide; c++) work[r * wide + c]! -= a * work[j * wide + c]!;
      }
    }
    return Float64Array.from({ length: size * size }, (_, n) => work[Math.floor(n / size) * wide + size + (n % size)]!);
  }
}
