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
/** The log: the only way that an edit becomes permanent. Implemented by lib/store/log.ts and by a fake in tests. */
export interface UpdateLog {
  /** Snapshot (if any) followed by the tail, in order; empty for a page without content. Rejects when the page does not exist. */
  load(page: string): Promise<Uint8Array[]>;
  /** Appends all entries in one transaction; resolves only after commit. */
  append(entries: LogEntry[]): Promise<void>;
}

/** One fix record with a cause, as the index keeps it. */
export interface FixEntry {
  cause: string; // fault class id
  outcome: string;
  on: string; // its day; empty: that of its page
  circuits: string[];
  proved: boolean; // in words, or by a proof test of its page
}
