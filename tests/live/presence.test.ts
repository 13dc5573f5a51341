/** Who is here is the server's word. */
import * as decoding from 'lib0/decoding';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { freeHand, type Person } from '@/lib/live/presence';
import { closeBadMessage, messageAwareness } from '@/lib/live/protocol';
import { awarenessFrame } from './awareness-frame';
import { FakeLog, type House, type RawSocket, startHouse, until } from './helpers';

let house: House;
beforeEach(async () => {
  house = await startHouse(new FakeLog('page'));
});
afterEach(() => house.stop());

/** The newest state of each client that a socket has been told. */
function told(raw: RawSocket): Map<number, { user?: unknown; note?: string } | null> {
  const states = new Map<number, { user?: unknown; note?: string } | null>();
  for (const outer of raw.of(messageAwareness)) {
    const decoder = decoding.createDecoder(decoding.readVarUint8Array(outer));
    for (let left = decoding.readVarUint(decoder); left > 0; left--) {
      const client = decoding.readVarUint(decoder);
      decoding.readVarUint(decoder);
      states.set(client, JSON.parse(decoding.readVarString(decoder)));
    }
  }
  return states;
}

it('name, id and hand come from the session, whatever the client says; the sender gets its own back', async () => {
  const ben = await house.raw('page', 'ben').greeted();
  const raw = await house.raw('page', 'ada').greeted();
  raw.send(awarenessFrame([[7, 1, JSON.stringify({ user: { id: 'ben', name: 'Ben Tide', hand: 99, color: 'red' }, note: 'n' })]]));
  for (const socket of [ben, raw]) {
    await until('told', () => told(socket).has(7));
    expect(told(socket).get(7)).toEqual({ user: { id: 'ada', name: 'Ada Marsh', hand: 1 }, note: 'n' });
  }
});

it("another member's client id is left alone", async () => {
  const ben = await house.raw('page', 'ben').greeted();
  ben.send(awarenessFrame([[5, 1, '{"note":"mine"}']]));
  await until('told', () => told(ben).has(5));
  const raw = await house.raw('page', 'ada').greeted();
  raw.send(
    awarenessFrame([
      [5, 9, '{"note":"stolen"}'],
      [6, 1, '{"note":"own"}'],
    ]),
    awarenessFrame([[5, 10, 'null']]),
    awarenessFrame([[6, 2, '{"note":"own again"}']]),
  );
  await until('told', () => told(ben).get(6)?.note === 'own again');
  expect(told(ben).get(5)?.note).toBe('mine');
  expect(raw.open).toBe(true);
});

it('a connection speaks for at most four ids', async () => {
  const raw = await house.raw('page', 'ada').greeted();
  raw.send(awarenessFrame(Array.from({ length: 9 }, (_, i) => [i + 1, 1, '{}'])));
  await until('told', () => told(raw).size > 0);
  expect([...told(raw).keys()]).toEqual([1, 2, 3, 4]);
});

it.each([
  ['a state over 2 KB', awarenessFrame([[1, 1, JSON.stringify({ big: 'x'.repeat(2040) })]])],
  ['65 entries', awarenessFrame(Array.from({ length: 65 }, (_, i) => [i, 1, '{}']))],
  ['a state that is not JSON', awarenessFrame([[1, 1, '{']])],
  ['a state that is no object', awarenessFrame([[1, 1, '[1]']])],
  ['a state that is a number', awarenessFrame([[1, 1, '5']])],
])('%s closes the socket', async (_name, frame) => {
  const raw = await house.raw('page', 'ada').greeted();
  expect(await raw.send(frame).end()).toBe(closeBadMessage);
});

it('who leaves is gone for the others, also when cut off; a second socket of the same window keeps its id', async () => {
  const ben = await house.raw('page', 'ben').greeted();
  const first = await house.raw('page', 'ada').greeted();
  first.send(awarenessFrame([[3, 1, '{}']]));
  await until('told', () => told(ben).get(3) !== undefined);
  const second = await house.raw('page', 'ada').greeted();
  second.send(awarenessFrame([[3, 2, '{"note":"again"}']]));
  await until('told', () => told(ben).get(3)?.note === 'again');
  first.socket.terminate();
  await until('first is gone', () => house.live.counts().sockets === 2);
  second.send(awarenessFrame([[3, 3, '{"note":"still"}']]));
  await until('told', () => told(ben).get(3)?.note === 'still');
  second.socket.terminate();
  await until('gone', () => told(ben).get(3) === null);
  const third = await house.raw('page', 'cleo').greeted();
  third.send(awarenessFrame([[3, 4, '{"note":"free again"}']]));
  await until('told', () => told(ben).get(3)?.note === 'free again');
});

it('two windows learn of each other and of their own hand', async () => {
  const ada = house.open('page', 'ada');
  const ben = house.open('page', 'ben');
  ada.awareness.setLocalStateField('user', { id: 'ben', name: 'Nobody' });
  const users = (page: typeof ada) =>
    [...page.awareness.getStates().values()].map((s) => s.user as { id?: string; hand?: number } | undefined);
  await until('both know both', () =>
    [ada, ben].every(
      (page) => users(page).length === 2 && ['ada', 'ben'].every((id) => users(page).some((u) => u?.id === id && u.hand !== undefined)),
    ),
  );
  expect(
    users(ada)
      .map((u) => u!.hand)
      .sort(),
  ).toEqual([0, 1]);
  ada.close();
  await until('gone', () => users(ben).length === 1);
});

it('hands: the same member keeps one, six members differ, a seventh shares', () => {
  const person = (id: string, hand: number): Person => ({ member: { id, name: id }, hand, clients: new Set() });
  const here: Person[] = [];
  for (const id of ['a', 'b', 'c', 'd', 'e', 'f']) here.push(person(id, freeHand(here, id)));
  expect(here.map((p) => p.hand)).toEqual([0, 1, 2, 3, 4, 5]);
  expect(freeHand(here, 'c')).toBe(2);
  expect(freeHand(here, 'g')).toBeLessThan(6);
  expect(
    freeHand(
      here.filter((p) => p.hand !== 3),
      'g',
    ),
  ).toBe(3);
});
