/** One socket of one member on one page: reads its frames within bounds, and answers for what of them is saved. */
import type { IncomingMessage } from 'node:http';
import * as decoding from 'lib0/decoding';
import type { WebSocket } from 'ws';
import { messageYjsSyncStep1, messageYjsSyncStep2, messageYjsUpdate } from 'y-protocols/sync';
import { changesNothing, checkUpdate } from './check';
import { freeHand } from './presence';
import {
  closeBadMessage,
  closeForbidden,
  closeTooSlow,
  closeTryAgain,
  encodeSaved,
  messageAwareness,
  messageQueryAwareness,
  messageSync,
} from './protocol';
import type { Peer, Room } from './room';
import { answerMessage, askMessage } from './wire';

export const mostFrameBytes = 4 << 20;
const mostUpdateBytes = 1 << 20;
const mostVectorBytes = 64 << 10;
const mostEarlyFrames = 64; // before the page is loaded
const mostEarlyBytes = 4 << 20;
const mostUnsavedMarks = 256;
const mostBufferedBytes = 8 << 20;
const mostUnsavedBytes = 64 << 20; // of the whole server, while the log takes nothing
const framesPerSecond = 200;
const burstSeconds = 5;
const askCost = 20; // a state vector of a few bytes is answered with the whole page
const closeGraceMs = 2000;

export class Connection implements Peer {
  readonly clients = new Set<number>();
  hand = 0;
  alive = true;
  /** When this connection's right to be here was last confirmed, ms of the monotonic clock. */
  confirmedAt = performance.now();

  private room: Room | null = null;
  private reading = true;
  private closing = false;
  private early: Uint8Array[] = [];
  private budget = framesPerSecond * burstSeconds;
  private budgetAt = performance.now();
  private frames = 0; // content frames taken
  private savedFrames = 0; // of them, how many the log has with everything before them
  private unsaved: { frame: number; ticket: number }[] = [];
  private gap = false; // something before a frame was missing; a later sync step 2 has to bring it

  constructor(
    private readonly socket: WebSocket,
    readonly request: IncomingMessage,
    readonly page: string,
    public member: { id: string; name: string },
    public write: boolean,
    private readonly unsavedBytes: () => number,
  ) {
    socket.on('message', (data, binary) => this.take(data as Buffer, binary));
    socket.on('pong', () => {
      this.alive = true;
    });
  }

  get open() {
    return !this.closing && this.socket.readyState === this.socket.OPEN;
  }

  /** Enters the loaded room, then reads what came in meanwhile. */
  enter(room: Room) {
    this.hand = freeHand(room.peers, this.member.id);
    this.room = room;
    room.join(this);
    for (const frame of this.early) this.read(frame);
    this.early = [];
  }

  send(message: Uint8Array) {
    if (!this.open) return;
    if (this.socket.bufferedAmount > mostBufferedBytes) return this.shut(closeTooSlow, 'The connection is too slow.');
    this.socket.send(message, () => {}); // a failed send ends in 'close'
  }

  saved(ticket: number, vector: Uint8Array) {
    while (this.unsaved[0] && this.unsaved[0].ticket <= ticket) this.savedFrames = this.unsaved.shift()!.frame;
    this.send(encodeSaved({ vector, frames: this.savedFrames }));
  }

  /** Reads no further frame. */
  mute() {
    this.reading = false;
  }

  /** Closes, and from this moment neither reads nor sends; a peer that does not answer the close is cut off. */
  shut(code: number, reason: string) {
    if (this.closing) return;
    this.closing = true;
    this.mute();
    this.leave();
    this.socket.close(code, reason);
    setTimeout(() => this.socket.terminate(), closeGraceMs).unref();
  }

  leave() {
    this.closing = true;
    this.early = [];
    this.room?.leave(this);
    this.room = null;
  }

  ping() {
    if (!this.alive) return this.socket.terminate();
    this.alive = false;
    this.socket.ping();
    this.send(encodeSaved({ vector: noVector, frames: this.savedFrames })); // the client drops a socket without messages for 30 s
  }

