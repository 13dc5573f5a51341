/** People on one page over several servers. */
import * as decoding from 'lib0/decoding';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Person, Presence } from '@/lib/live/presence';
import { awarenessUpdate } from './awareness-frame';
import { FakeLine } from './fake-line';
import { FakeLog, type House, startHouse, until } from './helpers';

const person = (id: string, hand = 0): Person => ({ member: { id, name: id.toUpperCase() }, hand, clients: new Set() });

interface Told {
  user?: { id: string; name: string; hand: number };
  note?: string;
}
/** Two servers' presence of one page, joined directly, and what the people of each have been told. */
function pair() {
  const sides = [0, 1].map(() => ({ told: new Map<number, Told | null>(), broadcasts: 0, others: 0, deaf: false }));
  const presences: Presence[] = sides.map(
    (side, i) =>
      new Presence(
        (update) => {
          side.broadcasts++;
          const decoder = decoding.createDecoder(update);
          for (let left = decoding.readVarUint(decoder); left > 0; left--) {
            const client = decoding.readVarUint(decoder);
            decoding.readVarUint(decoder);
            side.told.set(client, JSON.parse(decoding.readVarString(decoder)));
          }
        },
        (update) => {
          side.others++;
          if (!sides[1 - i]!.deaf) presences[1 - i]!.receiveOthers(update);
        },
      ),
  );
  return { here: presences[0]!, there: presences[1]!, sides };
}
const say = (presence: Presence, who: Person, client: number, clock: number, state: unknown) =>
  presence.receive(who, awarenessUpdate([[client, clock, JSON.stringify(state)]]));

