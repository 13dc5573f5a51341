/** Hostile frames, made from real ones, and a socket that takes them without a network. */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import * as Y from 'yjs';
import { messageSync } from '@/lib/live/protocol';
import { type random, syncFrame, write } from './helpers';

type Random = ReturnType<typeof random>;
const bytes = (r: Random, length: number) => Uint8Array.from({ length }, () => r.below(256));

export function awareness(client: number, clock: number, json: string): Uint8Array {
  const inner = encoding.createEncoder();
  for (const n of [1, client, clock]) encoding.writeVarUint(inner, n);
  encoding.writeVarString(inner, json);
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, 1);
  encoding.writeVarUint8Array(encoder, encoding.toUint8Array(inner));
  return encoding.toUint8Array(encoder);
}

/** Real frames of every sort, from which hostile ones are made. */
export function seedsOfFrames(): Uint8Array[] {
  const doc = new Y.Doc();
  const frames: Uint8Array[] = [];
  doc.on('update', (u: Uint8Array) => frames.push(syncFrame(2, u)));
  write(doc, 'hello wörld 🔧');
  doc.getMap('widget:a').set('tick.1', { by: 'ada', at: 'now' });
  doc.getMap('widget:a').set('n', 3.5);
  doc.getMap('widget:a').delete('n');
  const paragraph = new Y.XmlElement('paragraph');
  paragraph.setAttribute('level', '1');
  doc.getXmlFragment('content').insert(0, [paragraph]);
  const text = new Y.XmlText();
  paragraph.insert(0, [text]);
  text.insert(0, 'bold', { bold: true });
  text.format(1, 2, { bold: null });
  doc.getXmlFragment('content').delete(0, 1);
  frames.push(
    syncFrame(1, Y.encodeStateAsUpdate(doc)),
    syncFrame(0, Y.encodeStateVector(doc)),
    Uint8Array.of(3),
    awareness(9, 1, '{"a":1}'),
  );
  return frames;
}

/** One hostile frame. */
export function mutate(r: Random, seeds: Uint8Array[]): Uint8Array {
  const base = r.pick(seeds).slice();
  switch (r.below(12)) {
    case 0:
      return bytes(r, r.below(60));
    case 1:
      return base.slice(0, r.below(base.length));
    case 2:
      return Uint8Array.from([...base, ...bytes(r, 1 + r.below(20))]);
    case 3: {
      for (let n = 1 + r.below(4); n > 0; n--) base[r.below(base.length)] = r.below(256);
      return base;
    }
    case 4: // valid beginning, random end
      return Uint8Array.from([...base.slice(0, 3 + r.below(4)), ...bytes(r, r.below(40))]);
    case 5: {
      // a huge length
      const encoder = encoding.createEncoder();
      for (const n of [0, r.below(3), r.pick([2 ** 31, 2 ** 32, 2 ** 40, 2 ** 53 - 1])]) encoding.writeVarUint(encoder, n);
      encoding.writeUint8Array(encoder, bytes(r, r.below(30)));
      return encoding.toUint8Array(encoder);
    }
    case 6: {
      // a body that says it has more clients, structs or bytes than there can be
      const inner = encoding.createEncoder();
      for (let n = 1 + r.below(4); n > 0; n--) encoding.writeVarUint(inner, r.pick([1, 127, 2 ** 20, 2 ** 31, 2 ** 40, 2 ** 53 - 1]));
      encoding.writeUint8Array(inner, bytes(r, r.below(30)));
      return syncFrame(r.below(3), encoding.toUint8Array(inner));
    }
    default: {
      // a sync message of true length whose body has a byte or two a little off: these come deepest
      if (base[0] !== messageSync) return base;
      const decoder = decoding.createDecoder(base);
      decoding.readVarUint(decoder);
      const kind = decoding.readVarUint(decoder);
      const body = decoding.readVarUint8Array(decoder).slice();
      for (let n = 1 + r.below(2); n > 0; n--) {
        const at = r.below(body.length);
        body[at] = body[at]! + r.pick([-1, 1, 1, 2, 64, 128]);
      }
      return syncFrame(kind, body);
    }
  }
}

/** The server's side of a socket, as a data structure: thousands of real ones would test the kernel. */
export class PaperSocket {
  readonly OPEN = 1;
  readyState = 1;
  bufferedAmount = 0;
  closed: number | null = null;
  private listeners = new Map<string, (...args: unknown[]) => void>();
  on(event: string, listener: (...args: unknown[]) => void) {
    this.listeners.set(event, listener);
  }
  answerPing() {
    this.listeners.get('pong')?.();
  }
  receive(frame: Uint8Array) {
    this.listeners.get('message')?.(Buffer.from(frame.buffer as ArrayBuffer, frame.byteOffset, frame.length), true);
  }
  cut = false;
  private underway: (() => void)[] = [];
  write(_frame: Buffer, sent?: () => void) {
    if (sent) this.underway.push(sent);
  }
  /** The other end has taken all that was sent. */
  flush() {
    for (const sent of this.underway.splice(0)) sent();
  }
  ping() {}
  terminate() {
    this.cut = true;
  }
  close(code: number) {
    this.closed = code;
    this.readyState = 2;
  }
}
