/** One open page: who is on it, what the log has of it, and, while somebody works on it, its document. */
import * as Y from 'yjs';
import type { LogPage, UpdateLog } from '@/lib/store/types';
import type { Committer } from './commit';
import { PageDocument } from './document';
import { Follower } from './follow';
import { bigPageBytes, mostPageBytes } from './limits';
import { saysGone } from './loaded';
import { mergeAll } from './merge';
import { type Hearer, News, raise } from './news';
import { type Person, Presence } from './presence';
import { askMessage, awarenessMessage, diffMessage, updateMessage } from './wire';

/** A connection, as the room sees it. */
export interface Peer extends Person, Hearer {
  /** Sends a frame of wire.ts. */
  send(frame: Buffer): void;
  shut(code: number, reason: string): void;
  /** The document is in memory: frames that waited for it can be read. */
  awoke(): void;
}

export interface RoomOptions {
  log: UpdateLog;
  committer: Committer;
  /** How long a document that nobody uses stays in memory, ms. */
  restMs: number;
  /** An awareness update for the other servers. */
  tellOthers(update: Uint8Array): void;
  /** The document has been let go of, with all that it held in the log: it will be read from there. */
  onRest(page: string): void;
  /** The room cannot go on: its page is gone, cannot be read, or its document cannot be trusted any more. */
  onBroken(room: Room, error: unknown): void;
}

export class Room {
  readonly peers = new Set<Peer>();
  readonly presence: Presence;
  /** Those who need the room open: connections and running changes. Kept by Rooms. */
  holds = 0;
  idle: NodeJS.Timeout | null = null;

  private document: PageDocument | null = null;
  private waking: Promise<void> | null = null;
  private usedAt = 0;
  private rest: NodeJS.Timeout | null = null;
  private destroyed = false;
  private readonly follower: Follower;
  private readonly news = new News(this.peers);
  private readonly committed = new Map<number, number>(); // state vector of what the log has
  private readonly scribe = new Y.Doc().clientID; // writes the server's own changes
  private outgoing: { update: Uint8Array; from: Peer | null }[] = [];
  private gathering = false; // a change of this turn has gone out; others wait for the end of it

  constructor(
    readonly page: string,
    private readonly options: RoomOptions,
  ) {
    this.presence = new Presence((update) => this.broadcast(awarenessMessage(update)), options.tellOthers);
    this.follower = new Follower({
      load: (after) => options.log.load(page, after),
      take: (loaded) => this.take(loaded),
      failed: (error) => this.failedToFollow(error),
    });
  }

  get awake() {
    return this.document !== null;
  }
  get opening() {
    return this.waking !== null;
  }
  /** The page's document; throws while it is not in memory. Not to be kept. */
  get doc(): Y.Doc {
    return this.use().doc;
  }
  /** About the size of the page as stored, bytes. */
  get bytes() {
    return this.use().bytes;
  }
  /** True when the page takes no more content. */
  get full() {
    return this.bytes > mostPageBytes;
  }

  /** Resolves when the document is in memory. Rejects, and the room is broken, when the log cannot give it. */
  wake(): Promise<void> {
    if (this.document) {
      this.use();
      return Promise.resolve();
    }
    this.waking ??= this.load()
      .catch((error: unknown) => {
        this.options.onBroken(this, error);
        throw error;
      })
      .finally(() => {
        this.waking = null;
      });
    return this.waking;
  }

  private async load() {
    await this.options.committer.settled(this.page); // what a broken room left behind
    let loaded = await this.options.log.load(this.page);
    while (loaded.number < this.follower.number) loaded = await this.options.log.load(this.page); // overtaken by what was followed
    if (this.destroyed) throw new Error(`Page ${this.page} was closed while it was being opened.`);
    const document = new PageDocument(loaded);
    if (document.bytes > bigPageBytes) console.warn(`Page ${this.page} is big: ${document.bytes} bytes.`);
    const vector = Y.decodeStateVector(Y.encodeStateVector(document.doc));
    if (this.peers.size && loaded.number > this.follower.number) {
      // While the document was away, those on the page were told entry by entry; what came since is the difference.
      this.broadcast(diffMessage(document.doc, this.committed));
      this.news.add(0, vector);
    }
    raise(this.committed, vector);
    this.document = document;
    this.use();
    this.restIn(this.options.restMs);
    this.follower.level(loaded.number);
    for (const peer of this.peers) peer.awoke();
  }

