/**
 * Stretches: how the entries of a log are put together into points of the page's past. One rule for those that are folded and those
 * that are not yet, so that folding changes nothing that anybody sees.
 */

/** An entry of the log, without its bytes. Times in ms since 1970. */
export interface EntryMark {
  number: number;
  member: string | null;
  at: number;
}
/** A stretch, without its bytes. */
export interface StretchMark {
  first: number; // number of its first entry
  number: number; // of its last
  member: string | null;
  began: number;
  at: number;
}

export const pauseMs = 10 * 60_000; // after that long without an entry the next one begins a stretch
const dayMs = 24 * 60 * 60_000; // days of UTC
/** Most entries of a stretch: what one extends is read and written again each time. */
export const longestStretch = 10_000;

/**
 * True when the entry goes on with the stretch: same member, no pause of ten minutes, same day (UTC: a page that is worked on through
 * midnight has a point for each day), not too long, and nobody has named the point where the stretch ends.
 */
export function goesOn(stretch: StretchMark, entry: EntryMark, named: ReadonlySet<number>): boolean {
  return (
    entry.member === stretch.member &&
    entry.at - stretch.at < pauseMs &&
    Math.floor(entry.at / dayMs) === Math.floor(stretch.at / dayMs) &&
    entry.number - stretch.first < longestStretch &&
    !named.has(stretch.number)
  );
}

/**
 * Groups entries, oldest first, into stretches that follow `last`. The first of them extends `last` when its `first` is that of `last`.
 */
export function groupEntries(last: StretchMark | null, entries: readonly EntryMark[], named: ReadonlySet<number>): StretchMark[] {
  const groups: StretchMark[] = [];
  let open = last;
  for (const entry of entries) {
    const { number, member, at } = entry;
    const next: StretchMark =
      open && goesOn(open, entry, named) ? { ...open, number, at } : { first: number, number, member, began: at, at };
    if (next.first === groups.at(-1)?.first) groups.pop();
    groups.push(next);
    open = next;
  }
  return groups;
}
