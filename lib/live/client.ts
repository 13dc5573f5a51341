/** The browser's end of a page: its document, its socket, and the truth about what is saved. */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { type Awareness, applyAwarenessUpdate, encodeAwarenessUpdate } from 'y-protocols/awareness';
import { messageYjsSyncStep1, messageYjsSyncStep2, messageYjsUpdate } from 'y-protocols/sync';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';
import { keptOf, noteKept } from './kept';
import {
  closeRestart,
  closeTooBig,
  livePath,
  messageAwareness,
  messageSaved,
  messageSync,
  readSaved,
  type Saved,
  schemaVersion,
} from './protocol';
import { type Shelf, type ShelfState, shelve } from './shelf';
import { refusalWords, unknownWords } from './words';

const frameTooBig = 1009; // RFC 6455 § 7.4.1; what the socket's own limit closes with

export interface SaveState {
  state: 'connecting' | 'saving' | 'saved' | 'offline' | 'refused';
  /** Local changes that the log does not have yet. */
  kept: number;
  /** When local changes were last confirmed, ms since 1970. */
  at: number | null;
  /** What to do about a refusal. */
  reason?: string;
  /** Whether changes outlive this window on this device. */
  device: ShelfState | 'none';
  /** Of the kept changes, how many are written on this device: those outlive the window. */
  onDevice: number;
}
/** What a page is opened with beside its socket. */
export interface OpenOptions {
  /** Keep the document on this device, for this member. */
  keep?: { member: string; title: string };
  /** The page as the server had it when it made the screen (Yjs update, V1). */
  state?: Uint8Array;
  /**
   * Names what an update would bring that this window does not know, before the document has it; null when it may come. The page is
   * then refused: an editor would delete it for everyone.
   */
  strange?: (update: Uint8Array, doc: Y.Doc) => string | null;
}
export interface LivePage {
  doc: Y.Doc;
  provider: WebsocketProvider;
  awareness: Awareness;
  saved: { subscribe(listener: () => void): () => void; getSnapshot(): SaveState };
  /** True once the server has sent what it has. */
  everSynced(): boolean;
  /** True once the document has what the server had, by the socket, the screen or this device; an editor is bound only then. */
  ready: { subscribe(listener: () => void): () => void; getSnapshot(): boolean };
  close(): void;
}

/**
 * Counts what is saved. A local change is saved when both hold:
 * - a content frame sent on the present connection that carries it is among those that the server calls committed. A sync step 2
 *   carries everything made before it; an update carries its own change, and, the frames being in order, all made since the step 2;
 * - the committed state vector covers every struct made here (deletes make none: for them the frames alone answer).
 */
export class Ledger {
  private made = 0;
  private safe = 0;
  private stepTwo = 0; // number of the frame that was this connection's first sync step 2; 0 before
  private carried: number[] = []; // by frame of this connection: how many changes it and those before it carry
  private answered = 0; // frames of this connection that are committed
  private readonly wanted = new Map<number, number>(); // client → clock that the log must reach
  private readonly committed = new Map<number, number>();

  get kept() {
    return this.made - this.safe;
  }
  get covered() {
    return this.kept === 0 && this.wanted.size === 0;
  }
  /** True once the server has confirmed on this connection that it lacks nothing from here. */
  get confirmed() {
    return this.stepTwo > 0 && this.answered >= this.stepTwo;
  }

  /** Changes of an earlier visit that this device kept: the first sync step 2 carries them. */
  restore(changes: number) {
    this.made += changes;
  }

  local(update: Uint8Array) {
    this.made++;
    for (const [client, clock] of Y.parseUpdateMeta(update).to) this.wanted.set(client, clock);
  }

  connect() {
    this.stepTwo = 0;
    this.carried = [];
    this.answered = 0;
  }

  sent(frame: Uint8Array) {
    const [type, kind] = frame;
    if (type !== messageSync || (kind !== messageYjsSyncStep2 && kind !== messageYjsUpdate)) return;
    if (kind === messageYjsSyncStep2 && !this.stepTwo) this.stepTwo = this.carried.length + 1;
    this.carried.push(this.stepTwo ? this.made : 0);
  }

  /** Takes the server's word; true when local changes became safe by it. */
  saved({ vector, frames }: Saved): boolean {
    for (const [client, clock] of Y.decodeStateVector(vector)) this.committed.set(client, Math.max(clock, this.committed.get(client) ?? 0));
    for (const [client, clock] of this.wanted) if ((this.committed.get(client) ?? 0) >= clock) this.wanted.delete(client);
    this.answered = frames;
    const before = this.safe;
    this.safe = Math.max(this.safe, this.carried[frames - 1] ?? 0);
    return this.safe > before;
  }
}

const socketBase = () => `${location.protocol === 'https:' ? 'wss:' : 'ws:'}//${location.host}`;

const noteMs = 250;
const screen = Symbol('screen'); // origin of what came with the screen

