/** Five people on two servers edit at random over a line that loses, delays and reorders; servers restart and are killed. */
import { deepStrictEqual } from 'node:assert';
import { isDeepStrictEqual } from 'node:util';
import * as Y from 'yjs';
import { applyLoaded } from '@/lib/live/loaded';
import { edit, shape } from './edits';
import { FakeLine } from './fake-line';
import { FakeLog, random, startHouse, until } from './helpers';

const steps = 120;
const patienceMs = 40_000; // reconnecting backs off, and a busy machine makes every failure a longer one

/** One run; rejects, naming the seed, when they do not end with the same page or the log has another. */
export async function converge(seed: number): Promise<void> {
  const r = random(seed);
  const log = new FakeLog('page');
  log.fails = () => r.below(12) === 0;
  log.failsToLoad = () => r.below(12) === 0;
  const line = new FakeLine({ seed, lost: 20, late: 15 });
  const stopped: { stop(): Promise<void> }[] = [];
  const start = async (at = 0) => {
    const node = line.node(log);
    const house = await startHouse(log, 10, at, { bus: node.bus, through: node.through, restMs: 10 });
    stopped.push(house);
    return { node, house };
  };
  const servers = [await start(), await start()];
  const people = ['ada', 'ben', 'cleo', 'ada', 'ben'].map((member, i) => servers[i % 2]!.house.open('page', member));
  try {
    await until('all open', () => people.every((p) => p.everSynced()), patienceMs);
    for (let step = 0; step < steps; step++) {
      const person = r.pick(people);
      const chance = r.below(200);
      if (chance < 6) {
        if (person.provider.shouldConnect) person.provider.disconnect();
        else person.provider.connect();
      } else if (chance < 8) {
        const which = r.below(2);
        const { node, house } = servers[which]!;
        const others = servers[1 - which]!;
        if (chance === 6) {
          node.kill();
          await house.kill();
        } else await house.live.close().then(() => house.kill());
        // Some of its people are led to the other server, the rest wait for the new one.
        for (const p of people)
          if (p.provider.serverUrl.startsWith(house.base) && r.below(2)) p.provider.serverUrl = `${others.house.base}/live`;
        servers[which] = await start(house.port);
      } else if (chance < 11) {
        const { node } = r.pick(servers);
        node.cut();
        setTimeout(() => node.mend(), r.below(20));
      } else edit(person.doc, r);
      if (r.below(4) === 0) await new Promise((resolve) => setTimeout(resolve, r.below(6)));
    }
    log.fails = () => false;
    log.failsToLoad = () => false;
    for (const person of people) person.provider.connect();
    await until('all saved', () => people.every((p) => p.saved.getSnapshot().state === 'saved'), patienceMs);
    line.calm();
    for (const { node } of servers) node.mend();
    const [first, ...others] = people;
    await until('all alike', () => others.every((p) => isDeepStrictEqual(shape(p.doc), shape(first!.doc))), patienceMs);
    const loaded = new Y.Doc();
    applyLoaded(loaded, await log.load('page'));
    deepStrictEqual(loaded.store.pendingStructs, null);
    deepStrictEqual(shape(loaded), shape(first!.doc));
    deepStrictEqual(people.filter((p) => p.saved.getSnapshot().kept > 0).length, 0);
    for (const { house } of servers) deepStrictEqual(await house.live.read('page', shape), shape(first!.doc));
  } catch (error) {
    throw new Error(`seed ${seed}: npm run soak -- converge 1 ${seed}`, { cause: error });
  } finally {
    line.stop();
    for (const person of people) person.close();
    for (const house of stopped) await house.stop();
  }
}
