/** Quick packings to start from: the longest piece first, into the strip where it leaves least. */
import { capacity, costOf, type Model, type Packing, type Pattern, room, takes } from './cutting-model';

/** Which strip to open when no open one has room. */
export const openings = ['shortest', 'longest', 'cheapest'] as const;
type Opening = (typeof openings)[number];

/** Completes a packing: `fixed` patterns stay (more pieces may join them), the rest is packed best fit decreasing. */
export function complete(model: Model, fixed: readonly Pattern[], opening: Opening): Packing {
  const { kinds, lengths } = model;
  const left = [...model.demand];
  const free = kinds.map((k) => k.onHand);
  const strips = fixed.map((p) => ({ kind: p.kind, pieces: [...p.pieces], used: p.used }));
  const open = (k: number) => {
    if (free[k]! <= 0) free[k]! += kinds[k]!.pack?.size ?? 0;
    free[k]! -= 1;
  };
  for (const p of fixed) {
    open(p.kind);
    for (const i of p.pieces) left[i]! -= 1;
  }
  const unmet = lengths.map(() => 0);
  lengths.forEach((length, i) => {
    for (let n = left[i]!; n > 0; n--) {
      let best: (typeof strips)[number] | null = null;
      let least = Number.POSITIVE_INFINITY;
      for (const strip of strips) {
        const kind = kinds[strip.kind]!;
        const rest = capacity(kind) - strip.used - room(kind, length);
        if (!kind.whole && rest >= 0 && rest < least) [best, least] = [strip, rest];
      }
      if (!best) {
        const k = choose(model, free, length, opening);
        if (k === null) {
          unmet[i]! += 1;
          continue;
        }
        open(k);
        best = { kind: k, pieces: [], used: 0 };
        strips.push(best);
      }
      best.pieces.push(i);
      best.used += room(kinds[best.kind]!, length);
    }
  });
  const patterns = strips.map((s) => ({ ...s, pieces: s.pieces.sort((a, b) => a - b) }));
  return { patterns, unmet, cost: costOf(model, patterns, unmet) };
}

function choose({ kinds }: Model, free: readonly number[], length: number, opening: Opening): number | null {
  let best: number | null = null;
  let least: readonly number[] = [];
  kinds.forEach((kind, k) => {
    if (!takes(kind, length)) return;
    const here = free[k]! > 0;
    if (!here && !kind.pack) return;
    const spend = here ? 0 : opening === 'cheapest' ? kind.pack!.pence / (kind.pack!.size * kind.length) : kind.pack!.pence;
    const size = opening === 'longest' ? -kind.length : kind.length;
    const rank = opening === 'cheapest' ? [spend, kind.value, size] : [spend, size, kind.value];
    if (best === null || before(rank, least)) [best, least] = [k, rank];
  });
  return best;
}

function before(a: readonly number[], b: readonly number[]): boolean {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return a[i]! < b[i]!;
  return false;
}
