/** The pages that are in memory: opened when someone needs one, released when nobody does and everything is saved. */
import * as Y from 'yjs';
import type { UpdateLog } from '@/lib/store/types';
import { Committer } from './commit';
import { applyLoaded } from './loaded';
import { closeTryAgain, closeUnknownPage } from './protocol';
import { Room } from './room';

const changeLimitMs = 15_000;
const drainLimitMs = 10_000;

export class Rooms {
  readonly committer: Committer;
  private readonly rooms = new Map<string, Room>();

  constructor(
    private readonly log: UpdateLog,
    onCommitted: (page: string) => void,
    private readonly idleMs: number,
  ) {
    this.committer = new Committer(log, (page, ticket, vector) => {
      this.rooms.get(page)?.saved(ticket, vector);
      onCommitted(page);
    });
  }

  get size() {
    return this.rooms.size;
  }

  /** The page's room, loaded; it stays open until `release`. Rejects when the log cannot give the page. */
  async hold(page: string): Promise<Room> {
    let room = this.rooms.get(page);
    if (!room) {
      room = new Room(page, this.log, this.committer, (broken) => this.discard(broken, closeTryAgain, 'The page is being reloaded.'));
      this.rooms.set(page, room);
    }
    room.holds++;
    if (room.idle) clearTimeout(room.idle);
    room.idle = null;
    try {
      await room.ready;
      if (this.rooms.get(page) !== room) throw new Error(`Page ${page} was closed while it was being opened.`);
      return room;
    } catch (error) {
      room.holds--;
      if (this.rooms.get(page) === room) this.rooms.delete(page);
      if (room.holds === 0) room.destroy();
      throw error;
    }
  }

  release(room: Room) {
    room.holds--;
    this.rest(room);
  }

  /** Runs `change` on the page's document as one change of that member; resolves when the log has it. */
  async change(page: string, member: string | null, change: (doc: Y.Doc) => void): Promise<void> {
    const room = await this.hold(page);
    try {
      room.change(member, change);
      await within(
        changeLimitMs,
        this.committer.settled(page),
        'The change is kept in memory, but the log has not taken it yet; it is tried again.',
      );
    } finally {
      this.release(room);
    }
  }

  /** Shows the page's document to `look`, which must not change it. Opens no room: a page that is not open is read from the log. */
  async read<T>(page: string, look: (doc: Y.Doc) => T): Promise<T> {
    if (this.rooms.has(page)) {
      const room = await this.hold(page);
      try {
        return look(room.doc);
      } finally {
        this.release(room);
      }
    }
    const doc = new Y.Doc({ gc: true });
    applyLoaded(doc, await this.log.load(page));
    const seen = look(doc);
    doc.destroy();
    return seen;
  }

  /** The page has been removed: closes its sockets and drops what it still had to save. */
  forget(page: string) {
    this.committer.forget(page);
    const room = this.rooms.get(page);
    if (room) this.discard(room, closeUnknownPage, 'The page has been removed.');
  }

  /** Waits until the log has everything, at most 10 s; then lets go of all rooms. */
  async close(): Promise<void> {
    await within(drainLimitMs, this.committer.drained(), '').catch(() => {
      console.error(
        `The log did not take the last ${this.committer.bytes} bytes of changes before the stop; open windows still have theirs.`,
      );
    });
    for (const room of this.rooms.values()) room.destroy();
    this.rooms.clear();
  }

  private discard(room: Room, code: number, reason: string) {
    this.rooms.delete(room.page);
    for (const peer of [...room.peers]) peer.shut(code, reason);
    room.destroy();
  }

  private rest(room: Room) {
    if (room.holds > 0 || this.rooms.get(room.page) !== room) return;
    if (room.idle) clearTimeout(room.idle);
    room.idle = setTimeout(() => {
      room.idle = null;
      if (this.committer.pending(room.page)) {
        const again = () => this.rest(room);
        this.committer.settled(room.page).then(again, again);
        return;
      }
      this.rooms.delete(room.page);
      room.destroy();
    }, this.idleMs);
    room.idle.unref();
  }
}

async function within<T>(ms: number, promise: Promise<T>, late: string): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const limit = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error(late)), ms);
  });
  return Promise.race([promise, limit]).finally(() => clearTimeout(timer));
}
