/** One socket of one member on one page: reads its frames within bounds, and answers for what of them is saved. */
import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import * as decoding from 'lib0/decoding';
import type { WebSocket } from 'ws';
import { messageYjsSyncStep1, messageYjsSyncStep2, messageYjsUpdate } from 'y-protocols/sync';
import { changesNothing, checkUpdate } from './check';
import {
  askCost,
  Budget,
  frameCost,
  mostBufferedBytes,
  mostFrameBytes,
  mostUnsavedBytes,
  mostUpdateBytes,
  mostVectorBytes,
  mostWaitingFrames,
  socketRate,
} from './limits';
import { freeHand } from './presence';
import {
  closeBadMessage,
  closeForbidden,
  closePageFull,
  closeTooBig,
  closeTooSlow,
  closeTryAgain,
  messageAwareness,
  messageQueryAwareness,
  messageSync,
} from './protocol';
import type { Peer, Room } from './room';
import { answerMessage, askMessage, awarenessMessage, savedMessage } from './wire';

const mostUnsavedMarks = 256;
const closeGraceMs = 2000;

/** What all sockets of the server, or of a member, share. */
export interface Shared {
  /** Changes that wait for the log. */
  unsavedBytes(): number;
  /** False when the member's sockets together ask for too much. */
  afford(cost: number): boolean;
}

export class Connection implements Peer {
  readonly clients = new Set<number>();
  hand = 0;
  alive = true;
  /** When this connection's right to be here was last confirmed, ms of the monotonic clock. */
  confirmedAt = performance.now();

  private room: Room | null = null;
  private reading = true;
  private closing = false;
  private waiting: Uint8Array[] = []; // frames that came while the document was not in memory
  private waitingBytes = 0;
  private answering = 0; // bytes of answers that are on their way: a big page may take its time
  private readonly budget = new Budget(socketRate);
  private frames = 0; // content frames taken
  private savedFrames = 0; // of them, how many the log has with everything before them
  private unsaved: { frame: number; ticket: number }[] = [];
  private gap = false; // something before a frame was missing; a later sync step 2 has to bring it

  constructor(
    private readonly socket: WebSocket,
    private readonly line: Pick<Duplex, 'write'>, // what the socket writes to
    readonly request: IncomingMessage,
    readonly page: string,
    public member: { id: string; name: string },
    public write: boolean,
    private readonly shared: Shared,
  ) {
    socket.on('message', (data, binary) => this.take(data as Buffer, binary));
    socket.on('pong', () => {
      this.alive = true;
    });
  }

  get open() {
    return !this.closing && this.socket.readyState === this.socket.OPEN;
  }

  get awaits() {
    return this.unsaved.length > 0;
  }

  /** Enters the room, whose document must be in memory, then reads what came in meanwhile. */
  enter(room: Room) {
    this.hand = freeHand([...room.peers, ...room.presence.elsewhere()], this.member.id);
    this.room = room;
    room.join(this);
    this.awoke();
  }

  awoke() {
    const frames = this.waiting;
    this.waiting = [];
    this.waitingBytes = 0;
    for (const frame of frames) this.read(frame);
  }

  send(frame: Buffer, sent?: () => void) {
    if (!this.open) return;
    if (this.socket.bufferedAmount > mostBufferedBytes + this.answering) return this.shut(closeTooSlow, 'The connection is too slow.');
    this.line.write(frame, sent); // one that fails ends in 'close'
  }

  saved(ticket: number, vector: Uint8Array) {
    while (this.unsaved[0] && this.unsaved[0].ticket <= ticket) this.savedFrames = this.unsaved.shift()!.frame;
    this.send(savedMessage({ vector, frames: this.savedFrames }));
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
    this.waiting = [];
    this.room?.leave(this);
    this.room = null;
  }

  ping() {
    if (!this.alive) return this.socket.terminate();
    this.alive = false;
    this.socket.ping();
    this.send(savedMessage({ vector: noVector, frames: this.savedFrames })); // the client drops a socket without messages for 30 s
  }

  private take(data: Buffer, binary: boolean) {
    if (!this.reading) return;
    if (!binary) return this.shut(closeBadMessage, 'Frames are binary.');
    if (data.length > mostFrameBytes) return this.shut(closeTooBig, 'Too much at once.');
    if (!this.afford(frameCost(data.length))) return;
    const frame = new Uint8Array(data); // a copy: a Buffer shares its memory with other frames, and keeps all of it while it waits
    // Presence has no need of the document, and must not wake it.
    if (this.room && (this.room.awake || frame[0] !== messageSync)) return this.read(frame);
    this.waiting.push(frame);
    this.waitingBytes += frame.length;
    if (this.waiting.length > mostWaitingFrames || this.waitingBytes > mostFrameBytes)
      return this.shut(closeTooSlow, 'Too much before the page was open.');
    this.room?.wake().catch(() => {}); // a failure has broken the room, and closed this
  }

  private afford(cost: number): boolean {
    if (this.budget.afford(cost) && this.shared.afford(cost)) return true;
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
      if (everyone) this.send(awarenessMessage(everyone));
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
    if (!this.afford(askCost(room.bytes))) return;
    const frame = answerMessage(room.doc, vector);
    this.send(frame, () => {
      this.answering -= frame.length;
    });
    this.answering += frame.length;
  }

  private edit(room: Room, body: Uint8Array, wholeDiff: boolean) {
    // A sync step 2 carries all that was made without a connection; an update is one edit.
    if (!wholeDiff && body.length > mostUpdateBytes) return this.shut(closeTooBig, 'Too much in one change.');
    const update = checkUpdate(body);
    this.frames++;
    const refusal = this.refusal(room, update.structs.length > 0);
    if (!refusal) return this.count(room, room.apply(body, this.member.id, this), wholeDiff);
    // The client library answers the server's question even when it may only read: what changes nothing is no writing.
    if (changesNothing(room.doc, update)) return this.count(room, true, wholeDiff);
    this.shut(...refusal);
  }

  /** Why a change may not be made now. */
  private refusal(room: Room, adds: boolean): [code: number, reason: string] | null {
    if (!this.write) return [closeForbidden, 'You may not change this page.'];
    if (this.shared.unsavedBytes() > mostUnsavedBytes) return [closeTryAgain, 'The log takes nothing at the moment.'];
    if (adds && room.full) return [closePageFull, 'The page is full.'];
    return null;
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
