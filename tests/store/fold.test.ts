import { sql } from 'drizzle-orm';
import { afterEach, beforeEach, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyLoaded } from '@/lib/live/loaded';
import { foldStep } from '@/lib/store/fold-page';
import { foldEntries } from '@/lib/store/fold-work';
import { listStretches, nameVersion, pageAt } from '@/lib/store/history';
import { pageLog } from '@/lib/store/log';
import { removePage } from '@/lib/store/pages';
import { pageBase, pageStretch, pageUpdate } from '@/lib/store/schema';
import { pauseMs } from '@/lib/store/stretches';
import { type TestDatabase, testDatabase } from './cluster';
import { dice, makeMembers, makePage, reference, said, type Written, writeEntries } from './past';

let db: TestDatabase;
let page: string;
beforeEach(async () => {
  db = await testDatabase();
  await makeMembers(db.database, 'ines', 'tomas');
  page = await makePage(db.database);
});
afterEach(() => db.close());

const fold = () => foldStep(db.database, page, foldEntries);
const began = Date.UTC(2025, 10, 8, 23, 30);

/** Appends entries as if each had come at its time (ms after half past eleven at night). */
async function appendAt(entries: Written[], times: number[]) {
  const numbers = await pageLog(db.database).append(entries.map((e) => ({ page, ...e })));
  const at = times.map((ms) => new Date(began + ms).toISOString());
  await db.database.execute(
    sql`update page_update u set at = t.at from unnest(${sql.param(numbers)}::bigint[], ${sql.param(at)}::timestamptz[]) as t (number, at)
        where u.page = ${page} and u.number = t.number`,
  );
}

/** The page from the log alone, for a document that has the entries up to `after` already. */
async function loadFrom(entries: Written[], after: number) {
  const doc = new Y.Doc();
  doc.transact(() => {
    for (const { update } of entries.slice(0, after)) Y.applyUpdate(doc, update);
  });
  const loaded = await pageLog(db.database).load(page, after);
  applyLoaded(doc, loaded);
  return { doc, loaded };
}

test.each([1, 2, 3, 4, 5, 6])('whatever the edits and the fold points, nothing of the page or its past changes (seed %i)', async (seed) => {
  const roll = dice(seed * 7919);
  const entries = writeEntries(['ines', 'tomas', null], 60 + roll(60), seed);
  const expected = reference(entries);
  let time = 0;
  let done = 0;
  while (done < entries.length) {
    const part = entries.slice(done, done + 1 + roll(20));
    await appendAt(
      part,
      part.map(() => {
        time += [0, 1000, 60_000, pauseMs][roll(4)]!;
        return time;
      }),
    );
    done += part.length;
    if (roll(3) === 0) await nameVersion(page, done - roll(3), 'A name', 'ines'); // refused where it is folded already
    if (roll(2) === 0) continue;
    const seen = await listStretches(page);
    expect(await fold()).toBe('done');
    // Folding changes nothing that anybody sees but the size.
    const plain = (list: typeof seen) => list.map((s) => ({ ...s, bytes: 0 }));
    expect(plain(await listStretches(page))).toEqual(plain(seen));
  }
  const stretches = await listStretches(page);
  expect(stretches.length).toBeGreaterThan(5);
  expect(stretches[0]?.number).toBe(entries.length);
  const folded = (await db.database.select({ number: pageBase.number }).from(pageBase))[0]?.number ?? 0;
  const ends = new Set(stretches.map((s) => s.number));
  for (let number = 0; number <= entries.length; number++) {
    const past = await pageAt(page, number);
    expect(past && said(past.doc)).toEqual(expected[past?.number ?? -1]);
    if (number >= folded || number === 0 || ends.has(number)) expect(past?.number).toBe(number);
    else expect(ends.has(past?.number ?? 0)).toBe(true);
    past?.doc.destroy();
    const { doc, loaded } = await loadFrom(entries, number);
    expect(loaded.number).toBe(entries.length);
    expect(loaded.base !== null).toBe(number < folded);
    expect(said(doc)).toEqual(expected.at(-1));
  }
  // Applying the stretches one after the other, and nothing else, gives the page at the end of each.
  expect(await fold()).toBe(folded === entries.length ? 'nothing' : 'done');
  expect(await db.database.$count(pageUpdate)).toBe(0);
  const { loaded } = await loadFrom(entries, 0);
  expect(loaded.tail).toEqual([]);
  for (const { number } of await listStretches(page)) expect(said((await pageAt(page, number))!.doc)).toEqual(expected[number]);
});

