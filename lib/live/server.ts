/** The live server: lets sockets in, watches over them, and is the rest of the house's way to a page's document. */
import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import { type WebSocket, WebSocketServer } from 'ws';
import type * as Y from 'yjs';
import type { Bus, UpdateLog } from '@/lib/store/types';
import { Connection } from './connection';
import { Budget, memberRate, mostFrameBytes, mostSocketsOfMember, mostSocketsOfPage } from './limits';
import { saysGone } from './loaded';
import { hearOthers } from './others';
import {
  closeForbidden,
  closeReload,
  closeRestart,
  closeSignedOut,
  closeTryAgain,
  closeUnknownPage,
  livePath,
  schemaVersion,
} from './protocol';
import { Rooms } from './rooms';

const pingMs = 25_000;
const recheckMs = 125; // each time the socket that was checked longest ago, so that checks never come in a burst
const recheckWithinMs = 10_000; // every socket, however many there are; whoever is removed or signs out is looked at at once
const recheckAtOnce = 8;
const unconfirmedMs = 15_000; // after that long without an answer from `authorize` a socket is closed: fail closed
const closeGraceMs = 2000;

export type Access = { member: { id: string; name: string }; write: boolean } | 401 | 403 | 404;

export interface LiveOptions {
  log: UpdateLog;
  /** Who asks for the page, and may they? Asked at the door and again about once a second for each open socket. */
  authorize(request: IncomingMessage, page: string): Promise<Access>;
  sameOrigin(request: IncomingMessage): boolean;
  /** Called after each commit that touched the page. */
  onCommitted(page: string): void;
  /** Called when a page's document leaves the memory: whoever opens it next reads it from the log. */
  onRest?(page: string): void;
  /** How long a page that nobody has open stays in memory, ms. */
  idleMs?: number;
  /** How long the document of an open page that nobody edits stays in memory, ms; its sockets stay. */
  restMs?: number;
  /** The line to other servers on the same log. */
  bus?: Bus;
}

export interface Live {
  /** True when the request was for a page's socket; it has then been answered. */
  upgrade(request: IncomingMessage, socket: Duplex, head: Buffer): Promise<boolean>;
  /** One change by the house in a member's name. Resolves when the log has it; rejects, without a trace, when `change` throws. */
  change(page: string, member: string | null, change: (doc: Y.Doc) => void): Promise<void>;
  /** Shows the page's document to `look`, which must not change it or keep it. */
  read<T>(page: string, look: (doc: Y.Doc) => T): Promise<T>;
  /** Closes all sockets of a member at once, on other servers too. */
  closeMember(member: string): void;
  /** The page has been removed: closes its sockets, on other servers too, and forgets what it had still to save. */
  closePage(page: string): void;
  /** Asks `authorize` again, now, for every open socket; for those of one member, on other servers too, when one is named. */
  recheck(member?: string): Promise<void>;
  /** Takes no more frames, saves everything, closes the sockets so that they come back later. */
  close(): Promise<void>;
  /** For health and tests. */
  counts(): { rooms: number; awake: number; sockets: number; unsavedBytes: number };
}

const refusals: Record<401 | 403 | 404, [code: number, reason: string]> = {
  401: [closeSignedOut, 'You are signed out.'],
  403: [closeForbidden, 'You may not open this page.'],
  404: [closeUnknownPage, 'There is no such page.'],
};

