/**
 * The n-th statement of the database breaks its connection, for every n until a scenario passes untouched: before the statement or
 * after it, when only the answer is lost; once or until the database is mended.
 */
import pg from 'pg';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { type Database, database, databaseOn } from '@/lib/store/database';
import type { FoldThread } from '@/lib/store/fold-aside';
import { foldEntries } from '@/lib/store/fold-work';
import { logThatFolds, longBytes, startFolding } from '@/lib/store/folding';
import { pageLog } from '@/lib/store/log';
import { createPage } from '@/lib/store/pages';
import { FakeLog, random, startHouse, until } from '../live/helpers';
import { type TestDatabase, testDatabase } from '../store/cluster';
import { Plan, sabotage, type When } from './failing';
import { Hand } from './hand';
import { makePages, readPages } from './log-check';
import { Marks, marksIn, writeMark } from './tokens';
import { allSaved } from './window';

let db: TestDatabase;
beforeEach(async () => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
  db = await testDatabase();
  await makePages(db.connection, [], ['ada', 'ben', 'cleo']);
});
afterEach(async () => {
  await db.close();
  vi.restoreAllMocks();
});

const ways: [When, boolean][] = [
  ['before', false],
  ['after', false],
  ['before', true],
  ['after', true],
];

/** Marks as entries of the log, made by nobody at a window, and so much beside them that the log is long. */
function entriesOf(page: string, marks: Marks, count: number) {
  const doc = new Y.Doc();
  const updates: Uint8Array[] = [];
  doc.on('update', (update: Uint8Array) => updates.push(update));
  doc.getMap('bulk').set('all', 'x'.repeat(longBytes));
  for (let n = 0; n < count; n++) {
    marks.fates.set(`before-${n}`, 'saved');
    writeMark(doc, `before-${n}`, random(n));
  }
  return updates.map((update) => ({ page, update, member: 'cleo' }));
}

async function faultsOf(page: string, marks: Marks): Promise<string[]> {
  const { doc, faults } = (await readPages(db.connection, [page])).get(page)!;
  return [...faults, ...marks.faults(marksIn(doc))];
}

/** A database whose statements fail by plan, over one connection at a time. */
function failing(plan: Plan): { on: Database; close(): Promise<void> } {
  const pool = new pg.Pool({ ...db.connection, max: 1 });
  pool.on('error', () => {});
  const on = databaseOn(pool);
  sabotage(pool, () => plan);
  return { on, close: () => pool.end() };
}

const isThere = async (id: string) => {
  const client = new pg.Client(db.connection);
  await client.connect();
  return (await client.query('select id from page where id = $1', [id]).finally(() => client.end())).rows.length > 0;
};

it.each(ways)('a page is made whole or not at all, and can be made again: %s its work, for ever: %s', async (when, forEver) => {
  const doc = new Y.Doc();
  writeMark(doc, 'first', random(1));
  const marks = new Marks();
  marks.fates.set('first', 'saved');
  let plan = new Plan(0, when, false);
  sabotage(database().$client, () => plan);
  for (let n = 1; ; n++) {
    plan = new Plan(n, when, forEver);
    const page = { id: `made-${n}`, machineId: null, member: 'ada', update: Y.encodeStateAsUpdate(doc) };
    const made = await createPage(page).catch(() => null);
    plan.mend();
    while (!(await isThere(page.id))) {
      expect(made).toBeNull();
      await createPage(page).catch(() => {}); // a connection that has just died may still be handed out once
    }
    expect(await faultsOf(page.id, marks), `statement ${n}`).toEqual([]);
    if (plan.failures > 0) continue;
    expect(made).not.toBeNull();
    expect(n).toBeGreaterThan(4);
    break;
  }
});

/** Folds in this very thread: one for each of many runs would take longer than the runs. */
const here: FoldThread = { fold: async (work) => foldEntries(work), close: async () => {} };

it.each(ways)('two write while the log is folded: the statement fails %s its work, for ever: %s', async (when, forEver) => {
  for (let n = 1; ; n++) {
    const id = `page-${n}`;
    await makePages(db.connection, [id], []);
    const marks = new Marks();
    await pageLog(db.database).append(entriesOf(id, marks, 20));
    const plan = new Plan(n, when, forEver);
    const { on, close } = failing(plan);
    const folding = startFolding(on, here);
    const fold = () => {
      folding.changed(id, 0, longBytes);
      return folding.settled();
    };
    const house = await startHouse(new FakeLog(id), 15, 0, { through: logThatFolds(pageLog(on), folding), restMs: 15 });
    try {
      const hands = ['ada', 'ben'].map((name, i) => new Hand(name, house.open(id, name), marks, random(i), () => {}));
      const settled = () => hands.every(({ window }) => allSaved(window)) || (forEver && plan.failures >= 3);
      const folds = fold();
      for (let turn = 0; turn < 2; turn++) {
        const written = hands.map((hand) => hand.write());
        await until('saved, or failing for a while', settled);
        if (turn === 0) hands[0]!.erase(written[0]!);
      }
      await folds;
      plan.mend();
      await until('all saved once the database is mended', () => hands.every(({ window }) => allSaved(window)), 20_000);
      await fold();
      expect(await faultsOf(id, marks)).toEqual([]);
      const { rows } = await db.database.$client.query('select number from page_base where page = $1', [id]);
      expect(rows).toHaveLength(1); // it was folded
    } catch (error) {
      throw new Error(`statement ${n} fails ${when} its work, ${forEver ? 'for ever' : 'once'}`, { cause: error });
    } finally {
      await house.stop();
      await folding.close();
      await close();
    }
    if (plan.failures > 0) continue;
    expect(n).toBeGreaterThan(15);
    break;
  }
});
