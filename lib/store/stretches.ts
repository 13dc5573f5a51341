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
  members: string[]; // who wrote it, in the order of their first entries; empty: the house
  began: number;
  at: number;
}

/** Who begins within that time of another's last entry writes together with them: two who type at once are one stretch, not hundreds. */
export const togetherMs = 20_000;
export const pauseMs = 10 * 60_000; // after that long without an entry the next one begins a stretch
const dayMs = 24 * 60 * 60_000; // days of UTC
/** Most entries of a stretch: what one extends is read and written again each time. */
export const longestStretch = 10_000;

const isOf = ({ members }: StretchMark, member: string | null) => (member === null ? members.length === 0 : members.includes(member));
const joined = (members: string[], member: string | null) => (member === null || members.includes(member) ? members : [...members, member]);

/**
 * True when the entry goes on with the stretch: by one of those who wrote it or at the same time as they, no pause of ten minutes, same
 * day (UTC: a page that is worked on through midnight has a point for each day), not too long, and nobody has named the point where the
 * stretch ends.
 */
export function goesOn(stretch: StretchMark, entry: EntryMark, named: ReadonlySet<number>): boolean {
  return (
    (isOf(stretch, entry.member) || entry.at - stretch.at < togetherMs) &&
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
      open && goesOn(open, entry, named)
        ? { ...open, number, at, members: joined(open.members, member) }
        : { first: number, number, members: joined([], member), began: at, at };
    if (next.first === groups.at(-1)?.first) groups.pop();
    groups.push(next);
    open = next;
  }
  return groups;
}