export function createLive(options: LiveOptions): Live {
  const { log, authorize, sameOrigin, onCommitted, onRest, idleMs = 30_000, restMs = 30_000, bus } = options;
  const rooms = new Rooms({ log, onCommitted, ...(onRest && { onRest }), idleMs, restMs, bus });
  const connections = new Set<Connection>();
  const budgets = new Map<string, Budget>(); // of members
  // What is a little too big is read all the same, to be refused with a reason that the client understands.
  const server = new WebSocketServer({ noServer: true, maxPayload: 2 * mostFrameBytes, perMessageDeflate: false });
  // A browser cannot see why a handshake failed, so a refused socket is opened only to be closed with its reason.
  const door = new WebSocketServer({ noServer: true, maxPayload: 1024, perMessageDeflate: false });
  let stopping = false;
  const count = (which: (c: Connection) => boolean) => [...connections].filter(which).length;

  /** Kept until it is full again, so that a new socket is no new allowance. */
  function budgetOf(member: string): Budget {
    let budget = budgets.get(member);
    if (!budget) {
      budget = new Budget(memberRate);
      budgets.set(member, budget);
    }
    return budget;
  }

  async function upgrade(request: IncomingMessage, socket: Duplex, head: Buffer): Promise<boolean> {
    const [path = '', query = ''] = (request.url ?? '').split('?');
    if (!path.startsWith(livePath)) return false;
    socket.on('error', () => {});
    const page = path.slice(livePath.length);
    if (stopping) return answer(socket, '503 Service Unavailable');
    if (!sameOrigin(request)) return answer(socket, '403 Forbidden');
    if (!/^[\w-]{1,64}$/.test(page)) return answer(socket, '404 Not Found');
    const access = await authorize(request, page).catch((error: unknown) => {
      console.error('Could not check who asks for a page:', error);
      return 503 as const;
    });
    if (access === 503 || stopping) return answer(socket, '503 Service Unavailable');
    const refuse = (code: number, reason: string) => {
      door.handleUpgrade(request, socket, head, (ws) => {
        ws.on('error', () => {});
        ws.close(code, reason);
        setTimeout(() => ws.terminate(), closeGraceMs).unref();
      });
      return true;
    };
    if (typeof access === 'number') return refuse(...refusals[access]);
    const asked = new URLSearchParams(query);
    // On a shared device another member may have signed in meanwhile: what this window kept is not theirs.
    if ((asked.get('member') ?? access.member.id) !== access.member.id) return refuse(...refusals[401]);
    if (asked.get('schema') !== String(schemaVersion)) return refuse(closeReload, 'reload');
    if (count((c) => c.member.id === access.member.id) >= mostSocketsOfMember) return refuse(closeTryAgain, 'Too many windows are open.');
    if (count((c) => c.page === page) >= mostSocketsOfPage) return refuse(closeTryAgain, 'Too many people are on the page.');
    server.handleUpgrade(request, socket, head, (ws) => void admit(ws, socket, request, page, access));
    return true;
  }

  async function admit(ws: WebSocket, line: Duplex, request: IncomingMessage, page: string, access: Exclude<Access, number>) {
    ws.on('error', () => {}); // a broken or oversized frame ends in 'close'; without a listener it would end the process
    const connection = new Connection(ws, line, request, page, access.member, access.write, {
      unsavedBytes: () => rooms.committer.bytes,
      afford: (cost) => budgetOf(access.member.id).afford(cost),
    });
    connections.add(connection);
    const gone = new Promise<void>((resolve) => ws.once('close', () => resolve()));
    void gone.then(() => {
      connection.leave();
      connections.delete(connection);
    });
    try {
      const room = await rooms.hold(page);
      if (connection.open) {
        connection.enter(room);
        await gone;
      }
      rooms.release(room);
    } catch (error) {
      if (saysGone(error)) return connection.shut(...refusals[404]);
      connection.shut(closeTryAgain, 'The page could not be opened.');
    }
  }

  async function confirm(connection: Connection) {
    const asked = performance.now();
    const access = await authorize(connection.request, connection.page);
    if (typeof access === 'number') return connection.shut(...refusals[access]);
    connection.confirmedAt = asked;
    connection.member = access.member;
    connection.write = access.write;
  }

  async function confirmAll(all: Connection[]) {
    for (let i = 0; i < all.length; i += recheckAtOnce) {
      const results = await Promise.allSettled(all.slice(i, i + recheckAtOnce).map(confirm));
      for (const r of results) if (r.status === 'rejected') console.error('Could not check an open socket again:', r.reason);
    }
  }
  const recheck = (member?: string) => confirmAll([...connections].filter((c) => member === undefined || c.member.id === member));

  let sweeping = false;
  const sweep = setInterval(async () => {
    const oldest = performance.now() - unconfirmedMs;
    for (const c of connections) if (c.confirmedAt < oldest) c.shut(closeTryAgain, 'Your access could not be checked.');
    for (const [member, budget] of budgets) if (budget.full) budgets.delete(member);
    if (sweeping) return;
    sweeping = true;
    const share = Math.ceil((connections.size * recheckMs) / recheckWithinMs);
    await confirmAll([...connections].sort((a, b) => a.confirmedAt - b.confirmedAt).slice(0, share));
    sweeping = false;
  }, recheckMs);
  sweep.unref();
  const ping = setInterval(() => {
    for (const c of connections) c.ping();
  }, pingMs);
  ping.unref();
  if (bus) hearOthers(bus, rooms, (member) => void recheck(member));

  return {
    upgrade,
    change: (page, member, change) => rooms.change(page, member, change),
    read: (page, look) => rooms.read(page, look),
    closeMember(member) {
      for (const c of connections) if (c.member.id === member) c.shut(closeSignedOut, 'You are signed out.');
      bus?.send({ kind: 'member', member });
    },
    closePage(page) {
      rooms.forget(page);
      bus?.send({ kind: 'page-gone', page });
    },
    async recheck(member) {
      if (member !== undefined) bus?.send({ kind: 'member', member });
      await recheck(member);
    },
    async close() {
      stopping = true;
      clearInterval(sweep);
      clearInterval(ping);
      for (const c of connections) c.mute();
      await rooms.close();
      for (const c of connections) c.shut(closeRestart, 'The server restarts.');
    },
    counts: () => ({ rooms: rooms.size, awake: rooms.awake, sockets: connections.size, unsavedBytes: rooms.committer.bytes }),
  };
}

function answer(socket: Duplex, status: string): true {
  socket.end(`HTTP/1.1 ${status}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`);
  return true;
}
