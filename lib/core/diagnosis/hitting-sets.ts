/**
 * Minimal hitting sets: the smallest ways to take at least one element of every conflict. With conflicts as sets of components that
 * cannot all be healthy, they are the minimal diagnoses (R. Reiter, Artificial Intelligence 32 (1987) 57–95).
 *
 * The tree of that paper loses answers when conflicts contain one another (R. Greiner, B. A. Smith, R. W. Wilkerson, Artificial
 * Intelligence 41 (1989) 79–88). Here conflicts are made minimal first, and each set is built in one order only: its elements ascending,
 * each with a conflict that it alone hits. So nothing is pruned by comparing with earlier answers.
 */

interface Limits {
  /** Largest size of a set that is looked for. */
  atMost?: number;
  /** How many sets are wanted: the first ones in the order of the answer. */
  limit?: number;
}

/** By size, then element by element. */
export function compareSets(a: readonly string[], b: readonly string[]): number {
  if (a.length !== b.length) return a.length - b.length;
  for (const [i, x] of a.entries()) {
    const y = b[i] as string;
    if (x !== y) return x < y ? -1 : 1;
  }
  return 0;
}

/** The sets that contain no other, once each, sorted. */
export function minimalSets<T extends string>(sets: readonly (readonly T[])[]): T[][] {
  const sorted = sets.map((set) => [...new Set(set)].sort()).sort(compareSets);
  const kept: { list: T[]; has: Set<T> }[] = [];
  for (const list of sorted) {
    const has = new Set(list);
    if (!kept.some((smaller) => smaller.list.every((element) => has.has(element)))) kept.push({ list, has });
  }
  return kept.map(({ list }) => list);
}

/**
 * All minimal hitting sets within the limits, by size, then lexicographic. No conflict: one answer, the empty set. An empty conflict:
 * no answer, because nothing can hit it.
 */
export function minimalHittingSets<T extends string>(conflicts: readonly (readonly T[])[], limits: Limits = {}): T[][] {
  const edges = minimalSets(conflicts);
  const largest = Math.min(limits.atMost ?? edges.length, edges.length);
  const wanted = limits.limit ?? Number.POSITIVE_INFINITY;
  const found: T[][] = [];
  const search = searcher(edges);
  for (let size = 0; size <= largest && found.length < wanted; size++) search(size, wanted, found);
  return found;
}

/** Sets of conflicts are bits of a bigint, in the order of `edges`. */
function searcher<T extends string>(edges: readonly (readonly T[])[]) {
  const elements = [...new Set(edges.flat())].sort();
  const indexOf = new Map(elements.map((element, i) => [element, i]));
  const members = edges.map((edge) => edge.map((element) => indexOf.get(element) as number));
  const lasts = members.map((edge) => edge.at(-1) ?? -1);
  const hits = elements.map(() => 0n);
  for (const [i, edge] of members.entries()) for (const e of edge) hits[e] = (hits[e] as bigint) | (1n << BigInt(i));

  /** Adds to `found` the minimal hitting sets of exactly this size, in lexicographic order, until there are `wanted`. */
  return (size: number, wanted: number, found: T[][]): void => {
    const chosen: number[] = [];
    const extend = (once: bigint, several: bigint): void => {
      const open = edges.flatMap((_, i) => (((once | several) >> BigInt(i)) & 1n ? [] : [i]));
      const room = size - chosen.length;
      if (open.length === 0 && room === 0) found.push(chosen.map((e) => elements[e] as T));
      if (open.length === 0 || room === 0) return;
      const after = chosen.at(-1) ?? -1;
      const reach = Math.min(...open.map((i) => lasts[i] as number)); // beyond it one open conflict could never be hit
      const gains = new Uint32Array(elements.length); // open conflicts that an element would hit
      for (const i of open) for (const e of members[i] as number[]) gains[e] = (gains[e] as number) + 1;
      const best = new Uint32Array(elements.length + 1); // best gain from here on
      for (let e = elements.length - 1; e > after; e--) best[e] = Math.max(gains[e] as number, best[e + 1] as number);
      for (let e = after + 1; e <= reach && found.length < wanted; e++) {
        const gain = gains[e] as number;
        if (gain === 0 || gain + (room - 1) * (best[e + 1] as number) < open.length) continue;
        const hit = hits[e] as bigint;
        const both = several | (once & hit);
        const alone = (once | hit) & ~both;
        if (!chosen.every((c) => ((hits[c] as bigint) & alone) !== 0n)) continue; // one of them would hit nothing by itself
        chosen.push(e);
        extend(alone, both);
        chosen.pop();
      }
    };
    extend(0n, 0n);
  };
}
