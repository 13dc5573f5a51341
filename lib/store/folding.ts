/** When pages are folded: told of each commit, and looking now and then for what nobody told of. One page at a time. */
import { sql } from 'drizzle-orm';
import type { Database } from './database';
import { type FoldThread, foldThread, UnfoldableError } from './fold-aside';
import { foldStep, type Tail, tailOf } from './fold-page';
import type { UpdateLog } from './types';

/** A tail is long from either of these on. Folding takes a processor from those who write: while a page is busy, seldom. */
export const longEntries = 2048;
export const longBytes = 256 * 1024;
/** A long tail is folded once it is this part of the stored base: so a page costs no more than a few times its own size, however big. */
export const partOfBase = 1 / 4;
/** A page whose document has left the memory is folded from this many entries on, so that opening it costs no more than reading its base; */
export const restedEntries = 256;
/** or from this many bytes on, when they are this part of the base: an entry can hold much. */
export const restedBytes = 4096;
export const restedPart = 1 / 16;
/** A page that nobody has changed for some minutes is folded from this many entries on. */
export const quietEntries = 16;
const quietMs = 3 * 60_000;
const sweepMs = 2 * 60_000; // give or take a half: several servers should not sweep at once
const mostInSweep = 100; // pages; the rest come with the next
const mostTries = 3; // against other servers, then the next sweep has it

const isLong = ({ entries, bytes }: { entries: number; bytes: number }) => entries >= longEntries || bytes >= longBytes;

/** How much a page is being worked on. */
type Pace = 'busy' | 'rested' | 'quiet';

/** True when a page with that tail is to be folded. */
export function isDue(tail: Tail, pace: Pace): boolean {
  if (pace === 'busy') return isLong(tail) && tail.bytes >= tail.baseBytes * partOfBase;
  if (pace === 'quiet') return tail.entries >= quietEntries;
  return tail.entries >= restedEntries || tail.bytes >= Math.max(restedBytes, tail.baseBytes * restedPart);
}

/** What this server has appended to a page since it last looked. */
interface Tally {
  entries: number;
  bytes: number;
  enough: number; // bytes below which the page need not be looked at
  at: number;
}

export interface Folding {
  /** The page's log got that many entries, of so many bytes together. */
  changed(page: string, entries: number, bytes: number): void;
  /** The page's document has left the memory of this server. */
  rested(page: string): void;
  /** Looks for long tails and quiet pages now; resolves when they are folded. */
  sweep(): Promise<void>;
  /** Resolves when nothing waits to be folded. */
  settled(): Promise<void>;
  /** Stops, also in the middle of a fold: nothing is lost by that. */
  close(): Promise<void>;
}

export function startFolding(db: Database, thread: FoldThread = foldThread()): Folding {
  const tallies = new Map<string, Tally>();
  const waiting = new Map<string, Pace>();
  const unfoldable = new Set<string>(); // reported, and left alone until the next start
  let running: Promise<void> | null = null;
  let closed = false;
  let next: NodeJS.Timeout | undefined;

  async function foldPage(id: string, pace: Pace) {
    for (let tries = 0; tries < mostTries && !closed; ) {
      const tail = await tailOf(db, id);
      if (!tail) return void tallies.delete(id);
      if (!isDue(tail, pace)) {
        if (tail.entries === 0) tallies.delete(id);
        else tallies.set(id, { ...tail, enough: tail.baseBytes * partOfBase, at: performance.now() });
        return;
      }
      if ((await foldStep(db, id, (work) => thread.fold(work))) === 'lost') tries++;
    }
  }

  async function run() {
    await null; // so that `running` is set before it is cleared
    for (const [id, pace] of waiting) {
      waiting.delete(id);
      if (closed || unfoldable.has(id)) continue;
      try {
        await foldPage(id, pace);
      } catch (error) {
        tallies.delete(id); // tried again after as many entries, or at a sweep
        if (closed) continue;
        if (error instanceof UnfoldableError) {
          unfoldable.add(id);
          console.error(`The log of page ${id} can't be folded (${error.message}). It is left as it is; the page stays as it was.`);
        } else console.error(`Page ${id} could not be folded now; it is tried again later.`, error);
      }
    }
    running = null; // in the same turn as the last look at what waits
  }

  function want(id: string, pace: Pace) {
    if (closed || unfoldable.has(id)) return;
    waiting.set(id, pace);
    running ??= run();
  }

  async function settled() {
    while (running) await running;
  }

  async function sweep() {
    const now = performance.now();
    for (const [id, tally] of tallies) if (tally.at < now - quietMs) tallies.delete(id);
    const { rows } = await db.execute<{ id: string; quiet: boolean }>(sql`
      select p.id, p.changed_at < now() - make_interval(secs => ${quietMs / 1000}) as quiet
      from page p left join page_base b on b.page = p.id
      where p.removed_at is null and not p.id = any(${sql.param([...unfoldable])}::text[])
        and p.head - coalesce(b.number, 0) >= case
          when p.changed_at < now() - make_interval(secs => ${quietMs / 1000}) then ${quietEntries}::int else ${longEntries}::int end
      order by random() limit ${mostInSweep}`);
    for (const { id, quiet } of rows) want(id, quiet ? 'quiet' : 'busy');
    await settled();
  }

  function sweepLater(ms: number) {
    next = setTimeout(async () => {
      await sweep().catch((error) => console.error('Could not look for pages to fold; it is tried again later.', error));
      if (!closed) sweepLater(sweepMs * (0.5 + Math.random()));
    }, ms);
    next.unref();
  }
  sweepLater(0);

  return {
    changed(id, entries, bytes) {
      if (unfoldable.has(id)) return;
      const tally = tallies.get(id) ?? { entries: 0, bytes: 0, enough: 0, at: 0 };
      tally.entries += entries;
      tally.bytes += bytes;
      tally.at = performance.now();
      tallies.set(id, tally);
      if (isLong(tally) && tally.bytes >= tally.enough && !waiting.has(id)) want(id, 'busy');
    },
    rested: (id) => want(id, 'rested'),
    sweep,
    settled,
    async close() {
      closed = true;
      clearTimeout(next);
      waiting.clear();
      await thread.close();
      await settled();
    },
  };
}

/** The log, telling of each commit. */
export const logThatFolds = (log: UpdateLog, folding: Pick<Folding, 'changed'>): UpdateLog => ({
  load: (page, after) => log.load(page, after),
  async append(entries) {
    const numbers = await log.append(entries);
    for (const { page, update } of entries) folding.changed(page, 1, update.length);
    return numbers;
  },
});
