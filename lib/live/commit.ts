/** Group commit: what arrives while one append runs goes into the next, for all pages in one transaction. */
import { setTimeout as rest, setImmediate as turn } from 'node:timers/promises';
import * as Y from 'yjs';
import type { UpdateLog } from '@/lib/store/types';
import { saysGone } from './loaded';
import { mergeAll } from './merge';
import { raise } from './news';

// Between the beginnings of two appends; the first after a rest begins at once. With 500 letters/s, appends back to back took so much of the
// processors that letters reached the others 1.7 times as late as without a log; so paced, 1.2 times, and "saved" comes no later.
const paceMs = 20;
const firstRetryMs = 100;
const longestRetryMs = 5000;

interface Piece {
  update: Uint8Array;
  member: string | null;
}
/** What one page still has to commit. A lane exists only while there is something. */
interface Lane {
  page: string;
  pieces: Piece[];
  queued: number; // ticket of the newest piece
  failures: number;
  rest: NodeJS.Timeout | null; // between a failed append and the next try
  waiting: { ticket: number; resolve(): void; reject(error: Error): void }[];
}
export interface CommitListener {
  /** Everything of the page up to `ticket` is in the log; `vector` is what this commit brought, `numbers` are those of its entries. */
  saved(page: string, ticket: number, vector: Map<number, number>, numbers: number[]): void;
  /** The log has no such page any more. */
  gone(page: string): void;
}

/** What of a lane goes into one append. */
interface Part {
  lane: Lane;
  ticket: number;
  pieces: Piece[];
}

/** One piece for each run of the same member: the log keeps who wrote what, in an order in which each entry can be applied. */
function mergeRuns(pieces: Piece[]): Piece[] {
  const runs: { member: string | null; updates: Uint8Array[] }[] = [];
  for (const { member, update } of pieces) {
    const last = runs.at(-1);
    if (last?.member === member) last.updates.push(update);
    else runs.push({ member, updates: [update] });
  }
  return runs.map(({ member, updates }) => ({ member, update: mergeAll(updates) }));
}

const size = (pieces: Piece[]) => pieces.reduce((sum, p) => sum + p.update.length, 0);

export class Committer {
  /** Bytes that wait for the log, over all pages. */
  bytes = 0;
  private readonly lanes = new Map<string, Lane>();
  private tickets = 0;
  private running = false;
  private beganAt = Number.NEGATIVE_INFINITY; // the last append

  constructor(
    private readonly log: UpdateLog,
    private readonly listener: CommitListener,
  ) {}

  /** Queues an update; its ticket grows with each call. */
  add(page: string, update: Uint8Array, member: string | null): number {
    let lane = this.lanes.get(page);
    if (!lane) {
      lane = { page, pieces: [], queued: 0, failures: 0, rest: null, waiting: [] };
      this.lanes.set(page, lane);
    }
    lane.pieces.push({ update, member });
    lane.queued = ++this.tickets;
    this.bytes += update.length;
    void this.run();
    return lane.queued;
  }

  /** Ticket of the page's newest update that is not committed; 0 when all is. */
  pending(page: string): number {
    return this.lanes.get(page)?.queued ?? 0;
  }

  /** Resolves when everything queued for the page until now is committed; rejects when the page is forgotten. */
  settled(page: string): Promise<void> {
    const lane = this.lanes.get(page);
    if (!lane) return Promise.resolve();
    return new Promise((resolve, reject) => lane.waiting.push({ ticket: lane.queued, resolve, reject }));
  }

  /** Resolves when nothing waits any more. */
  async drained(): Promise<void> {
    await Promise.allSettled([...this.lanes.keys()].map((page) => this.settled(page)));
  }

  /** Drops what a page still has to commit: the page is gone. */
  forget(page: string) {
    const lane = this.lanes.get(page);
    if (!lane) return;
    this.lanes.delete(page);
    this.bytes -= size(lane.pieces);
    if (lane.rest) clearTimeout(lane.rest);
    for (const w of lane.waiting) w.reject(new Error('The page was removed before its last changes were saved.'));
  }

  private async run() {
    if (this.running) return;
    this.running = true;
    for (;;) {
      await turn(); // lets every socket that has something to say in this turn join
      const early = this.beganAt + paceMs - performance.now();
      if (early > 0) await rest(early);
      const ready = [...this.lanes.values()].filter((lane) => !lane.rest);
      if (!ready.length) break;
      this.beganAt = performance.now();
      await this.commit(ready);
    }
    this.running = false;
  }

  private async commit(lanes: Lane[]) {
    const batch = lanes.map((lane): Part => {
      const before = size(lane.pieces);
      lane.pieces = mergeRuns(lane.pieces);
      this.bytes += size(lane.pieces) - before;
      return { lane, ticket: lane.queued, pieces: [...lane.pieces] };
    });
    const numbers = await this.append(batch, batch.length === 1);
    if (numbers) return this.succeed(batch, numbers);
    if (batch.length === 1) return;
    // One page that cannot be written (removed meanwhile, say) must not hold up the others.
    for (const part of batch) {
      const own = await this.append([part], true);
      if (own) this.succeed([part], own);
    }
  }

  /** Numbers of the entries; null when the log did not take them. Only the `last` try says what becomes of the page. */
  private async append(batch: Part[], last: boolean): Promise<number[] | null> {
    try {
      return await this.log.append(batch.flatMap(({ lane, pieces }) => pieces.map((piece) => ({ page: lane.page, ...piece }))));
    } catch (error) {
      if (last) for (const { lane } of batch) await this.refused(lane, error);
      return null;
    }
  }

  private async refused(lane: Lane, error: unknown) {
    if (saysGone(error) && (await this.isGone(lane.page))) {
      this.forget(lane.page);
      this.tell(lane.page, () => this.listener.gone(lane.page));
      return;
    }
    console.error(`The log did not take changes of page ${lane.page}; they are kept and tried again.`, error);
    this.fail(lane);
  }

  /** Asks the log twice before changes are dropped. */
  private async isGone(page: string): Promise<boolean> {
    try {
      await this.log.load(page, Number.MAX_SAFE_INTEGER);
      return false;
    } catch (error) {
      return saysGone(error);
    }
  }

  private succeed(batch: Part[], numbers: number[]) {
    let from = 0;
    for (const { lane, ticket, pieces } of batch) {
      const own = numbers.slice(from, from + pieces.length);
      from += pieces.length;
      if (this.lanes.get(lane.page) !== lane) continue; // forgotten meanwhile
      lane.pieces.splice(0, pieces.length);
      lane.failures = 0;
      this.bytes -= size(pieces);
      if (!lane.pieces.length) this.lanes.delete(lane.page);
      const vector = new Map<number, number>();
      for (const { update } of pieces) raise(vector, Y.parseUpdateMeta(update).to);
      this.tell(lane.page, () => this.listener.saved(lane.page, ticket, vector, own));
      const done = lane.waiting.filter((w) => w.ticket <= ticket);
      lane.waiting = lane.waiting.filter((w) => w.ticket > ticket);
      for (const w of done) w.resolve();
    }
  }

  /** A listener's fault must not stop the log. */
  private tell(page: string, say: () => void) {
    try {
      say();
    } catch (error) {
      console.error(`After the commit of page ${page}:`, error);
    }
  }

  private fail(lane: Lane) {
    if (this.lanes.get(lane.page) !== lane) return;
    const ms = Math.min(longestRetryMs, firstRetryMs * 2 ** lane.failures++);
    lane.rest = setTimeout(() => {
      lane.rest = null;
      void this.run();
    }, ms);
  }
}
