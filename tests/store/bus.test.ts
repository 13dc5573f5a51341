import * as encoding from 'lib0/encoding';
import type pg from 'pg';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { Awareness, applyAwarenessUpdate, encodeAwarenessUpdate } from 'y-protocols/awareness';
import * as Y from 'yjs';
import { type OpenBus, openBus } from '@/lib/store/bus';
import { channel, readPayload, writePayloads } from '@/lib/store/bus-wire';
import { pageLog } from '@/lib/store/log';
import type { BusMessage } from '@/lib/store/types';
import { type TestDatabase, testDatabase } from './cluster';
import { makePage } from './past';

describe('the messages', () => {
  const messages: BusMessage[] = [
    { kind: 'log', page: 'aaaabbbbcccc', number: 7 },
    { kind: 'presence', page: 'aaaabbbbcccc', update: Uint8Array.of(0, 255, 3) },
    { kind: 'presence-ask', page: 'aaaabbbbcccc' },
    { kind: 'page-gone', page: 'aaaabbbbcccc' },
    { kind: 'member', member: 'ines' },
    { kind: 'charts' },
  ];

  test('come out as they went in, with the name of their server', () => {
    for (const message of messages) {
      const payloads = writePayloads('one', 3, message);
      expect(payloads.map(readPayload)).toEqual([{ node: 'one', messages: [message] }]);
    }
  });

  test('anything else is none', () => {
    const bad = [
      '',
      '{',
      'null',
      '{"node":"x"}',
      '{"node":"x","message":{"kind":"log","pages":[]}}',
      '{"node":"x","message":{"kind":"log","pages":[["../..",1]]}}',
      '{"node":"x","message":{"kind":"log","pages":[["a",0]]}}',
      '{"node":"x","message":{"kind":"presence","page":"a","update":"%%"}}',
      '{"node":"","message":{"kind":"charts"}}',
      '{"node":"x","message":{"kind":"shout"}}',
    ];
    for (const payload of bad) expect(readPayload(payload), payload).toBeNull();
  });

  test('the presence of many people goes in several, each within what the database takes; what does not fit is left out', () => {
    const update = (people: { id: number; state: unknown }[]) => {
      const encoder = encoding.createEncoder();
      encoding.writeVarUint(encoder, people.length);
      for (const { id, state } of people) {
        encoding.writeVarUint(encoder, id);
        encoding.writeVarUint(encoder, 1);
        encoding.writeVarString(encoder, JSON.stringify(state));
      }
      return encoding.toUint8Array(encoder);
    };
    const people = Array.from({ length: 300 }, (_, n) => ({
      id: n + 1,
      state: n === 77 ? { name: 'é'.repeat(6000) } : { name: `N°${n} ${'é'.repeat(40)}` },
    }));
    const payloads = writePayloads('one', 1, { kind: 'presence', page: 'aaaabbbbcccc', update: update(people) });
    for (const payload of payloads) expect(Buffer.byteLength(payload)).toBeLessThan(8000);
    const heard = new Awareness(new Y.Doc());
    for (const payload of payloads) {
      const [message] = readPayload(payload)?.messages ?? [];
      if (message?.kind === 'presence') applyAwarenessUpdate(heard, message.update, null);
    }
    const states = [...heard.getStates()].filter(([id]) => id <= 300).map(([id, state]) => ({ id, state }));
    expect(states).toEqual(people.filter((p) => p.id !== 78));
    heard.destroy();
    const rubbish = new Uint8Array(9000).fill(255);
    expect(writePayloads('one', 1, { kind: 'presence', page: 'a', update: rubbish })).toEqual([]);
  });

  test('a real update of one person is read by what the browsers use', () => {
    const there = new Awareness(new Y.Doc());
    there.setLocalState({ name: 'Ines' });
    const [payload] = writePayloads('one', 1, { kind: 'presence', page: 'a', update: encodeAwarenessUpdate(there, [there.clientID]) });
    const [message] = readPayload(payload!)!.messages;
    const here = new Awareness(new Y.Doc());
    if (message?.kind === 'presence') applyAwarenessUpdate(here, message.update, null);
    expect(here.getStates().get(there.clientID)).toEqual({ name: 'Ines' });
    for (const a of [there, here]) a.destroy();
  });
});

