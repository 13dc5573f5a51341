/** One page in memory: its document, who is on it, and what the log has of it. */
import * as Y from 'yjs';
import type { UpdateLog } from '@/lib/store/types';
import { dropGaps } from './check';
import type { Committer } from './commit';
import { applyLoaded } from './loaded';
import { type Person, Presence } from './presence';
import { closeBadMessage } from './protocol';
import { askMessage, updateMessage } from './wire';

/** A connection, as the room sees it. */
export interface Peer extends Person {
  send(message: Uint8Array): void;
  /** Everything up to `ticket` is in the log; `vector` is an encoded state vector of what is new there. */
  saved(ticket: number, vector: Uint8Array): void;
  shut(code: number, reason: string): void;
}

export class Room {
  readonly doc = new Y.Doc({ gc: true });
  readonly peers = new Set<Peer>();
  readonly presence = new Presence(this.doc, (message) => this.broadcast(message));
  /** Resolves when the log has been read; nothing may be synced before. */
  readonly ready: Promise<void>;
  /** Those who need the room open: connections and running changes. Kept by Rooms. */
  holds = 0;
  idle: NodeJS.Timeout | null = null;

  private emitted: Uint8Array[] = [];
  /** Tastes each update first: one that decodes can still fail half-way through integration, and a document cannot be rolled back. */
  private taster = new Y.Doc({ gc: true });
  private readonly committed = new Map<number, number>(); // state vector of what the log has
  private readonly scribe = new Y.Doc().clientID; // writes the server's own changes

  constructor(
    readonly page: string,
    private readonly log: UpdateLog,
    private readonly committer: Committer,
    /** The document took half of an update and cannot be trusted any more. */
    private readonly onBroken: (room: Room) => void,
  ) {
    this.ready = this.load();
  }

  private async load() {
    await this.committer.settled(this.page); // what a broken room left behind
    applyLoaded(this.doc, await this.log.load(this.page), 'log');
    dropGaps(this.doc);
    this.taster = copyOf(this.doc);
    this.note(Y.decodeStateVector(Y.encodeStateVector(this.doc)));
    this.doc.on('update', (update: Uint8Array) => this.emitted.push(update));
  }

  /**
   * Applies a checked update, queues what it changed for the log and tells the others.
   * False when part of it was dropped because something before it is missing. Throws, with the document as it was, when it cannot be
   * integrated.
   */
  apply(update: Uint8Array, member: string | null, from: Peer | null): boolean {
    try {
      Y.applyUpdate(this.taster, update);
      dropGaps(this.taster);
    } catch (error) {
      this.taster.destroy();
      this.taster = copyOf(this.doc);
      throw error;
    }
    this.emitted = [];
    try {
      Y.applyUpdate(this.doc, update, from);
    } catch (error) {
      from?.shut(closeBadMessage, 'An update could not be applied.');
      this.onBroken(this); // nothing of it was queued or sent: a fresh room will not know it
      throw error;
    }
    const whole = !dropGaps(this.doc);
    for (const change of this.emitted) {
      this.committer.add(this.page, change, member);
      this.broadcast(updateMessage(change), from);
    }
    return whole;
  }

  /** Runs `change` on a copy and applies the difference: a change that throws leaves no half of itself. */
  change(member: string | null, change: (doc: Y.Doc) => void) {
    const copy = copyOf(this.doc);
    copy.clientID = this.scribe;
    const before = Y.encodeStateVector(copy);
    copy.transact(() => change(copy));
    this.apply(Y.encodeStateAsUpdate(copy, before), member, null);
    copy.destroy();
  }

  /** The ticket that must be committed before what the document holds now is saved; 0 when it is. */
  ticket(): number {
    return this.committer.pending(this.page);
  }

  saved(ticket: number, vector: Map<number, number>) {
    this.note(vector);
    const bytes = Y.encodeStateVector(vector);
    for (const peer of this.peers) peer.saved(ticket, bytes);
  }

  join(peer: Peer) {
    this.peers.add(peer);
    peer.send(askMessage(this.doc));
    peer.saved(0, Y.encodeStateVector(this.committed));
    const everyone = this.presence.everyone();
    if (everyone) peer.send(everyone);
  }

  leave(peer: Peer) {
    if (this.peers.delete(peer)) this.presence.leave(peer, this.peers);
  }

  destroy() {
    if (this.idle) clearTimeout(this.idle);
    this.taster.destroy();
    this.doc.destroy(); // takes the awareness and its timer along
  }

  private note(vector: Map<number, number>) {
    for (const [client, clock] of vector) this.committed.set(client, Math.max(clock, this.committed.get(client) ?? 0));
  }

  private broadcast(message: Uint8Array, except: Peer | null = null) {
    for (const peer of this.peers) if (peer !== except) peer.send(message);
  }
}

function copyOf(doc: Y.Doc): Y.Doc {
  const copy = new Y.Doc({ gc: true });
  Y.applyUpdate(copy, Y.encodeStateAsUpdate(doc));
  return copy;
}
