/** A live server on a loopback port, a log in memory whose commits can be held back or failed, and clients of both sorts. */
import { createServer, type IncomingMessage } from 'node:http';
import type { AddressInfo, Socket } from 'node:net';
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { WebSocket as NodeSocket } from 'ws';
import * as Y from 'yjs';
import { type LivePage, openPage } from '@/lib/live/client';
import { contentRoot, livePath, messageSync, schemaVersion } from '@/lib/live/protocol';
import { type Access, createLive } from '@/lib/live/server';
import type { Bus, LogEntry, LogPage, UpdateLog } from '@/lib/store/types';

/** Waits for a condition; says what it waited for when it never comes. */
export async function until(what: string, condition: () => boolean, ms = 10_000): Promise<void> {
  const end = performance.now() + ms;
  while (!condition()) {
    if (performance.now() > end) throw new Error(`never happened: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
}

/** Something that can be held shut and opened. */
export class Gate {
  private open: Promise<void> = Promise.resolve();
  private release = () => {};
  shut() {
    this.open = new Promise((resolve) => {
      this.release = resolve;
    });
  }
  lift() {
    this.release();
  }
  pass() {
    return this.open;
  }
}

export class FakeLog implements UpdateLog {
  readonly pages = new Map<string, LogEntry[]>();
  readonly commits = new Gate();
  readonly loads = new Gate();
  appends = 0;
  reads = 0;
  /** Up to which entry a page has been folded into a base. */
  readonly folded = new Map<string, number>();
  /** Whether the n-th load (from 1) fails. */
  failsToLoad: (n: number, page: string) => boolean = () => false;
  /** Whether the n-th append (from 1) fails. */
  fails: (n: number, entries: LogEntry[]) => boolean = () => false;

  constructor(...pages: string[]) {
    for (const page of pages) this.pages.set(page, []);
  }
  async load(page: string, after = 0): Promise<LogPage> {
    const n = ++this.reads;
    await this.loads.pass();
    if (this.failsToLoad(n, page)) throw new Error(`load ${n} fails, as the test wants`);
    const entries = this.pages.get(page);
    if (!entries) throw new Error(`There is no page ${page}.`);
    const folded = this.folded.get(page) ?? 0;
    const base = folded > after ? Y.encodeStateAsUpdateV2(docOf(entries.slice(0, folded))) : null;
    return { base, tail: entries.slice(Math.max(after, base ? folded : 0)).map((e) => e.update.slice()), number: entries.length };
  }
  async append(entries: LogEntry[]) {
    const n = ++this.appends;
    await this.commits.pass();
    if (this.fails(n, entries)) throw new Error(`append ${n} fails, as the test wants`);
    for (const { page } of entries) if (!this.pages.has(page)) throw new Error(`There is no page ${page}.`);
    return entries.map((entry) => this.pages.get(entry.page)!.push({ ...entry, update: entry.update.slice() }));
  }
  /** The page as a fresh process would load it. */
  text(page: string): string {
    return textOf(docOf(this.pages.get(page) ?? []));
  }
}

function docOf(entries: LogEntry[]): Y.Doc {
  const doc = new Y.Doc();
  for (const { update } of entries) Y.applyUpdate(doc, update);
  return doc;
}

/** The page's words, as the tests write them: text directly in the content root. */
export const textOf = (doc: Y.Doc) => doc.getXmlFragment(contentRoot).toString();
function wordsOf(doc: Y.Doc): Y.XmlText {
  const root = doc.getXmlFragment(contentRoot);
  if (root.length === 0) root.insert(0, [new Y.XmlText()]);
  return root.get(0) as Y.XmlText;
}
export const write = (doc: Y.Doc, text: string, at?: number) =>
  doc.transact(() => {
    const words = wordsOf(doc);
    words.insert(at ?? words.length, text);
  });
export const erase = (doc: Y.Doc, at: number, length: number) => wordsOf(doc).delete(at, length);

export interface Someone {
  name: string;
  write: boolean;
}
export interface RawOptions {
  origin?: string;
  schema?: string;
}

export interface HouseOptions {
  restMs?: number;
  onRest?: (page: string) => void;
  bus?: Bus;
  /** The log as this server has it, when it is one of several on the same. */
  through?: UpdateLog;
}

export async function startHouse(log: FakeLog, idleMs?: number, at = 0, { through = log, ...more }: HouseOptions = {}) {
  const members = new Map<string, Someone>([
    ['ada', { name: 'Ada Marsh', write: true }],
    ['ben', { name: 'Ben Tide', write: true }],
    ['cleo', { name: 'Cleo Dyke', write: true }],
    ['rita', { name: 'Rita Reader', write: false }],
  ]);
  const committed: string[] = [];
  const asked: string[] = []; // whose right was looked at
  const authorize = async (request: IncomingMessage, page: string): Promise<Access> => {
    const id = /member=(\w+)/.exec(request.headers.cookie ?? '')?.[1] ?? '';
    asked.push(id);
    const member = members.get(id);
    if (!member) return 401;
    if (!log.pages.has(page)) return 404;
    return { member: { id, name: member.name }, write: member.write };
  };
  const house = { base: '', origin: '' };
  const live = createLive({
    log: through,
    authorize,
    sameOrigin: (request) => request.headers.origin === house.origin,
    onCommitted: (page) => committed.push(page),
    ...(idleMs !== undefined && { idleMs }),
    ...more,
  });
  const server = createServer();
  server.on('upgrade', async (request, socket, head) => {
    if (!(await live.upgrade(request, socket, head))) socket.destroy();
  });
  const sockets = new Set<Socket>();
  server.on('connection', (socket) => {
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
  });
  await new Promise<void>((resolve) => server.listen(at, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  house.base = `ws://127.0.0.1:${port}`;
  house.origin = `http://127.0.0.1:${port}`;

  const opened: LivePage[] = [];
  const raws: RawSocket[] = [];
  return {
    live,
    log,
    port,
    members,
    committed,
    asked,
    base: house.base,
    /** A browser's page, as the editor opens it. */
    open(page: string, member: string): LivePage {
      class MemberSocket extends NodeSocket {
        constructor(url: string | URL) {
          super(url, { headers: { cookie: `member=${member}`, origin: `http://${new URL(url).host}` } });
        }
      }
      const opening = openPage(page, house.base, MemberSocket as unknown as typeof WebSocket);
      opened.push(opening);
      return opening;
    },
    raw(page: string, member: string | null, { origin = house.origin, schema = String(schemaVersion) }: RawOptions = {}): RawSocket {
      const socket = new RawSocket(`${house.base}${livePath}${page}?schema=${schema}`, {
        origin,
        ...(member && { cookie: `member=${member}` }),
      });
      raws.push(socket);
      return socket;
    },
    /** As if the process were killed, for those at the other end: every socket is cut, nobody listens any more. */
    async kill() {
      const closed = new Promise((resolve) => server.close(resolve));
      for (const socket of sockets) socket.destroy();
      await closed;
    },
    async stop() {
      for (const page of opened) page.close();
      for (const raw of raws) raw.socket.terminate();
      await live.close();
      for (const socket of sockets) socket.destroy();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}
export type House = Awaited<ReturnType<typeof startHouse>>;

/** A socket that sends what it likes. */
export class RawSocket {
  readonly socket: NodeSocket;
  readonly received: Uint8Array[] = [];
  closed: { code: number; reason: string } | null = null;
  /** HTTP status, when the handshake was refused. */
  refused: number | null = null;

  constructor(url: string, headers: Record<string, string>) {
    this.socket = new NodeSocket(url, { headers });
    this.socket.binaryType = 'nodebuffer';
    this.socket.on('message', (data) => this.received.push(new Uint8Array(data as Buffer)));
    this.socket.on('close', (code, reason) => {
      this.closed = { code, reason: String(reason) };
    });
    this.socket.on('unexpected-response', (request, response) => {
      this.refused = response.statusCode ?? 0;
      request.destroy();
    });
    this.socket.on('error', () => {});
  }
  get open() {
    return this.socket.readyState === NodeSocket.OPEN;
  }
  /** Resolves when the server has asked what it lacks, which it does when the page is loaded. */
  async greeted() {
    await until('the server greets', () => this.received.length > 0 || this.closed !== null);
    return this;
  }
  send(...frames: Uint8Array[]) {
    for (const frame of frames) this.socket.send(frame);
    return this;
  }
  /** Resolves with the close code. */
  async end(): Promise<number> {
    await until('the socket is closed', () => this.closed !== null);
    return this.closed!.code;
  }
  /** The frames received of one message type, without that type. */
  of(type: number): decoding.Decoder[] {
    return this.received.map((frame) => decoding.createDecoder(frame)).filter((decoder) => decoding.readVarUint(decoder) === type);
  }
}

/** A sync message: kind 0 state vector, 1 step 2, 2 update. */
export function syncFrame(kind: number, body: Uint8Array): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, messageSync);
  encoding.writeVarUint(encoder, kind);
  encoding.writeVarUint8Array(encoder, body);
  return encoding.toUint8Array(encoder);
}

/** Numbers that repeat with their seed (mulberry32, public domain). */
export function random(seed: number) {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  return {
    /** A whole number below `n`. */
    below: (n: number) => Math.floor(next() * n),
    pick: <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)]!,
  };
}
