/** Three people edit at random, with lost connections and a failing log; all end with the same page, and the log has it. */
import { isDeepStrictEqual } from 'node:util';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { applyLoaded } from '@/lib/live/loaded';
import { edit, shape } from './edits';
import { FakeLog, random, startHouse, until } from './helpers';

beforeEach(() => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
});
afterEach(() => {
  vi.restoreAllMocks();
});

const seeds = Array.from({ length: 24 }, (_, i) => i + 1);
const steps = 120;

it.each(seeds)('seed %i', async (seed) => {
  const r = random(seed);
  const log = new FakeLog('page');
  log.fails = () => r.below(10) === 0;
  const house = await startHouse(log, 5);
  try {
    const people = ['ada', 'ben', 'cleo'].map((member) => house.open('page', member));
    await until('all open', () => people.every((p) => p.everSynced()));
    for (let step = 0; step < steps; step++) {
      const person = r.pick(people);
      if (r.below(100) < 3)
        await until('those who wish to be are back', () => people.every((p) => p.provider.synced || !p.provider.shouldConnect));
      if (r.below(100) < 4) {
        if (person.provider.shouldConnect) person.provider.disconnect();
        else person.provider.connect();
      } else edit(person.doc, r);
      if (r.below(4) === 0) await new Promise((resolve) => setImmediate(resolve));
    }
    for (const person of people) person.provider.connect();
    await until('all saved', () => people.every((p) => p.saved.getSnapshot().state === 'saved'));
    const [first, ...others] = people;
    await until('all alike', () => others.every((p) => isDeepStrictEqual(shape(p.doc), shape(first!.doc))));
    const loaded = new Y.Doc();
    applyLoaded(loaded, await log.load('page'));
    expect(shape(loaded)).toEqual(shape(first!.doc));
    expect(people.map((p) => p.saved.getSnapshot().kept)).toEqual([0, 0, 0]);
    expect(await house.live.read('page', shape)).toEqual(shape(first!.doc));
  } catch (error) {
    throw new Error(`seed ${seed}: npx vitest run tests/live/converge.test.ts -t "seed ${seed}$"`, { cause: error });
  } finally {
    await house.stop();
  }
});
