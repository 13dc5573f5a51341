/** What the log has newly taken, told to those on the page: soon to who waits for it, now and then to the others. */
import * as Y from 'yjs';

const soonMs = 10;
const laterMs = 500;

export interface Hearer {
  /** True while something from it is not known to be in the log. */
  readonly awaits: boolean;
  /** Everything up to `ticket` is in the log; `vector` is an encoded state vector of what is new there. */
  saved(ticket: number, vector: Uint8Array): void;
}

type Vector = Map<number, number>;
/** Raises `vector` to what `other` has. */
export function raise(vector: Vector, other: Vector) {
  for (const [client, clock] of other) if (clock > (vector.get(client) ?? 0)) vector.set(client, clock);
}

/** Commits can follow each other every few milliseconds, and a frame to each person for each would be as much work as the edits. */
export class News {
  private ticket = 0;
  private readonly soon: Vector = new Map();
  private readonly later: Vector = new Map();
  private soonTimer: NodeJS.Timeout | null = null;
  private laterTimer: NodeJS.Timeout | null = null;
  private toldAt = Number.NEGATIVE_INFINITY;

  constructor(private readonly hearers: Iterable<Hearer>) {}

  add(ticket: number, vector: Vector) {
    this.ticket = Math.max(this.ticket, ticket);
    raise(this.soon, vector);
    raise(this.later, vector);
    this.laterTimer ??= setTimeout(() => this.tellAll(), laterMs).unref();
    if (this.soonTimer) return;
    const wait = this.toldAt + soonMs - performance.now();
    if (wait <= 0) this.tellSoon();
    else this.soonTimer = setTimeout(() => this.tellSoon(), wait).unref();
  }

  /** Tells what is still to be told, and stops. */
  close() {
    if (this.laterTimer) this.tellAll();
    if (this.soonTimer) clearTimeout(this.soonTimer);
  }

  private tellSoon() {
    this.soonTimer = null;
    this.toldAt = performance.now();
    const vector = Y.encodeStateVector(this.soon);
    this.soon.clear();
    for (const hearer of this.hearers) if (hearer.awaits) hearer.saved(this.ticket, vector);
  }

  private tellAll() {
    clearTimeout(this.laterTimer!);
    this.laterTimer = null;
    const vector = Y.encodeStateVector(this.later);
    this.later.clear();
    for (const hearer of this.hearers) hearer.saved(this.ticket, vector);
  }
}
