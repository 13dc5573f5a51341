/** How alike two signs are, 0 to 1: people describe one fault in several ways. Our own judgement, common practice, no source. */
import type { SignKind } from './types';

const alike: Record<SignKind, [string, string, number][]> = {
  sort: [],
  does: [
    ['dead', 'sometimes', 0.4],
    ['dead', 'weak', 0.35],
    ['dead', 'blows-fuse', 0.3],
    ['sometimes', 'weak', 0.3],
    ['sometimes', 'resets', 0.1],
    ['always', 'by-itself', 0.6],
    ['always', 'twice', 0.2],
    ['always', 'hot', 0.2],
    ['twice', 'by-itself', 0.3],
    ['twice', 'with-another', 0.15],
    ['with-another', 'wrong-one', 0.4],
    ['with-another', 'by-itself', 0.35],
    ['hot', 'blows-fuse', 0.3],
    ['hot', 'weak', 0.25],
    ['hot', 'noisy', 0.15],
  ],
  extent: [
    ['one', 'several', 0.3],
    ['one', 'bank', 0.15],
    ['one', 'line', 0.1],
    ['several', 'line', 0.5],
    ['several', 'bank', 0.6],
    ['several', 'everything', 0.2],
    ['line', 'bank', 0.5],
    ['line', 'everything', 0.35],
    ['bank', 'everything', 0.3],
  ],
  when: [
    ['hit', 'touched', 0.4],
    ['after-repair', 'stood', 0.25],
    ['cold', 'damp', 0.2],
  ],
};

const tables = Object.fromEntries(
  Object.entries(alike).map(([kind, rows]) => {
    const table = new Map<string, [string, number][]>();
    for (const [a, b, value] of rows)
      for (const [from, to] of [
        [a, b],
        [b, a],
      ] as const)
        table.set(from, [...(table.get(from) ?? []), [to, value]]);
    return [kind, table];
  }),
) as Record<SignKind, Map<string, [string, number][]>>;

/** A sign with all that are like it, itself first with 1. */
export const likeSigns = (kind: SignKind, id: string): [id: string, value: number][] => [[id, 1], ...(tables[kind].get(id) ?? [])];