  /**
   * Applies a checked update, queues what it changed for the log and tells the others.
   * False when part of it was dropped because something before it is missing. Throws, with the document as it was, when it cannot be
   * integrated.
   */
  apply(update: Uint8Array, member: string | null, from: Peer | null): boolean {
    const document = this.use();
    try {
      const { changes, whole } = document.apply(update);
      for (const change of changes) {
        this.tell(change, from); // first: the work of committing must not hold up those who watch
        this.options.committer.add(this.page, change, member);
      }
      return whole;
    } catch (error) {
      if (document.broken) this.options.onBroken(this, error);
      throw error;
    }
  }

  /** Runs `change` as one change of that member; when it throws, nothing has changed. */
  change(member: string | null, change: (doc: Y.Doc) => void) {
    this.apply(this.use().difference(this.scribe, change), member, null);
  }

  /** The ticket that must be committed before what the document holds now is saved; 0 when it is. */
  ticket(): number {
    return this.options.committer.pending(this.page);
  }

  /** The log has taken changes from here, as entries with these numbers. */
  saved(ticket: number, vector: Map<number, number>, numbers: number[]) {
    this.note(ticket, vector);
    this.follower.own(numbers);
  }

  /** The log has entries up to `number`. */
  heard(number: number) {
    this.follower.heard(number);
  }

  /** Word of new entries may have been lost. */
  missed() {
    this.follower.missed();
  }

  /** The document must be in memory. */
  join(peer: Peer) {
    this.peers.add(peer);
    peer.send(askMessage(this.doc));
    peer.saved(0, Y.encodeStateVector(this.committed));
    const everyone = this.presence.everyone();
    if (everyone) peer.send(awarenessMessage(everyone));
  }

  leave(peer: Peer) {
    if (this.peers.delete(peer)) this.presence.leave(peer);
  }

  destroy() {
    this.destroyed = true;
    if (this.idle) clearTimeout(this.idle);
    if (this.rest) clearTimeout(this.rest);
    this.flush();
    this.news.close();
    this.follower.close();
    this.presence.destroy();
    this.document?.destroy();
    this.document = null;
  }

  private use(): PageDocument {
    if (!this.document) throw new Error(`The document of page ${this.page} is not in memory.`);
    this.usedAt = performance.now();
    return this.document;
  }

  /** Takes in what other servers have written; a document that is not in memory is not fetched for it. */
  private async take(loaded: LogPage) {
    const vectors = loaded.tail.map((update) => Y.parseUpdateMeta(update).to);
    if (loaded.base) vectors.push(Y.parseUpdateMetaV2(loaded.base).to);
    if (this.document) {
      try {
        for (const change of this.document.follow(loaded)) this.tell(change, null);
      } catch (error) {
        return this.options.onBroken(this, error); // a fresh room reads the log from the beginning
      }
    } else if (!loaded.base) for (const update of loaded.tail) this.tell(update, null);
    else return this.wake().catch(() => {}); // a failure has broken the room
    const news = new Map<number, number>();
    for (const vector of vectors) raise(news, vector);
    this.note(0, news);
  }

  private failedToFollow(error: unknown): boolean {
    if (saysGone(error)) {
      this.options.onBroken(this, error);
      return false;
    }
    console.error(`What other servers wrote to page ${this.page} could not be read; it is tried again.`, error);
    return true;
  }

  private restIn(ms: number) {
    this.rest = setTimeout(() => {
      const left = this.usedAt + this.options.restMs - performance.now();
      if (left > 0) return this.restIn(left);
      // What waits for the log must not be in the log's shadow: a document read again would lack it.
      if (this.ticket() || this.follower.busy) return this.restIn(this.options.restMs);
      this.flush();
      this.rest = null;
      this.document?.destroy();
      this.document = null;
      this.options.onRest(this.page);
    }, ms).unref();
  }

  private note(ticket: number, vector: Map<number, number>) {
    raise(this.committed, vector);
    this.news.add(ticket, vector);
  }

  /** The first change of a turn goes out at once, the rest of the turn as one message: a frame to everyone costs more than a merge. */
  private tell(update: Uint8Array, from: Peer | null) {
    if (this.gathering) return void this.outgoing.push({ update, from });
    this.gathering = true;
    setImmediate(() => this.flush());
    this.broadcast(updateMessage(update), from);
  }

  private flush() {
    this.gathering = false;
    const [first, ...others] = this.outgoing;
    if (!first) return;
    const frame = updateMessage(others.length ? mergeAll(this.outgoing.map(({ update }) => update)) : first.update);
    const from = others.every((other) => other.from === first.from) ? first.from : null;
    this.outgoing = [];
    this.broadcast(frame, from);
  }

  private broadcast(frame: Buffer, except: Peer | null = null) {
    for (const peer of this.peers) if (peer !== except) peer.send(frame);
  }
}
