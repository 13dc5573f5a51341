/** Who is on a page: awareness states whose identity is the server's word, not the sender's. */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';

const mostEntries = 64; // in one frame
const mostClients = 4; // of one connection
const mostStateBytes = 2 << 10;
const hands = 6; // line styles by which people are told apart
const tellMs = 100; // all that changes meanwhile goes into one message
/** People on another server that is not heard of any more vanish after 30 s at the latest; windows speak up every 15 s. */
const silentMs = 27_000;
const lookMs = 3000;

/** One connection, as far as presence is concerned. */
export interface Person {
  readonly member: { id: string; name: string };
  hand: number;
  /** Awareness client ids that this connection speaks for. */
  readonly clients: Set<number>;
}
type Handed = { member: { id: string }; hand: number };

/** A member keeps the hand of their other windows; a newcomer takes the lowest that is free, or shares one when all are taken. */
export function freeHand(here: Iterable<Handed>, member: string): number {
  const taken = new Set<number>();
  for (const person of here) {
    if (person.member.id === member) return person.hand;
    taken.add(person.hand);
  }
  for (let hand = 0; hand < hands; hand++) if (!taken.has(hand)) return hand;
  return taken.size % hands;
}

interface State extends Handed {
  clock: number;
  json: string;
  /** Who speaks for it here; null when its window is on another server. */
  person: Person | null;
  at: number; // when last heard of, ms of the monotonic clock
}
interface Entry {
  client: number;
  clock: number;
  json: string;
}

export class Presence {
  private readonly states = new Map<number, State>();
  private readonly changed = new Map<number, { clock: number; here: boolean }>();
  private telling: NodeJS.Timeout | null = null;
  private toldAt = Number.NEGATIVE_INFINITY;
  private looking: NodeJS.Timeout | null = null;

  /**
   * `broadcast` goes to everyone here, the sender too: the client drops a socket that is silent for 30 s. `tellOthers` goes to the
   * other servers, with the people of this one.
   */
  constructor(
    private readonly broadcast: (update: Uint8Array) => void,
    private readonly tellOthers: (update: Uint8Array) => void,
  ) {}

  /** What a newcomer has to know; null when nobody is here. */
  everyone(): Uint8Array | null {
    return this.write([...this.states.keys()]);
  }

  /** The people of this server; null when there are none. */
  local(): Uint8Array | null {
    return this.write([...this.states].filter(([, state]) => state.person).map(([client]) => client));
  }

  /** People on other servers. */
  elsewhere(): Handed[] {
    return [...this.states.values()].filter((state) => !state.person);
  }

  /** Takes a person's awareness update. Entries for others' client ids are left out; a malformed or oversized one throws. */
  receive(person: Person, update: Uint8Array) {
    this.settleHand(person);
    const { member, hand } = person;
    for (const { client, clock, json } of read(update, mostEntries, mostStateBytes)) {
      const known = this.states.get(client);
      if (known && known.member.id !== member.id) continue;
      const state = parse(json);
      if (state === null) {
        if (known && clock >= known.clock) this.remove(client, clock);
        continue;
      }
      if (!person.clients.has(client) && person.clients.size >= mostClients) continue;
      person.clients.add(client);
      if (known) known.person = person;
      if (clock <= (known?.clock ?? 0)) continue;
      const user = { id: member.id, name: member.name, hand };
      this.set(client, { clock, json: JSON.stringify({ ...state, user }), member, hand, person, at: performance.now() });
    }
  }

  /** Takes what another server says of its people, whose identity it has seen to. People of this server are not its business. */
  receiveOthers(update: Uint8Array) {
    for (const { client, clock, json } of read(update, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY)) {
      const known = this.states.get(client);
      if (known?.person) continue;
      const state = parse(json);
      if (state === null) {
        if (known && clock >= known.clock) this.remove(client, clock);
        continue;
      }
      const { id, hand } = (state.user ?? {}) as { id?: unknown; hand?: unknown };
      if (typeof id !== 'string' || typeof hand !== 'number') continue;
      if ((known && known.member.id !== id) || clock <= (known?.clock ?? 0)) continue;
      this.set(client, { clock, json, member: { id }, hand, person: null, at: performance.now() });
      this.looking ??= setInterval(() => this.dropSilent(), lookMs).unref();
    }
  }

