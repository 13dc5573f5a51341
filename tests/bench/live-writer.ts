/** Clients of the live benches: sockets that send what was made beforehand, so that making it costs nothing while it is timed. */
import { type ChildProcess, fork } from 'node:child_process';
import { join } from 'node:path';
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { WebSocket } from 'ws';
import * as Y from 'yjs';
import { messageSaved, messageSync, readSaved, schemaVersion } from '@/lib/live/protocol';

export interface Served {
  port: number;
  child: ChildProcess;
  kill(): Promise<void>;
}

export async function serve(file: 'live-plain' | 'live-ours', args: string[] = []): Promise<Served> {
  const child = fork(join(import.meta.dirname, `${file}.ts`), args, { execArgv: [...process.execArgv, '--expose-gc'] });
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const port = await new Promise<number>((resolve, reject) => {
    child.once('message', (said) => resolve((said as { port: number }).port));
    child.once('exit', (code) => reject(new Error(`${file} ended with ${code}`)));
  });
  const kill = async () => {
    child.kill('SIGKILL');
    await gone;
  };
  return { port, child, kill };
}

export interface Memory {
  bytes: number;
  awake: number;
}
export const memoryOf = ({ child }: Served) =>
  new Promise<Memory>((resolve) => {
    child.once('message', (said) => resolve(said as Memory));
    child.send('memory');
  });

const syncFrame = (kind: number, body: Uint8Array) => {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, messageSync);
  encoding.writeVarUint(encoder, kind);
  encoding.writeVarUint8Array(encoder, body);
  return encoding.toUint8Array(encoder);
};

/** Frames of one person who types `count` letters into a paragraph of their own, and the client id that they carry. */
export function typing(count: number): { client: number; frames: Uint8Array[]; clocks: number[] } {
  const doc = new Y.Doc();
  const frames: Uint8Array[] = [];
  const clocks: number[] = [];
  const text = new Y.XmlText();
  doc.getXmlFragment('content').insert(0, [text]);
  const first = Y.encodeStateAsUpdate(doc);
  doc.on('update', (update: Uint8Array) => {
    frames.push(syncFrame(2, frames.length === 0 ? Y.mergeUpdates([first, update]) : update));
    clocks.push(Y.getState(doc.store, doc.clientID));
  });
  for (let n = 0; n < count; n++) text.insert(n, 'abcdefghij'[n % 10] as string);
  return { client: doc.clientID, frames, clocks };
}

export interface Client {
  socket: WebSocket;
  /** Content frames of ours that the log has. */
  saved: number;
  close(): void;
}

/** Opens a socket on a page and asks for what it has; resolves when the answer has come. */
export function openSocket(
  port: number,
  page: string,
  member: string,
  hear?: (type: number, decoder: decoding.Decoder) => void,
): Promise<Client> {
  const socket = new WebSocket(`ws://127.0.0.1:${port}/live/${page}?schema=${schemaVersion}`, { headers: { cookie: `member=${member}` } });
  socket.binaryType = 'arraybuffer';
  const client: Client = { socket, saved: 0, close: () => socket.terminate() };
  return new Promise((resolve, reject) => {
    socket.once('error', reject);
    socket.once('close', (code) => reject(new Error(`closed with ${code}`)));
    socket.on('open', () => socket.send(syncFrame(0, Uint8Array.of(0))));
    socket.on('message', (data) => {
      const decoder = decoding.createDecoder(new Uint8Array(data as ArrayBuffer));
      const type = decoding.readVarUint(decoder);
      if (type === messageSaved) client.saved = readSaved(decoder).frames;
      else if (type === messageSync && decoder.arr[1] === 1) resolve(client);
      hear?.(type, decoder);
    });
  });
}

/** Applies what comes to a document of its own, and tells the clock of each client that moved. */
export function reader(onClock: (client: number, clock: number) => void) {
  const doc = new Y.Doc();
  return (type: number, decoder: decoding.Decoder) => {
    if (type !== messageSync) return;
    const kind = decoding.readVarUint(decoder);
    if (kind === 0) return;
    const update = decoding.readVarUint8Array(decoder);
    Y.applyUpdate(doc, update);
    for (const client of Y.parseUpdateMeta(update).to.keys()) onClock(client, Y.getState(doc.store, client));
  };
}

export const percentile = (values: readonly number[], p: number) => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor((sorted.length * p) / 100))] ?? Number.NaN;
};
