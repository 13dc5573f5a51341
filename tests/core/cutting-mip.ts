/**
 * The cutting problem again, for comparison only: an arc-flow model (Valério de Carvalho, 1999) in LP format, solved by HiGHS.
 * It shares no code with the planner; strips are paths over positions, a saw cut is a step of one position.
 */
import highsLoader, { type LegacyHighs } from 'highs';
import type { Piece } from '@/lib/core/harness/cutting';
import type { StripKind } from '@/lib/core/harness/cutting-strips';

export type Highs = LegacyHighs;
export const loadHighs = (): Promise<Highs> => highsLoader();

type Terms = [number, string][];
type Level = 'unmet' | 'spend' | 'packs' | 'value' | 'positions' | 'cuts' | 'scrap';
export type MipCost = Partial<Record<Level, number>>;

/** Costs minimised together: one of the first outweighs what the others can add up to. */
const passes: [Level, number][][] = [
  [
    ['unmet', 1e6],
    ['spend', 100],
    ['packs', 1],
  ],
  [['value', 1]],
  [['positions', 1]],
  [
    ['cuts', 1000],
    ['scrap', 1],
  ],
];

/** The least costs in order, each held for the next. `depth` is how many passes: 1 for what is left out and bought, 4 for everything. */
export function solveMip(highs: Highs, pieces: readonly Piece[], kinds: readonly StripKind[], reusable: number, depth: number): MipCost {
  const { rows, costs, integers } = modelOf(pieces, kinds, reusable);
  const held: string[] = [];
  const least: MipCost = {};
  for (const pass of passes.slice(0, depth)) {
    const terms = pass.flatMap(([level, weight]) => costs[level].map(([n, v]): [number, string] => [n * weight, v]));
    if (terms.length === 0) {
      for (const [level] of pass) least[level] = 0;
      continue;
    }
    const text = [
      'Minimize',
      ` obj: ${written(terms)}`,
      'Subject To',
      ...rows,
      ...held,
      'Generals',
      ...integers.map((v) => ` ${v}`),
      'End',
    ];
    const solved = highs.solve(text.join('\n'), { output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0 });
    if (solved.Status !== 'Optimal') throw new RangeError(`HiGHS: ${solved.Status}`);
    const columns = solved.Columns;
    for (const [level] of pass) {
      const cost = costs[level].reduce((sum, [n, v]) => sum + n * Math.round(Number(columns[v]?.Primal ?? 0)), 0);
      least[level] = cost;
      if (costs[level].length > 0) held.push(` held_${level}: ${written(costs[level])} = ${cost}`);
    }
  }
  return least;
}

/** A sum in LP format; the format does not allow a variable twice in it. */
function written(terms: Terms): string {
  const sums = new Map<string, number>();
  for (const [n, v] of terms) sums.set(v, (sums.get(v) ?? 0) + n);
  return [...sums].map(([v, n]) => `${n < 0 ? '-' : '+'} ${Math.abs(n)} ${v}`).join(' ');
}

function modelOf(pieces: readonly Piece[], kinds: readonly StripKind[], reusable: number) {
  const lengths = [...new Set(pieces.map((p) => p.length))].sort((a, b) => b - a);
  const made: Terms[] = lengths.map((_, i) => [[1, `u${i}`]]);
  const costs: Record<Level, Terms> = { unmet: [], spend: [], packs: [], value: [], positions: [], cuts: [], scrap: [] };
  lengths.forEach((_, i) => {
    costs.unmet.push([1, `u${i}`]);
  });
  const rows: string[] = [];
  const integers = lengths.map((_, i) => `u${i}`);
  kinds.forEach((kind, k) => {
    const blade = kind.cut === 'sawn' ? 1 : 0;
    const end = kind.positions + blade;
    const strips = `s${k}`;
    integers.push(strips);
    const supply: Terms = [[1, strips]];
    if (kind.pack) {
      integers.push(`y${k}`);
      supply.push([-kind.pack.size, `y${k}`]);
      costs.packs.push([1, `y${k}`]);
      if (kind.pack.pence > 0) costs.spend.push([kind.pack.pence, `y${k}`]);
    }
    rows.push(` ${written(supply)} <= ${kind.onHand}`);
    if (kind.value > 0) costs.value.push([kind.value, strips]);
    costs.positions.push([kind.positions, strips]);
    const balance: Terms[] = Array.from({ length: end + 1 }, () => []);
    balance[0]!.push([1, strips]);
    for (let at = 0; at < end; at++) {
      if (balance[at]!.length === 0) continue; // no path leads here
      lengths.forEach((length, i) => {
        const to = at + length + blade;
        if (to > end || (kind.cut === 'no' && (at > 0 || length !== kind.positions))) return;
        const arc = `a${k}_${i}_${at}`;
        integers.push(arc);
        balance[at]!.push([-1, arc]);
        balance[to]!.push([1, arc]);
        made[i]!.push([1, arc]);
        costs.cuts.push([1, arc]);
      });
    }
    for (let at = 1; at <= end; at++) {
      if (balance[at]!.length === 0) continue;
      const stop = `e${k}_${at}`;
      integers.push(stop);
      balance[at]!.push([-1, stop]);
      if (at === end) costs.cuts.push([-1, stop]);
      const left = kind.positions - at;
      if (left > 0 && left < reusable) costs.scrap.push([left, stop]);
    }
    for (const terms of balance) if (terms.length > 0) rows.push(` ${written(terms)} = 0`);
  });
  lengths.forEach((length, i) => {
    rows.push(` ${written(made[i]!)} = ${pieces.filter((p) => p.length === length).length}`);
  });
  return { rows, costs, integers };
}
