/**
 * The n-th call of the log fails, for every n until a scenario passes untouched: before the work or only its answer, once or until the
 * log is mended. The method is SQLite's anomaly loop (sqlite.org/testing.html). At every moment a window says "saved" the log has it.
 */
import { isDeepStrictEqual } from 'node:util';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { FakeLog, Gate, type House, random, startHouse, until } from '../live/helpers';
import { FailingLog, Plan, type When } from './failing';
import { Hand } from './hand';
import { eraseMark, Marks, marksIn, writeMark } from './tokens';
import { allSaved } from './window';

beforeAll(() => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
});
afterAll(() => {
  vi.restoreAllMocks();
});

const page = 'page';

/** One run of a scenario. */
class Scene {
  readonly marks = new Marks();
  readonly hands: Hand[] = [];
  readonly faults: string[] = [];
  readonly r = random(11);
  private readonly changes: Promise<void>[] = [];
  private readonly ending = new Gate();

  private constructor(
    readonly plan: Plan,
    readonly house: House,
    readonly log: FakeLog,
  ) {
    this.ending.shut();
  }

  get longFailing() {
    return this.plan.forEver && this.plan.failures >= 3;
  }

  static async open(plan: Plan): Promise<Scene> {
    const log = new FakeLog(page);
    // Documents rest after 15 ms, so that scenarios read the log often.
    return new Scene(plan, await startHouse(log, 15, 0, { through: new FailingLog(log, plan), restMs: 15 }), log);
  }

  hand(name: string): Hand {
    const hand = new Hand(name, this.house.open(page, name), this.marks, this.r, () => this.look(`${name} is told it is saved`));
    this.hands.push(hand);
    return hand;
  }

  look(when: string) {
    const doc = new Y.Doc();
    for (const { update } of this.log.pages.get(page)!) Y.applyUpdate(doc, update);
    if (doc.store.pendingStructs) this.faults.push(`${when}: the log has a gap`);
    this.faults.push(...this.marks.faults(marksIn(doc)).map((fault) => `${when}: ${fault}`));
  }

  /** All is saved, or the log has failed for long enough. */
  async settled() {
    await until('saved, or failing for a while', () => this.hands.every(({ window }) => allSaved(window)) || this.longFailing);
  }

  async rested() {
    await this.settled();
    await until('the document rests, or the log fails', () => this.house.live.counts().awake === 0 || this.plan.failures > 0);
  }

  /** A change by the house. Where the log did not let it begin, it is asked for again once the log is mended, as a person would. */
  async change(mark: string, change: (doc: Y.Doc) => void) {
    this.marks.fates.set(mark, 'written');
    const ask = () => this.house.live.change(page, 'cleo', change);
    let answered = false;
    const first = ask().finally(() => {
      answered = true;
    });
    const done = first.catch(() => (this.plan.forEver ? this.ending.pass().then(ask) : ask()));
    this.changes.push(done.then(() => void this.marks.fates.set(mark, 'saved')));
    await until('changed, or failing for a while', () => answered || this.longFailing);
  }

  async end() {
    for (const { window } of this.hands) {
      const { state, kept } = window.saved.getSnapshot();
      if (state === 'saved' && kept > 0) this.faults.push('saved is said with changes that are not');
    }
    this.plan.mend();
    this.ending.lift();
    await Promise.all(this.changes);
    await until('all saved once the log is mended', () => this.hands.every(({ window }) => allSaved(window)), 20_000);
    this.look('at the end');
    const stored = new Y.Doc();
    for (const { update } of this.log.pages.get(page)!) Y.applyUpdate(stored, update);
    const seen = (doc: Y.Doc) => [...marksIn(doc)].sort();
    await until('all see what the log has', () =>
      this.hands.every(
        ({ window }) => isDeepStrictEqual(seen(window.doc), seen(stored)) && Y.equalSnapshots(Y.snapshot(window.doc), Y.snapshot(stored)),
      ),
    );
    for (const [mark, fate] of this.marks.fates)
      if (fate === 'written' || fate === 'erasing') this.faults.push(`${mark} was never acknowledged`);
  }
}

const scenarios: Record<string, (scene: Scene) => Promise<void>> = {
  async 'one writes, rests, writes on and erases'(scene) {
    const ada = scene.hand('ada');
    const first = ada.write();
    await scene.rested();
    ada.write();
    ada.write();
    await scene.settled();
    ada.erase(first);
    await scene.rested();
  },
  async 'two write at once, one goes offline between'(scene) {
    const [ada, ben] = [scene.hand('ada'), scene.hand('ben')];
    for (let n = 0; n < 3; n++) {
      ada.write();
      ben.write();
      await scene.settled();
    }
    ben.window.provider.disconnect();
    ben.write();
    ada.write();
    await until('ada saved, or failing for a while', () => allSaved(ada.window) || scene.longFailing);
    ben.window.provider.connect();
    await scene.settled();
  },
  async 'the house changes a page that rests, then one that is written on'(scene) {
    await scene.change('house-0', (doc) => writeMark(doc, 'house-0', random(1)));
    const ada = scene.hand('ada');
    ada.write();
    await scene.settled();
    ada.write();
    await scene.change('house-1', (doc) => {
      eraseMark(doc, 'house-1'); // asked twice, it is there once: as restoring a version is
      writeMark(doc, 'house-1', random(2));
    });
    await scene.settled();
  },
  async 'windows open one after another'(scene) {
    for (const name of ['ada', 'ben', 'cleo']) {
      scene.hand(name).write();
      await scene.rested();
    }
  },
};

const ways: [When, boolean][] = [
  ['before', false],
  ['after', false],
  ['before', true],
  ['after', true],
];

it.concurrent.each(Object.entries(scenarios))(
  '%s: whichever call of the log fails, nothing acknowledged is lost, nothing is doubled, and all is saved when the log is back',
  async (_name, scenario) => {
    const tried = await Promise.all(
      ways.map(async ([when, forEver]) => {
        for (let n = 1; ; n++) {
          const plan = new Plan(n, when, forEver);
          const scene = await Scene.open(plan);
          try {
            await scenario(scene);
            await scene.end();
            expect(scene.faults).toEqual([]);
          } catch (error) {
            throw new Error(`call ${n} fails ${when} its work, ${forEver ? 'for ever' : 'once'}`, { cause: error });
          } finally {
            await scene.house.stop();
          }
          if (plan.failures === 0) return n - 1;
        }
      }),
    );
    for (const calls of tried) expect(calls).toBeGreaterThanOrEqual(4);
  },
);
