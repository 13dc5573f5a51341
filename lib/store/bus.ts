/** The line between the servers on one database: notifications of PostgreSQL, over a connection of its own. */
import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { channel, readPayload, writePayloads } from './bus-wire';
import type { Bus, BusMessage } from './types';

const firstRetryMs = 100;
const longestRetryMs = 5000;
const aliveMs = 15_000; // how often a quiet connection is tried
const answerMs = 10_000; // an answer that takes longer means that the connection is dead
const mostWaiting = 1000; // messages that wait for the connection
const notify = 'select pg_notify($1, m) from unnest($2::text[]) with ordinality as t (m, place) order by place';

export interface OpenBus extends Bus {
  /** This server's name among the others; random. */
  readonly node: string;
}

/** Opens the line. Rejects when the database can't be reached; a connection lost later is taken up again by itself. */
export async function openBus(connection: pg.PoolConfig, node = randomBytes(9).toString('base64url')): Promise<OpenBus> {
  const hearers: { onMessage(message: BusMessage): void; onGap(): void }[] = [];
  let waiting: string[] = [];
  let turn = 0;
  let client: pg.Client | null = null; // null while there is no connection
  let sending: Promise<void> | null = null;
  let failures = 0;
  let closed = false;
  let retry: NodeJS.Timeout | undefined;

  /** Each hearer for itself: one that throws must not keep the others from hearing, nor end the process. */
  function tell(say: (hearer: (typeof hearers)[number]) => void) {
    for (const hearer of hearers) {
      try {
        say(hearer);
      } catch (error) {
        console.error('A message of another server could not be worked on:', error);
      }
    }
  }

  async function connect() {
    const fresh = new pg.Client({ ...connection, application_name: `fettlebook bus ${node}`, keepAlive: true, query_timeout: answerMs });
    fresh.on('error', () => {}); // 'end' follows, and is what counts
    fresh.on('notification', ({ payload = '' }) => {
      const read = readPayload(payload);
      if (!read || read.node === node) return;
      for (const message of read.messages) tell((hearer) => hearer.onMessage(message));
    });
    try {
      await fresh.connect();
      await fresh.query(`listen ${channel}`);
    } catch (error) {
      fresh.end().catch(() => {});
      throw error;
    }
    if (closed) return void (await fresh.end());
    client = fresh;
    fresh.once('end', () => lose(fresh));
    send();
  }

  function lose(lost: pg.Client) {
    if (client !== lost) return;
    client = null;
    if (closed) return;
    console.error('The line to the other servers was lost; it is being taken up again.');
    again();
  }

  function again() {
    const wait = Math.random() * Math.min(longestRetryMs, firstRetryMs * 2 ** failures++);
    retry = setTimeout(() => {
      connect().then(
        () => {
          failures = 0;
          tell((hearer) => hearer.onGap());
        },
        () => {
          if (!closed) again();
        },
      );
    }, wait);
    retry.unref();
  }

  async function sendAll() {
    await null; // so that `sending` is set before it is cleared; and what is sent in one turn goes together
    while (client && waiting.length > 0) {
      const through = client;
      const payloads = waiting;
      waiting = [];
      try {
        await through.query(notify, [channel, payloads]);
      } catch {
        // At best effort: they may have arrived, and by the next connection they are out of date.
        drop(through);
      }
    }
    sending = null; // in the same turn as the last look at what waits
  }

  function send() {
    sending ??= sendAll();
  }

  /** Ends a connection that does not answer, without waiting for it. */
  function drop(dead: pg.Client) {
    dead.end().catch(() => {});
    lose(dead);
  }

  const alive = setInterval(() => {
    const tried = client;
    tried?.query('select 1').catch(() => drop(tried));
  }, aliveMs);
  alive.unref();

  try {
    await connect();
  } catch (error) {
    clearInterval(alive);
    throw error;
  }
  return {
    node,
    send(message) {
      if (closed || (message.kind === 'presence' && !client)) return; // where people were is of no use later
      waiting.push(...writePayloads(node, turn++, message));
      if (waiting.length > mostWaiting) waiting.splice(0, waiting.length - mostWaiting);
      send();
    },
    listen(onMessage, onGap) {
      hearers.push({ onMessage, onGap });
    },
    async close() {
      closed = true;
      await sending;
      clearInterval(alive);
      clearTimeout(retry);
      const open = client;
      client = null;
      await open?.end().catch(() => {});
    },
  };
}