  /** Removes a person's states, except those that a newer connection of the same window has taken over. */
  leave(person: Person) {
    for (const client of person.clients) {
      const state = this.states.get(client);
      if (state?.person === person) this.remove(client, state.clock);
    }
  }

  /** Says goodbye for the people of this server. */
  destroy() {
    for (const [client, { person, clock }] of this.states) if (person) this.remove(client, clock);
    if (this.telling) clearTimeout(this.telling);
    this.tell();
    if (this.looking) clearInterval(this.looking);
  }

  /** Two servers may have given the same hand to two members before they heard of each other: the one with the later id changes. */
  private settleHand(person: Person) {
    const { id } = person.member;
    if (!this.elsewhere().some((other) => other.hand === person.hand && other.member.id < id)) return;
    const others = [...this.states.values()].filter((state) => state.member.id !== id || state.hand !== person.hand);
    person.hand = freeHand(others, id);
  }

  private set(client: number, state: State) {
    this.states.set(client, state);
    this.note(client, state.clock, state.person !== null);
  }

  private remove(client: number, clock: number) {
    const here = this.states.get(client)?.person != null;
    this.states.delete(client);
    this.note(client, clock, here);
  }

  private note(client: number, clock: number, here: boolean) {
    this.changed.set(client, { clock, here: here || this.changed.get(client)?.here === true });
    this.telling ??= setTimeout(() => this.tell(), Math.max(0, this.toldAt + tellMs - performance.now())).unref();
  }

  private tell() {
    this.telling = null;
    this.toldAt = performance.now();
    const all = this.write([...this.changed.keys()]);
    const here = this.write([...this.changed].filter(([, change]) => change.here).map(([client]) => client));
    this.changed.clear();
    if (all) this.broadcast(all);
    if (here) this.tellOthers(here);
  }

  private dropSilent() {
    const oldest = performance.now() - silentMs;
    let others = 0;
    for (const [client, { person, at, clock }] of this.states) {
      if (person) continue;
      if (at < oldest) this.remove(client, clock);
      else others++;
    }
    if (others > 0 || !this.looking) return;
    clearInterval(this.looking);
    this.looking = null;
  }

  /** An awareness update of y-protocols: count, then client, clock and state in JSON of each. */
  private write(clients: number[]): Uint8Array | null {
    if (!clients.length) return null;
    const encoder = encoding.createEncoder();
    encoding.writeVarUint(encoder, clients.length);
    for (const client of clients) {
      const state = this.states.get(client);
      encoding.writeVarUint(encoder, client);
      encoding.writeVarUint(encoder, state?.clock ?? this.changed.get(client)?.clock ?? 0);
      encoding.writeVarString(encoder, state?.json ?? 'null');
    }
    return encoding.toUint8Array(encoder);
  }
}

const text = new TextDecoder();

function read(update: Uint8Array, mostEntries: number, mostStateBytes: number): Entry[] {
  const decoder = decoding.createDecoder(update);
  const count = decoding.readVarUint(decoder);
  if (count > mostEntries) throw new Error('too many awareness entries');
  return Array.from({ length: count }, () => {
    const client = decoding.readVarUint(decoder);
    const clock = decoding.readVarUint(decoder);
    const bytes = decoding.readVarUint8Array(decoder);
    if (bytes.length > mostStateBytes) throw new Error('awareness state too big');
    return { client, clock, json: text.decode(bytes) };
  });
}

function parse(json: string): Record<string, unknown> | null {
  const state: unknown = JSON.parse(json);
  if (state !== null && (typeof state !== 'object' || Array.isArray(state))) throw new Error('awareness state is not an object');
  return state as Record<string, unknown> | null;
}
