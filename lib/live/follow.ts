/** Keeps an open page level with the log, which other servers write to as well. */
import type { LogPage } from '@/lib/store/types';

const firstRetryMs = 100;
const longestRetryMs = 5000;

export interface Following {
  /** Reads what the log has after an entry. */
  load(after: number): Promise<LogPage>;
  /** Takes it in; must not reject. */
  take(loaded: LogPage): Promise<void>;
  /** Tells of a failed load; true to try again later. */
  failed(error: unknown): boolean;
}

/** One load at a time, until nothing is missing; what is heard meanwhile goes into the next. */
export class Follower {
  private at = -1; // before the page has been loaded for the first time
  private wanted = 0;
  private unsure = false;
  private running = false;
  private failures = 0;
  private retry: NodeJS.Timeout | null = null;
  private closed = false;

  constructor(private readonly following: Following) {}

  /** Number of the newest entry that was taken in with all before it. */
  get number() {
    return this.at;
  }
  get busy() {
    return this.running || this.retry !== null;
  }

  /** The whole page has been loaded, up to `number`. */
  level(number: number) {
    this.at = Math.max(this.at, number);
    this.start();
  }

  /** The log has entries up to `number`. */
  heard(number: number) {
    this.wanted = Math.max(this.wanted, number);
    this.start();
  }

  /** Entries with these numbers are from here: nothing is missing when they follow on. */
  own(numbers: number[]) {
    for (const number of numbers) {
      if (number === this.at + 1) this.at = number;
      else if (number > this.at) this.wanted = Math.max(this.wanted, number);
    }
    this.start();
  }

  /** Something may not have been heard. */
  missed() {
    this.unsure = true;
    this.start();
  }

  close() {
    this.closed = true;
    if (this.retry) clearTimeout(this.retry);
  }

  private start() {
    if (this.at >= 0 && !this.busy && !this.closed && this.behind) void this.run();
  }
  private get behind() {
    return this.unsure || this.wanted > this.at;
  }

  private async run() {
    this.running = true;
    while (this.behind && !this.closed && !this.retry) await this.step();
    this.running = false;
  }

  private async step() {
    const heard = this.wanted;
    this.unsure = false;
    let loaded: LogPage;
    try {
      loaded = await this.following.load(this.at);
    } catch (error) {
      if (this.closed || !this.following.failed(error)) return;
      this.unsure = true;
      this.retry = setTimeout(
        () => {
          this.retry = null;
          this.start();
        },
        Math.min(longestRetryMs, firstRetryMs * 2 ** this.failures++),
      );
      this.retry.unref();
      return;
    }
    if (this.closed) return;
    this.failures = 0;
    await this.following.take(loaded);
    this.at = Math.max(this.at, loaded.number);
    if (this.wanted === heard) this.wanted = this.at; // the log's word counts, not a rumour of more
  }
}