describe('the line', () => {
  let db: TestDatabase;
  let buses: OpenBus[];
  beforeEach(async () => {
    db = await testDatabase();
    buses = [];
  });
  afterEach(async () => {
    await Promise.all(buses.map((bus) => bus.close()));
    await db.close();
  });

  /** A server on the line: what it heard, and how to wait for it. */
  async function server(node: string) {
    const bus = await openBus(db.connection, node);
    buses.push(bus);
    const heard: BusMessage[] = [];
    let gaps = 0;
    let look = () => {};
    bus.listen(
      (message) => {
        heard.push(message);
        look();
      },
      () => {
        gaps++;
        look();
      },
    );
    const until = (enough: () => boolean) =>
      new Promise<void>((resolve) => {
        look = () => enough() && resolve();
        look();
      });
    return { bus, heard, gaps: () => gaps, until };
  }
  /** Everything that was sent before has arrived once this has. */
  async function mark(from: { bus: OpenBus }, to: { heard: BusMessage[]; until(enough: () => boolean): Promise<void> }) {
    const member = `mark ${Math.random()}`;
    from.bus.send({ kind: 'member', member });
    await to.until(() => to.heard.some((m) => m.kind === 'member' && m.member === member));
    to.heard.pop();
  }
  const kill = async (node: string) => {
    const { rowCount } = await db.database.$client.query(
      'select pg_terminate_backend(pid) from pg_stat_activity where application_name = $1',
      [`fettlebook bus ${node}`],
    );
    expect(rowCount).toBe(1);
  };

  test('others hear everything in order; a server never hears itself', async () => {
    const [one, two, three] = [await server('one'), await server('two'), await server('three')];
    const sent = Array.from({ length: 200 }, (_, n): BusMessage => ({ kind: 'presence-ask', page: `page${n % 3}` }));
    for (const message of sent) one.bus.send(message); // equal ones too: none of them is swallowed
    await mark(one, two);
    await mark(one, three);
    const sentByMark = (m: BusMessage) => m.kind === 'member'; // the mark for one is heard by the other too
    expect(two.heard.filter((m) => !sentByMark(m))).toEqual(sent);
    expect(three.heard.filter((m) => !sentByMark(m))).toEqual(sent);
    await mark(two, one);
    expect(one.heard).toEqual([]);
  });

  test('an append is heard with its commit: not before, not without, and by others only', async () => {
    const [one, two] = [await server('one'), await server('two')];
    const [page, other] = [await makePage(db.database), await makePage(db.database)];
    const log = pageLog(db.database, 'one');
    const entry = (id: string) => ({ page: id, update: Uint8Array.of(0, 0), member: null });
    const seen: { number: number; kept: number }[] = [];
    two.bus.listen(
      async (message) => {
        if (message.kind === 'log' && message.page === page)
          seen.push({ number: message.number, kept: (await log.load(page)).tail.length });
      },
      () => {},
    );
    await log.append([entry(page), entry(page), entry(other)]);
    await expect(log.append([entry(page), entry('nosuchpage00')])).rejects.toThrow('there is no page');
    await log.append([entry(page)]);
    await mark(one, two);
    const byPage = (id: string) => two.heard.filter((m) => m.kind === 'log' && m.page === id);
    expect(byPage(page)).toEqual([
      { kind: 'log', page, number: 2 },
      { kind: 'log', page, number: 3 },
    ]);
    expect(byPage(other)).toEqual([{ kind: 'log', page: other, number: 1 }]);
    await vi.waitFor(() => expect(seen.length).toBe(2));
    for (const { number, kept } of seen) expect(kept).toBeGreaterThanOrEqual(number);
    await mark(two, one);
    expect(one.heard).toEqual([]);
  });

  test('an append to a great many pages is heard whole', async () => {
    const [one, two] = [await server('one'), await server('two')];
    const ids = Array.from({ length: 500 }, (_, n) => `${'x'.repeat(61)}${String(n).padStart(3, '0')}`); // the longest ids
    for (const id of ids) await makePage(db.database, id);
    await db.database.$client.query('update page set head = 900719925474099'); // and long numbers
    const numbers = await pageLog(db.database, 'one').append(ids.map((page) => ({ page, update: Uint8Array.of(0, 0), member: null })));
    expect(new Set(numbers)).toEqual(new Set([900719925474100]));
    await mark(one, two);
    expect(new Set(two.heard.map((m) => m.kind === 'log' && m.page))).toEqual(new Set(ids));
    expect(two.heard.length).toBe(500);
  });

  test('a connection that is cut is taken up again, and the gap is told', async () => {
    const report = vi.spyOn(console, 'error').mockImplementation(() => {});
    const [one, two] = [await server('one'), await server('two')];
    await kill('two');
    await two.until(() => two.gaps() === 1);
    await mark(one, two);
    await mark(two, one);
    await kill('one');
    one.bus.send({ kind: 'charts' }); // waits for the connection, or goes with the old one
    await one.until(() => one.gaps() === 1);
    await mark(one, two);
    expect(report.mock.calls.length).toBe(2);
    report.mockRestore();
  });

  test('one hearer that throws keeps nobody else from hearing; rubbish on the channel is passed over', async () => {
    const report = vi.spyOn(console, 'error').mockImplementation(() => {});
    const one = await server('one');
    const bus = await openBus(db.connection, 'two');
    buses.push(bus);
    bus.listen(
      () => {
        throw new Error('hard of hearing');
      },
      () => {},
    );
    const heard = new Promise<BusMessage>((resolve) => bus.listen(resolve, () => {}));
    await db.database.$client.query('select pg_notify($1, $2)', [channel, 'not ours']);
    one.bus.send({ kind: 'charts' });
    expect(await heard).toEqual({ kind: 'charts' });
    expect(report.mock.calls.length).toBe(1);
    report.mockRestore();
  });

  test('closing sends what was said before and leaves no connection; a database that is not there is an error', async () => {
    const [one, two] = [await server('one'), await server('two')];
    one.bus.send({ kind: 'charts' });
    await one.bus.close();
    one.bus.send({ kind: 'charts' });
    await two.until(() => two.heard.length === 1);
    const open = "select count(*)::int as n from pg_stat_activity where application_name = 'fettlebook bus one'";
    await vi.waitFor(async () => expect((await db.database.$client.query(open)).rows).toEqual([{ n: 0 }]));
    await expect(openBus({ host: '127.0.0.1', port: 1, user: 'x', database: 'x' } satisfies pg.PoolConfig)).rejects.toThrow('ECONNREFUSED');
  });
});
