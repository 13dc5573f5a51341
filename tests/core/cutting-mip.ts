/**
 * The cutting problem again, for comparison only: an arc-flow model (Valério de Carvalho, 1999) in LP format, solved by HiGHS.
 * It shares no code with the planner; strips are paths over positions, a saw cut is a step of one position.
 */
import highsLoader, { type LegacyHighs } from 'highs';
import type { Piece, StripKind } from '@/lib/core/harness/cutting';

export type Highs = LegacyHighs;
export const loadHighs = (): Promise<Highs> => highsLoader();

type Terms = [number, string][];
const order = ['unmet', 'spend', 'packs', 'value', 'positions', 'cuts', 'scrap'] as const;
export type MipCost = Partial<Record<(typeof order)[number], number>>;

/** Minimises the first `depth` costs one after the other, each held at its least for the next. */
export function solveMip(highs: Highs, pieces: readonly Piece[], kinds: readonly StripKind[], reusable: number, depth: number): MipCost {
  const { rows, costs, integers } = modelOf(pieces, kinds, reusable);
  const held: string[] = [];
  const least: MipCost = {};
  for (const name of order.slice(0, depth)) {
    const terms = costs[name];
    if (terms.length === 0) {
      least[name] = 0;
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
    least[name] = Math.round(solved.ObjectiveValue);
    held.push(` held_${name}: ${written(terms)} = ${least[name]}`);
  }
  return least;
}

const written = (terms: Terms) => terms.map(([n, v]) => `${n < 0 ? '-' : '+'} ${Math.abs(n)} ${v}`).join(' ');

function modelOf(pieces: readonly Piece[], kinds: readonly StripKind[], reusable: number) {
  const lengths = [...new Set(pieces.map((p) => p.length))].sort((a, b) => b - a);
  const made: Terms[] = lengths.map((_, i) => [[1, `u${i}`]]);
  const costs: Record<(typeof order)[number], Terms> = { unmet: [], spend: [], packs: [], value: [], positions: [], cuts: [], scrap: [] };
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