/** Opens a page's document on its socket. `base` and `Socket` are the browser's own unless given. */
export function openPage(page: string, base = socketBase(), Socket: typeof WebSocket = WebSocket, options: OpenOptions = {}): LivePage {
  const { keep, state, strange } = options;
  const doc = new Y.Doc();
  const ledger = new Ledger();
  class CountedSocket extends Socket {
    constructor(url: string | URL, protocols?: string | string[]) {
      super(url, protocols);
      ledger.connect();
    }
    override send(data: Uint8Array<ArrayBuffer>) {
      ledger.sent(data);
      super.send(data);
    }
  }

  let failed = false;
  let refusal: string | undefined;
  let everSynced = false;
  let ready = false;
  let begun = false;
  let closed = false;
  let at: number | null = null;
  const listeners = new Set<() => void>();
  const tell = () => {
    for (const listener of listeners) listener();
  };
  const shelf =
    keep &&
    shelve(doc, keep.member, page, {
      onChange: () => refresh(),
      // Before the page is shown as ready no editor is bound, and whoever binds one looks first.
      mayCome: (update) => !ready || mayCome(update),
    });
  const note = keep && noterOf(page, keep, shelf);
  if (keep) ledger.restore(keptOf(page, keep.member));
  let snapshot: SaveState = { state: 'connecting', kept: ledger.kept, at, device: shelf?.state() ?? 'none', onDevice: ledger.kept };

  const stateNow = (): SaveState['state'] => {
    if (refusal !== undefined) return 'refused';
    if (!provider.wsconnected) return failed ? 'offline' : 'connecting';
    if (!ledger.covered) return 'saving';
    return ledger.confirmed ? 'saved' : 'connecting';
  };
  const refresh = () => {
    const device = shelf?.state() ?? 'none';
    const onDevice = device === 'keeping' ? Math.max(0, ledger.kept - (shelf?.unwritten() ?? 0)) : 0;
    const next: SaveState = {
      state: stateNow(),
      kept: ledger.kept,
      at,
      device,
      onDevice,
      ...(refusal !== undefined && { reason: refusal }),
    };
    if ((Object.keys({ ...snapshot, ...next }) as (keyof SaveState)[]).every((key) => next[key] === snapshot[key])) return;
    note?.kept(next.kept);
    snapshot = next;
    tell();
  };
  const becomeReady = () => {
    ready = true;
    tell();
  };

  // Before the provider's own listener, so that a change is counted before its frame is sent.
  doc.on('update', (update: Uint8Array, origin: unknown) => {
    // What a slow device gives after the socket was opened goes out as a change of its own.
    if (origin === provider || origin === screen || (shelf?.gave(origin) && !begun)) return;
    ledger.local(update);
    refresh();
  });
  const provider = new WebsocketProvider(base + livePath, page, doc, {
    connect: false,
    disableBc: true, // tabs would sync past the server
    params: { schema: String(schemaVersion), ...(keep && { member: keep.member }) },
    WebSocketPolyfill: CountedSocket,
  });
  const { awareness } = provider;
  provider.messageHandlers[messageSaved] = (_encoder, decoder) => {
    if (ledger.saved(readSaved(decoder))) at = Date.now();
    refresh();
  };
  const mayCome = (update: Uint8Array) => {
    const what = strange?.(update, doc) ?? null;
    if (what === null) return true;
    refusal = unknownWords(what);
    provider.disconnect();
    refresh();
    return false;
  };
  lookFirst(provider, mayCome);
  provider.on('status', ({ status }) => {
    if (status === 'connected') failed = false;
    refresh();
  });
  provider.on('sync', (synced) => {
    if (!synced) return;
    everSynced = true;
    becomeReady();
  });
  provider.on('connection-close', (event) => {
    failed = true;
    if (event?.code === frameTooBig) {
      refusal = refusalWords(closeTooBig); // sending it again would end the same
      provider.disconnect();
    }
    waitApart(provider, event);
    refresh();
  });
  provider.on('closed', ({ code }) => {
    refusal = refusalWords(code);
    refresh();
  });
  speakForOneself(provider);
  const sleepless = returnAtOnce(provider);

  void begin();
  async function begin() {
    if (shelf) await shelf.loaded;
    if (closed) return;
    // The list of kept pages was lost, as when a browser is killed.
    if (shelf && ledger.kept === 0) ledger.restore(shelf.marked());
    begun = true;
    if (state) Y.applyUpdate(doc, state, screen);
    // What this device has came from the server once: an editor was never bound to an empty document.
    if (doc.store.clients.size > 0) becomeReady();
    provider.connect();
    refresh();
  }

  const subscribe = (listener: () => void) => {
    listeners.add(listener);
    return () => {
      listeners.delete(listener);
    };
  };
  return {
    doc,
    provider,
    awareness,
    saved: { subscribe, getSnapshot: () => snapshot },
    everSynced: () => everSynced,
    ready: { subscribe, getSnapshot: () => ready },
    close() {
      closed = true;
      sleepless();
      note?.close();
      provider.destroy();
      doc.destroy(); // takes the shelf along
    },
  };
}

