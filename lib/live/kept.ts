/** Which pages have changes on this device that the log does not have yet. A list in the browser's storage, read by every window. */
import * as z from 'zod/mini';

const place = 'fettlebook.kept';
const entry = z.object({
  member: z.string(),
  title: z.string(),
  changes: z.number(),
  /** The window that wrote it last; only that one may say that all is saved. */
  window: z.string(),
  at: z.number(), // ms since 1970
});
type Entry = z.infer<typeof entry>;
export interface Kept extends Entry {
  page: string;
}

function read(): Record<string, Entry> {
  try {
    const list = z.record(z.string(), z.unknown()).parse(JSON.parse(localStorage.getItem(place) ?? '{}'));
    return Object.fromEntries(
      Object.entries(list).flatMap(([key, value]) => {
        const found = entry.safeParse(value);
        return found.success ? [[key, found.data]] : [];
      }),
    );
  } catch {
    return {}; // no storage, or not ours: the documents themselves are kept elsewhere
  }
}

function write(list: Record<string, Entry>) {
  try {
    if (Object.keys(list).length) localStorage.setItem(place, JSON.stringify(list));
    else localStorage.removeItem(place);
  } catch {
    // The document's own store knows it too (shelf.ts), and a page that is opened again sends what it has.
  }
}

/** Two members of one device may each have changes of the same page. */
const keyOf = (page: string, member: string) => `${page} ${member}`;

/** Pages with changes that only this device has, the oldest first. */
export const keptPages = (): Kept[] =>
  Object.entries(read())
    .map(([key, value]) => ({ page: key.split(' ')[0] ?? key, ...value }))
    .sort((a, b) => a.at - b.at);

/** How many changes of that member's the page has on this device. */
export function keptOf(page: string, member: string): number {
  return read()[keyOf(page, member)]?.changes ?? 0;
}

/** Notes how many there are. With none, the page goes from the list; false where another window has noted some since. */
export function noteKept(page: string, note: Omit<Entry, 'at'>): boolean {
  const list = read();
  const key = keyOf(page, note.member);
  const before = list[key];
  if (note.changes > 0) list[key] = { ...note, at: before?.at ?? Date.now() };
  else if (before && before.window !== note.window) return false;
  else delete list[key];
  write(list);
  return true;
}

/** Takes a member's pages from the list. */
export function forgetKept(member: string) {
  write(Object.fromEntries(Object.entries(read()).filter(([, value]) => value.member !== member)));
}
