/** The pages that are in memory: opened when someone needs one, released when nobody does and everything is saved. */
import * as Y from 'yjs';
import type { Bus, UpdateLog } from '@/lib/store/types';
import { Committer } from './commit';
import { applyLoaded, saysGone } from './loaded';
import { closeTryAgain, closeUnknownPage } from './protocol';
import { Room } from './room';

const changeLimitMs = 15_000;
const drainLimitMs = 10_000;

export interface RoomsOptions {
  log: UpdateLog;
  onCommitted(page: string): void;
  /** Called when a page's document leaves the memory: it is read from the log the next time. */
  onRest?(page: string): void;
  /** How long a page that nobody has open stays in memory, ms. */
  idleMs: number;
  /** How long the document of an open page that nobody works on stays in memory, ms. */
  restMs: number;
  /** The line to other servers on the same log, when there are any. */
  bus?: Pick<Bus, 'send'> | undefined;
}

export class Rooms {
  readonly committer: Committer;
  private readonly rooms = new Map<string, Room>();

  constructor(private readonly options: RoomsOptions) {
    this.committer = new Committer(options.log, {
      saved: (page, ticket, vector, numbers) => {
        this.rooms.get(page)?.saved(ticket, vector, numbers);
        options.onCommitted(page);
      },
      gone: (page) => this.forget(page),
    });
  }

  get size() {
    return this.rooms.size;
  }
  /** How many documents are in memory. */
  get awake() {
    return [...this.rooms.values()].filter((room) => room.awake).length;
  }

  /** The page's room, when it is open here. */
  find(page: string): Room | undefined {
    return this.rooms.get(page);
  }
  open(): Iterable<Room> {
    return this.rooms.values();
  }

  /** The page's room, its document in memory; it stays open until `release`. Rejects when the log cannot give the page. */
  async hold(page: string): Promise<Room> {
    const room = this.rooms.get(page) ?? this.make(page);
    room.holds++;
    if (room.idle) clearTimeout(room.idle);
    room.idle = null;
    await room.wake();
    if (this.rooms.get(page) !== room) throw new Error(`Page ${page} was closed while it was being opened.`);
    return room;
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

  /** Shows the page's document to `look`, which must not change it. A document that is not in memory is read from the log and not kept. */
  async read<T>(page: string, look: (doc: Y.Doc) => T): Promise<T> {
    const open = this.rooms.get(page);
    if (open?.awake || open?.opening || this.committer.pending(page)) {
      const room = await this.hold(page);
      try {
        return look(room.doc);
      } finally {
        this.release(room);
      }
    }
    const doc = new Y.Doc({ gc: true });
    applyLoaded(doc, await this.options.log.load(page));
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

  private make(page: string): Room {
    const { log, onRest, restMs, bus } = this.options;
    const room = new Room(page, {
      log,
      committer: this.committer,
      restMs,
      tellOthers: (update) => bus?.send({ kind: 'presence', page, update }),
      onRest: (at) => onRest?.(at),
      onBroken: (broken, error) => this.broken(broken, error),
    });
    this.rooms.set(page, room);
    bus?.send({ kind: 'presence-ask', page });
    return room;
  }

  private broken(room: Room, error: unknown) {
    if (this.rooms.get(room.page) !== room) return;
    if (saysGone(error)) return this.forget(room.page);
    console.error(`Page ${room.page} has to be read again:`, error);
    this.discard(room, closeTryAgain, 'The page is being reloaded.');
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
      const held = room.awake;
      room.destroy();
      if (held) this.options.onRest?.(room.page);
    }, this.options.idleMs);
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
