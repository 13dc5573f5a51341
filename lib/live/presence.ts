/** Who is on a page: awareness states whose identity is the server's word, not the sender's. */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { Awareness, applyAwarenessUpdate, removeAwarenessStates } from 'y-protocols/awareness';
import type * as Y from 'yjs';
import { awarenessMessage } from './wire';

const mostEntries = 64; // in one frame
const mostClients = 4; // of one connection
const mostStateBytes = 8 << 10;
const hands = 6; // line styles by which people are told apart

/** One connection, as far as presence is concerned. */
export interface Person {
  readonly member: { id: string; name: string };
  readonly hand: number;
  /** Awareness client ids that this connection speaks for. */
  readonly clients: Set<number>;
}

/** A member keeps the hand of their other windows; a newcomer takes the lowest that is free, or shares one when all are taken. */
export function freeHand(here: Iterable<Person>, member: string): number {
  const taken = new Set<number>();
  for (const person of here) {
    if (person.member.id === member) return person.hand;
    taken.add(person.hand);
  }
  for (let hand = 0; hand < hands; hand++) if (!taken.has(hand)) return hand;
  return taken.size % hands;
}

export class Presence {
  private readonly awareness: Awareness;
  private readonly owners = new Map<number, string>(); // client id → member id

  /** `broadcast` goes to everyone, the sender too: the client drops a socket that is silent for 30 s. */
  constructor(doc: Y.Doc, broadcast: (message: Uint8Array) => void) {
    this.awareness = new Awareness(doc);
    this.awareness.setLocalState(null);
    this.awareness.on('update', ({ added, updated, removed }: Record<'added' | 'updated' | 'removed', number[]>) => {
      broadcast(awarenessMessage(this.awareness, [...added, ...updated, ...removed]));
      for (const client of removed) {
        this.owners.delete(client);
        this.awareness.meta.delete(client); // else an entry for every window that ever came
      }
    });
  }

  /** What a newcomer has to know; null when nobody is here. */
  everyone(): Uint8Array | null {
    const clients = [...this.awareness.getStates().keys()];
    return clients.length ? awarenessMessage(this.awareness, clients) : null;
  }

  /** Takes a person's awareness update. Entries for others' client ids are left out; a malformed or oversized one throws. */
  receive(person: Person, update: Uint8Array) {
    const decoder = decoding.createDecoder(update);
    const count = decoding.readVarUint(decoder);
    if (count > mostEntries) throw new Error('too many awareness entries');
    const kept: { client: number; clock: number; json: string }[] = [];
    for (let i = 0; i < count; i++) {
      const client = decoding.readVarUint(decoder);
      const clock = decoding.readVarUint(decoder);
      const bytes = decoding.readVarUint8Array(decoder);
      if (bytes.length > mostStateBytes) throw new Error('awareness state too big');
      const owner = this.owners.get(client);
      if (owner !== undefined && owner !== person.member.id) continue;
      const state: unknown = JSON.parse(new TextDecoder().decode(bytes));
      if (state === null) {
        if (owner !== undefined) kept.push({ client, clock, json: 'null' });
        continue;
      }
      if (typeof state !== 'object' || Array.isArray(state)) throw new Error('awareness state is not an object');
      if (!person.clients.has(client) && person.clients.size >= mostClients) continue;
      this.owners.set(client, person.member.id);
      person.clients.add(client);
      const user = { id: person.member.id, name: person.member.name, hand: person.hand };
      kept.push({ client, clock, json: JSON.stringify({ ...state, user }) });
    }
    if (!kept.length) return;
    const out = encoding.createEncoder();
    encoding.writeVarUint(out, kept.length);
    for (const { client, clock, json } of kept) {
      encoding.writeVarUint(out, client);
      encoding.writeVarUint(out, clock);
      encoding.writeVarString(out, json);
    }
    applyAwarenessUpdate(this.awareness, encoding.toUint8Array(out), person);
  }

  /** Removes a person's states, except those that a newer connection of the same window has taken over. */
  leave(person: Person, here: Iterable<Person>) {
    const still = new Set([...here].flatMap((other) => [...other.clients]));
    const gone = [...person.clients].filter((client) => !still.has(client));
    for (const client of gone) this.owners.delete(client);
    removeAwarenessStates(this.awareness, gone, 'left');
  }
}