describe('two servers', () => {
  beforeEach(() => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'setInterval', 'clearInterval', 'performance'] });
  });
  afterEach(() => {
    vi.useRealTimers();
  });
  const pass = (ms: number) => vi.advanceTimersByTime(ms);

  it('show each other their people, with the identity that each has seen to', () => {
    const { here, there, sides } = pair();
    say(here, person('ada', 2), 7, 1, { note: 'hi', user: { id: 'ben', name: 'Ben', hand: 5 } });
    pass(200);
    for (const side of sides) expect(side.told.get(7)).toEqual({ note: 'hi', user: { id: 'ada', name: 'ADA', hand: 2 } });
    expect(there.elsewhere().map((other) => [other.member.id, other.hand])).toEqual([['ada', 2]]);
    expect(here.elsewhere()).toEqual([]);
    expect(there.local()).toBeNull();
    expect(sides[1]!.others).toBe(0); // nothing comes back
  });

  it('nobody may speak for a window on the other server, except its own member after moving', () => {
    const { here, there, sides } = pair();
    const adaHere = person('ada');
    say(here, adaHere, 7, 1, { note: 'mine' });
    pass(200);
    const ben = person('ben', 1);
    say(there, ben, 7, 9, { note: 'stolen' });
    there.receive(ben, awarenessUpdate([[7, 10, 'null']]));
    pass(200);
    expect(sides[1]!.told.get(7)?.note).toBe('mine');
    const adaThere = person('ada');
    say(there, adaThere, 7, 1, { note: 'mine' }); // the window has moved; its clock has not
    here.leave(adaHere); // and its old socket ends only now
    pass(200);
    expect(sides[1]!.told.get(7)?.note).toBe('mine');
    say(there, adaThere, 7, 2, { note: 'moved' });
    pass(200);
    for (const side of sides) expect(side.told.get(7)?.note).toBe('moved');
    there.leave(adaThere);
    pass(200);
    for (const side of sides) expect(side.told.get(7)).toBeNull();
  });

  it('people of a server that is not heard of any more are gone after 30 s, those who speak up stay', () => {
    const { here, sides, there } = pair();
    const [ada, ben] = [person('ada'), person('ben', 1)];
    say(here, ada, 7, 1, {});
    say(here, ben, 8, 1, {});
    pass(200);
    for (let clock = 2; clock < 10; clock++) {
      pass(15_000);
      say(here, ada, 7, clock, {});
    }
    pass(200);
    expect([sides[1]!.told.get(7), sides[1]!.told.get(8)]).toEqual([expect.anything(), null]);
    sides[1]!.deaf = true;
    pass(30_000);
    expect(sides[1]!.told.get(7)).toBeNull();
    expect(sides[0]!.told.get(7)).not.toBeNull(); // its own people go when their sockets do
    expect(there.everyone()).toBeNull();
    expect(vi.getTimerCount()).toBe(0);
  });

  it('a server that stops says goodbye for its people at once', () => {
    const { here, there, sides } = pair();
    say(here, person('ada'), 7, 1, {});
    say(there, person('ben', 1), 8, 1, {});
    pass(200);
    here.destroy();
    sides[0]!.deaf = true;
    there.receive(person('cleo'), awarenessUpdate([[9, 1, '{}']]));
    pass(200);
    expect([sides[1]!.told.get(7), sides[1]!.told.get(8)]).toEqual([null, expect.anything()]);
    there.destroy();
    expect(vi.getTimerCount()).toBe(0);
  });

  it('1,000 movements of 20 people in a second are told in at most 11 messages, the last state of each included', () => {
    const { here, sides } = pair();
    const people = Array.from({ length: 20 }, (_, i) => person(`p${i}`, i % 6));
    for (let step = 1; step <= 50; step++) {
      for (const [i, who] of people.entries()) say(here, who, i + 1, step, { note: String(step) });
      pass(20);
    }
    pass(200);
    for (const side of sides) {
      expect(side.broadcasts).toBeLessThanOrEqual(13);
      for (let i = 1; i <= 20; i++) expect(side.told.get(i)?.note).toBe('50');
    }
    expect(sides[0]!.others).toBeLessThanOrEqual(12);
  });

  it('a lone movement after a pause is told at once', () => {
    const { here, sides } = pair();
    say(here, person('ada'), 7, 1, {});
    pass(1);
    expect(sides[0]!.told.has(7)).toBe(true);
  });

  it('two members who got the same hand before their servers met: the later id takes another', () => {
    const { here, there, sides } = pair();
    const [ada, ben] = [person('ada'), person('ben')];
    sides[0]!.deaf = true;
    sides[1]!.deaf = true;
    say(here, ada, 1, 1, {});
    say(there, ben, 2, 1, {});
    pass(200);
    sides[0]!.deaf = false;
    sides[1]!.deaf = false;
    for (let clock = 2; clock < 4; clock++) {
      say(here, ada, 1, clock, {});
      say(there, ben, 2, clock, {});
      pass(200);
    }
    for (const side of sides) expect([side.told.get(1)?.user?.hand, side.told.get(2)?.user?.hand]).toEqual([0, 1]);
  });

  it('more than 64 people of one server are passed on, and what is no presence is not', () => {
    const { here, there, sides } = pair();
    for (let i = 1; i <= 100; i++) say(here, person(`p${i}`), i, 1, {});
    pass(200);
    expect([...sides[1]!.told.keys()]).toHaveLength(100);
    expect(() => there.receiveOthers(Uint8Array.of(1, 5))).toThrow();
    there.receiveOthers(awarenessUpdate([[500, 1, '{"user":{"id":5}}']]));
    expect(there.elsewhere()).toHaveLength(100);
  });
});

describe('over the line', () => {
  let line: FakeLine;
  const houses: House[] = [];
  afterEach(async () => {
    for (const house of houses.splice(0)) await house.stop();
  });
  it('windows on two servers see each other, also who came before; who leaves or dies is gone', async () => {
    const log = new FakeLog('page');
    line = new FakeLine();
    const start = async () => {
      const node = line.node(log);
      const house = await startHouse(log, 60_000, 0, { bus: node.bus, through: node.through });
      houses.push(house);
      return { node, house };
    };
    const [one, two] = [await start(), await start()];
    const ada = one.house.open('page', 'ada');
    const users = (page: typeof ada) =>
      [...page.awareness.getStates().values()].map((state) => (state.user as { id?: string } | undefined)?.id ?? '').sort();
    await until('she is there', () => users(ada).includes('ada'));
    const ben = two.house.open('page', 'ben'); // opens the room there, which asks
    await until('both know both', () => [ada, ben].every((page) => users(page).join() === 'ada,ben'));
    ada.awareness.setLocalStateField('note', 'here');
    await until('moved', () => [...ben.awareness.getStates().values()].some((state) => state.note === 'here'));
    const hands = () => [...ben.awareness.getStates().values()].map((state) => (state.user as { hand?: number } | undefined)?.hand).sort();
    expect(hands()).toEqual([0, 1]);
    ada.close();
    await until('gone', () => users(ben).join() === 'ben');
    const presences = line.sent.filter((message) => message.kind === 'presence');
    expect(presences.every((message) => message.page === 'page')).toBe(true);
  });
});
