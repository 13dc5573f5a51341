/** What the store keeps, as the rest of the house sees it. */
import type { Role } from '@/lib/access/can';

export interface Member {
  id: string;
  name: string;
  email: string;
  role: Role;
  removedAt: string | null;
}
export interface PageRow {
  id: string; // url-safe, 12 characters
  machineId: string | null;
  title: string; // from the index; "Untitled" until written
  state: 'open' | 'mended'; // from the fix record's outcome
  on: string; // day of the work, 2025-11-08
  createdAt: string;
  createdBy: string | null; // member id
  updatedAt: string; // newest log entry
}
/** What keeping a versioned thing gives: refused when it was changed meanwhile. */
export type PutResult = { ok: true; version: number } | { ok: false; reason: 'changed' };
/** One entry of the append-only log. */
export interface LogEntry {
  page: string;
  update: Uint8Array; // Yjs update, V1
  member: string | null;
}
/** A page as the log has it. */
export interface LogPage {
  /** Everything up to some entry, folded into one (Yjs update, V2); null while all that was asked for stands in `tail`. */
  base: Uint8Array | null;
  /** The entries after it, oldest first (Yjs updates, V1). */
  tail: Uint8Array[];
  /** Number of its newest entry; 0 when there is none. Entries are numbered page by page, without gaps, in the order of their commits. */
  number: number;
}
/** The log: the only way that an edit becomes permanent. Implemented by lib/store/log.ts and by a fake in tests. */
export interface UpdateLog {
  /**
   * What the log has of a page after entry `after` (absent: all of it); where those entries have been folded, the base comes with it.
   * Applying base and tail to a document that has the entries up to `after` gives the page at `number`. Rejects when there is no such page.
   */
  load(page: string, after?: number): Promise<LogPage>;
  /** Appends all entries in one transaction; resolves, only after the commit, with the number that each got. */
  append(entries: LogEntry[]): Promise<number[]>;
}
/** One stretch of work: entries of the log by one member, or by several who wrote at the same time, without a pause of ten minutes. */
export interface Stretch {
  number: number; // of its last entry; the page at the end of the stretch is the page at `number`
  from: number; // number of its first entry
  members: { id: string; name: string }[]; // in the order of their first entries; empty: the house
  began: string; // time of its first entry
  at: string; // time of its last entry
  bytes: number; // size of its update
  name: string | null; // when somebody gave this point a name
}

/** One fix record with a cause, as the index keeps it. */
export interface FixEntry {
  cause: string; // fault class id
  outcome: string;
  on: string; // its day; empty: that of its page
  circuits: string[];
  proved: boolean; // in words, or by a proof test of its page
}

/** What servers on one database tell each other; lost messages are made good by reading the log. */
export type BusMessage =
  | { kind: 'log'; page: string; number: number } // its log has entries up to `number`, committed by another server
  | { kind: 'presence'; page: string; update: Uint8Array } // awareness update, y-protocols
  | { kind: 'presence-ask'; page: string } // who is on the page over there?
  | { kind: 'page-gone'; page: string }
  | { kind: 'member'; member: string } // their rights have changed: check their sockets again
  | { kind: 'charts' }; // a chart, the catalogue or stock has changed
export interface Bus {
  /** Tells all other servers, soon and at best effort. Messages of one server arrive in order; its own never come back. */
  send(message: BusMessage): void;
  /** `onGap` is called when messages may have been missed: the connection was lost and is there again. */
  listen(onMessage: (message: BusMessage) => void, onGap: () => void): void;
  close(): Promise<void>;
}