  private take(data: Buffer, binary: boolean) {
    if (!this.reading) return;
    if (!binary) return this.shut(closeBadMessage, 'Frames are binary.');
    if (!this.afford(1)) return;
    const frame = new Uint8Array(data); // a copy: a Buffer shares its memory with other frames, and keeps all of it while it waits
    if (this.room) return this.read(frame);
    this.early.push(frame);
    if (this.early.length <= mostEarlyFrames && this.early.reduce((sum, f) => sum + f.length, 0) <= mostEarlyBytes) return;
    this.shut(closeTooSlow, 'Too much before the page was open.');
  }

  private afford(cost: number): boolean {
    const now = performance.now();
    this.budget = Math.min(framesPerSecond * burstSeconds, this.budget + ((now - this.budgetAt) / 1000) * framesPerSecond);
    this.budgetAt = now;
    this.budget -= cost;
    if (this.budget >= 0) return true;
    this.shut(closeTooSlow, 'Too many frames.');
    return false;
  }

  private read(frame: Uint8Array) {
    if (!this.reading || !this.room) return;
    try {
      this.readMessage(this.room, decoding.createDecoder(frame));
    } catch {
      this.shut(closeBadMessage, 'A frame was malformed.');
    }
  }

  private readMessage(room: Room, decoder: decoding.Decoder) {
    const type = decoding.readVarUint(decoder);
    if (type === messageQueryAwareness) {
      end(decoder);
      const everyone = room.presence.everyone();
      if (everyone) this.send(everyone);
    } else if (type === messageAwareness) {
      const update = decoding.readVarUint8Array(decoder);
      end(decoder);
      room.presence.receive(this, update);
    } else if (type === messageSync) {
      const kind = decoding.readVarUint(decoder);
      const body = decoding.readVarUint8Array(decoder);
      end(decoder);
      if (kind === messageYjsSyncStep1) this.answer(room, body);
      else if (kind === messageYjsSyncStep2 || kind === messageYjsUpdate) this.edit(room, body, kind === messageYjsSyncStep2);
      else throw new Error('unknown kind of sync');
    } else throw new Error('unknown type of message');
  }

  private answer(room: Room, vector: Uint8Array) {
    if (vector.length > mostVectorBytes) throw new Error('state vector too big');
    if (this.afford(askCost)) this.send(answerMessage(room.doc, vector));
  }

  private edit(room: Room, body: Uint8Array, wholeDiff: boolean) {
    if (body.length > mostUpdateBytes) throw new Error('update too big');
    const update = checkUpdate(body);
    this.frames++;
    // The client library answers the server's question even when it may only read: what changes nothing is no writing.
    if (changesNothing(room.doc, update)) return this.count(room, true, wholeDiff);
    if (!this.write) return this.shut(closeForbidden, 'You may not change this page.');
    if (this.unsavedBytes() > mostUnsavedBytes) return this.shut(closeTryAgain, 'The log takes nothing at the moment.');
    this.count(room, room.apply(body, this.member.id, this), wholeDiff);
  }

  /** Notes at which ticket the frame just taken will be saved, and asks again when something before it was missing. */
  private count(room: Room, whole: boolean, wholeDiff: boolean) {
    if (!whole) {
      this.gap = true;
      if (!wholeDiff) this.send(askMessage(room.doc));
      return;
    }
    if (wholeDiff) this.gap = false;
    if (this.gap) return;
    const ticket = room.ticket();
    const last = this.unsaved.at(-1);
    if (last && (last.ticket === ticket || this.unsaved.length >= mostUnsavedMarks)) {
      last.frame = this.frames; // in a long failure of the log, marks run together: answered later, never too early
      last.ticket = ticket;
    } else this.unsaved.push({ frame: this.frames, ticket });
    if (ticket === 0) this.saved(0, noVector);
  }
}

const noVector = Uint8Array.of(0); // an encoded state vector without entries

function end(decoder: decoding.Decoder) {
  if (decoding.hasContent(decoder)) throw new Error('bytes after the message');
}