test('a point with a name is never swallowed: not by a later stretch, nor by a fold that was under way', async () => {
  const entries = writeEntries(['ines'], 12, 9);
  await appendAt(
    entries.slice(0, 6),
    entries.slice(0, 6).map(() => 0),
  );
  await fold();
  expect((await listStretches(page)).map((s) => s.number)).toEqual([6]);
  expect(await nameVersion(page, 3, 'Inside', 'ines')).toMatchObject({ ok: false, message: expect.stringContaining('longer stretch') });
  expect(await nameVersion(page, 6, '  Before the coil  ', 'ines')).toEqual({ ok: true });
  await appendAt(
    entries.slice(6),
    entries.slice(6).map(() => 0),
  );
  const outcome = await foldStep(db.database, page, async (work) => {
    expect(await nameVersion(page, 9, 'Meanwhile', 'tomas')).toEqual({ ok: true });
    return foldEntries(work);
  });
  expect(outcome).toBe('lost');
  expect(await fold()).toBe('done');
  expect((await listStretches(page)).map((s) => [s.from, s.number, s.name])).toEqual([
    [10, 12, null],
    [7, 9, 'Meanwhile'],
    [1, 6, 'Before the coil'],
  ]);
  expect(await nameVersion(page, 6, 'Renamed', 'tomas')).toEqual({ ok: true });
  expect((await listStretches(page))[2]).toMatchObject({ name: 'Renamed', members: [{ id: 'ines', name: 'Name of ines' }] });
  const past = (await pageAt(page, 6))!;
  expect(said(past.doc)).toEqual(reference(entries)[6]);
});

test('a name given to the end of the last stretch while that is being extended stops the fold', async () => {
  const entries = writeEntries(['ines'], 8, 10);
  const now = (part: Written[]) =>
    appendAt(
      part,
      part.map(() => 0),
    );
  await now(entries.slice(0, 4));
  await fold();
  await now(entries.slice(4));
  const outcome = await foldStep(db.database, page, async (work) => {
    expect(work.extended).not.toBeNull();
    await nameVersion(page, 4, 'Just now', null);
    return foldEntries(work);
  });
  expect(outcome).toBe('lost');
  await fold();
  expect((await listStretches(page)).map((s) => s.number)).toEqual([8, 4]);
});

test('an empty name takes the name away', async () => {
  await appendAt(writeEntries(['ines'], 3, 11), [0, 0, 0]);
  expect(await nameVersion(page, 2, 'Before the soldering', null)).toEqual({ ok: true });
  expect((await listStretches(page)).map((s) => s.name)).toContain('Before the soldering');
  expect(await nameVersion(page, 2, '  ', null)).toEqual({ ok: true });
  expect((await listStretches(page)).every((s) => s.name === null)).toBe(true);
});

test('names and points that cannot be are refused with a sentence', async () => {
  const entries = writeEntries(['ines'], 3, 11);
  await appendAt(entries, [0, 0, 0]);
  expect(await nameVersion(page, 2, 'x'.repeat(81), null)).toMatchObject({ ok: false, message: /^Name: / });
  for (const number of [0, 4, -1, 1.5, Number.NaN]) expect((await nameVersion(page, number, 'A', null)).ok).toBe(false);
  for (const number of [4, -1, 1.5, Number.NaN]) expect(await pageAt(page, number)).toBeNull();
  await removePage(page, null);
  expect((await nameVersion(page, 2, 'A', null)).ok).toBe(false);
  expect([await pageAt(page, 1), await listStretches(page), await fold()]).toEqual([null, [], 'nothing']);
});

test('what another must come before is kept, though the page cannot show it yet', async () => {
  const doc = new Y.Doc();
  const updates: Uint8Array[] = [];
  doc.on('update', (u: Uint8Array) => updates.push(u));
  for (const word of ['one ', 'two ', 'three ']) doc.getText('text').insert(doc.getText('text').length, word);
  const [one, two, three] = updates as [Uint8Array, Uint8Array, Uint8Array];
  await appendAt([{ update: three, member: 'ines' }], [0]);
  expect(await fold()).toBe('done');
  await appendAt([{ update: one, member: 'tomas' }], [60_000]);
  expect(await fold()).toBe('done');
  await appendAt([{ update: two, member: 'ines' }], [120_000]);
  expect(await fold()).toBe('done');
  for (const number of [3, 0]) {
    const { doc: loaded } = await loadFrom([], 0);
    expect(loaded.getText('text').toString()).toBe('one two three ');
    const past = (await pageAt(page, number))!;
    expect(past.doc.getText('text').toString()).toBe(number === 3 ? 'one two three ' : '');
  }
  // The stretches alone, without the base.
  const stretches = await db.database.select({ number: pageStretch.number }).from(pageStretch);
  expect(stretches.length).toBe(3);
  await db.database.execute(sql`update page set head = 4 where id = ${page}`);
  await db.database.execute(sql`update page_base set number = 4`);
  expect((await pageAt(page, 3))!.doc.getText('text').toString()).toBe('one two three ');
});
