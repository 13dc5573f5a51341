/** Group commit: what arrives while one append runs goes into the next, for all pages in one transaction. */
import { setImmediate as turn } from 'node:timers/promises';
import * as Y from 'yjs';
import type { LogEntry, UpdateLog } from '@/lib/store/types';

const mergeWidth = 64; // one flat merge of many small updates is worse than linear: 40,000 take 45 s flat and 0.2 s as a tree
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
/** Called after a commit: everything of the page up to `ticket` is in the log; `vector` is what this commit brought. */
export type OnSaved = (page: string, ticket: number, vector: Map<number, number>) => void;

/** Merges updates in a tree, at most 64 at a time. */
export function mergeAll(updates: Uint8Array[]): Uint8Array {
  let level = updates;
  while (level.length > 1) {
    const next: Uint8Array[] = [];
    for (let i = 0; i < level.length; i += mergeWidth) next.push(Y.mergeUpdates(level.slice(i, i + mergeWidth)));
    level = next;
  }
  return level[0]!;
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

  constructor(
    private readonly log: UpdateLog,
    private readonly onSaved: OnSaved,
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
      const ready = [...this.lanes.values()].filter((lane) => !lane.rest);
      if (!ready.length) break;
      await this.commit(ready);
    }
    this.running = false;
  }

  private async commit(lanes: Lane[]) {
    const batch = lanes.map((lane) => {
      const before = size(lane.pieces);
      lane.pieces = mergeRuns(lane.pieces);
      this.bytes += size(lane.pieces) - before;
      return { lane, ticket: lane.queued, pieces: [...lane.pieces] };
    });
    const entries = (part: typeof batch): LogEntry[] =>
      part.flatMap(({ lane, pieces }) => pieces.map((piece) => ({ page: lane.page, ...piece })));
    if (await this.append(entries(batch), batch.length === 1)) {
      for (const { lane, ticket, pieces } of batch) this.succeed(lane, ticket, pieces);
      return;
    }
    if (batch.length === 1) return this.fail(lanes[0]!);
    // One page that cannot be written (removed meanwhile, say) must not hold up the others.
    for (const part of batch) {
      if (await this.append(entries([part]), true)) this.succeed(part.lane, part.ticket, part.pieces);
      else this.fail(part.lane);
    }
  }

  private async append(entries: LogEntry[], report: boolean): Promise<boolean> {
    try {
      await this.log.append(entries);
      return true;
    } catch (error) {
      if (report) console.error(`The log did not take changes of page ${entries[0]?.page}; they are kept and tried again.`, error);
      return false;
    }
  }

  private succeed(lane: Lane, ticket: number, pieces: Piece[]) {
    if (this.lanes.get(lane.page) !== lane) return; // forgotten meanwhile
    lane.pieces.splice(0, pieces.length);
    lane.failures = 0;
    this.bytes -= size(pieces);
    if (!lane.pieces.length) this.lanes.delete(lane.page);
    const vector = new Map<number, number>();
    for (const { update } of pieces) {
      for (const [client, clock] of Y.parseUpdateMeta(update).to) vector.set(client, Math.max(clock, vector.get(client) ?? 0));
    }
    try {
      this.onSaved(lane.page, ticket, vector);
    } catch (error) {
      console.error(`After the commit of page ${lane.page}:`, error); // a listener's fault must not stop the log
    }
    const done = lane.waiting.filter((w) => w.ticket <= ticket);
    lane.waiting = lane.waiting.filter((w) => w.ticket > ticket);
    for (const w of done) w.resolve();
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