/** Notes how many changes are kept: at once when they become some or none, a little later in between. */
function noterOf(page: string, { member, title }: NonNullable<OpenOptions['keep']>, shelf: Shelf | undefined) {
  const window = Math.random().toString(36).slice(2);
  let timer: ReturnType<typeof setTimeout> | undefined;
  let count = keptOf(page, member);
  let noted = 0;
  const write = () => {
    clearTimeout(timer);
    timer = undefined;
    if (noted === count) return;
    noted = count;
    if (noteKept(page, { member, title, changes: count, window })) shelf?.mark({ title, changes: count });
  };
  write(); // what an earlier window left is this one's from now on
  // Another window of the page may have said since that all of its own is saved.
  const leave = () => {
    noted = 0;
    write();
  };
  globalThis.addEventListener?.('pagehide', leave);
  return {
    kept(changes: number) {
      count = changes;
      if (count === 0 || noted === 0) write();
      else timer ??= setTimeout(write, noteMs);
    },
    close() {
      globalThis.removeEventListener?.('pagehide', leave);
      leave();
    },
  };
}

const longestWaitMs = 10_000;

/** The library lets all clients of a server that restarts come back at the same moments; each waits a time of its own instead. */
function waitApart(provider: WebsocketProvider, event: CloseEvent | null) {
  if (event?.code === closeRestart && provider.wsUnsuccessfulReconnects < 3) provider.wsUnsuccessfulReconnects = 3; // 1.6 s
  const longest = Math.min(longestWaitMs, 200 * 2 ** provider.wsUnsuccessfulReconnects);
  provider.maxBackoffTime = longest * (0.25 + 0.75 * Math.random());
}

/**
 * Tries again at once when the network is back or the window is looked at, and does not wait for a socket whose network has gone to time
 * out: a server on this very machine is found again without any. Returns how to stop that.
 */
function returnAtOnce(provider: WebsocketProvider) {
  const gone = () => {
    provider.disconnect();
    provider.connect();
  };
  const again = () => {
    if (!provider.wsconnected && provider.shouldConnect && globalThis.document?.visibilityState !== 'hidden') provider.connect();
  };
  globalThis.addEventListener?.('online', again);
  globalThis.addEventListener?.('offline', gone);
  globalThis.document?.addEventListener('visibilitychange', again);
  return () => {
    globalThis.removeEventListener?.('online', again);
    globalThis.removeEventListener?.('offline', gone);
    globalThis.document?.removeEventListener('visibilitychange', again);
  };
}

/** Has each update from the server looked at before it is applied. Where it may not be, nothing of its message is heeded. */
function lookFirst(provider: WebsocketProvider, mayCome: (update: Uint8Array) => boolean) {
  const apply = provider.messageHandlers[messageSync];
  provider.messageHandlers[messageSync] = (encoder, decoder, ...rest) => {
    const ahead = decoding.clone(decoder);
    if (decoding.readVarUint(ahead) !== messageYjsSyncStep1 && !mayCome(decoding.readVarUint8Array(ahead))) return;
    apply?.(encoder, decoder, ...rest);
  };
}

/**
 * Sends only our own awareness state: the library would send back everyone's, which costs the square of the people on a page.
 * Takes over from the server's echo how we are drawn for others.
 */
function speakForOneself(provider: WebsocketProvider) {
  const { awareness } = provider;
  awareness.off('update', provider._awarenessUpdateHandler);
  awareness.on('update', ({ added, updated, removed }: Record<'added' | 'updated' | 'removed', number[]>) => {
    const ours = [...added, ...updated, ...removed].includes(awareness.clientID);
    if (!ours || !provider.wsconnected || provider.ws?.readyState !== 1) return;
    const encoder = encoding.createEncoder();
    encoding.writeVarUint(encoder, messageAwareness);
    encoding.writeVarUint8Array(encoder, encodeAwarenessUpdate(awareness, [awareness.clientID]));
    provider.ws.send(encoding.toUint8Array(encoder));
  });
  provider.messageHandlers[messageAwareness] = (_encoder, decoder) => {
    const update = decoding.readVarUint8Array(decoder);
    applyAwarenessUpdate(awareness, update, provider);
    const echo = ownUser(update, awareness.clientID);
    const user = awareness.getLocalState()?.user as Record<string, unknown> | undefined;
    if (!echo || (user?.id === echo.id && user?.name === echo.name && user?.hand === echo.hand)) return;
    awareness.setLocalStateField('user', { ...user, ...echo });
  };
  awareness.setLocalState({}); // raises the clock: others pass over a state with clock 0
}

function ownUser(update: Uint8Array, client: number): Record<string, unknown> | null {
  const decoder = decoding.createDecoder(update);
  for (let left = decoding.readVarUint(decoder); left > 0; left--) {
    const id = decoding.readVarUint(decoder);
    decoding.readVarUint(decoder); // clock
    const state = JSON.parse(decoding.readVarString(decoder)) as { user?: Record<string, unknown> } | null;
    if (id === client) return state?.user ?? null;
  }
  return null;
}
