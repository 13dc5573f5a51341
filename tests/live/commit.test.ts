/** Group commit, without sockets. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { Committer } from '@/lib/live/commit';
import { mergeAll } from '@/lib/live/merge';
import { FakeLog, until } from './helpers';

const rests = vi.hoisted(() => [] as number[]);
vi.mock('node:timers/promises', async (original) => {
  const timers = await original<typeof import('node:timers/promises')>();
  const setTimeout = (ms: number) => {
    rests.push(ms);
    return timers.setTimeout(ms);
  };
  return { ...timers, setTimeout };
});

beforeEach(() => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
});
afterEach(() => {
  vi.restoreAllMocks();
});

function typed(count: number) {
  const doc = new Y.Doc();
  const updates: Uint8Array[] = [];
  doc.on('update', (u: Uint8Array) => updates.push(u));
  for (let i = 0; i < count; i++) doc.getText('t').insert((i * 7) % (i + 1), String(i % 10));
  return { doc, updates };
}

it('a tree merge gives the same document as all updates one by one', () => {
  for (const count of [1, 2, 63, 64, 65, 129, 4097]) {
    const { doc, updates } = typed(count);
    const merged = new Y.Doc();
    Y.applyUpdate(merged, mergeAll(updates));
    expect(merged.getText('t').toString()).toBe(doc.getText('t').toString());
  }
});

it('10,000 small updates merge in well under the 0.9 s of a flat merge (measured on this kind of machine)', () => {
  const { updates } = typed(10_000);
  const began = performance.now();
  mergeAll(updates);
  expect(performance.now() - began).toBeLessThan(900);
});

it('updates of many pages go into one append, and each page is told its own vector', async () => {
  const log = new FakeLog('a', 'b', 'c');
  const saved: { page: string; vector: Map<number, number> }[] = [];
  const committer = new Committer(log, { saved: (page, _ticket, vector) => saved.push({ page, vector }), gone() {} });
  log.commits.shut();
  const first = typed(1);
  committer.add('a', first.updates[0]!, 'm');
  await until('asked', () => log.appends === 1);
  const docs = ['a', 'b', 'c'].map((page) => {
    const { doc, updates } = typed(100);
    for (const u of updates) committer.add(page, u, 'm');
    return { page, doc };
  });
  expect(committer.bytes).toBeGreaterThan(0);
  log.commits.lift();
  await committer.drained();
  expect(log.appends).toBe(2);
  expect(saved.map((s) => s.page)).toEqual(['a', 'a', 'b', 'c']);
  for (const { page, doc } of docs) expect(saved.at(-1 - 'cba'.indexOf(page))!.vector.get(doc.clientID)).toBe(100);
  expect(committer.bytes).toBe(0);
  expect(committer.pending('a')).toBe(0);
});

it('what is added while an append fails is kept in order, and the bytes are counted right', async () => {
  const log = new FakeLog('a');
  log.fails = (n) => n <= 3;
  const committer = new Committer(log, { saved() {}, gone() {} });
  const { doc, updates } = typed(50);
  for (const [i, u] of updates.entries()) {
    committer.add('a', u, i % 10 < 5 ? 'x' : 'y');
    if (i % 7 === 0) await new Promise((resolve) => setImmediate(resolve));
  }
  await committer.settled('a');
  expect(committer.bytes).toBe(0);
  const loaded = new Y.Doc();
  for (const { update } of log.pages.get('a')!) {
    Y.applyUpdate(loaded, update);
    expect(loaded.store.pendingStructs).toBeNull(); // each entry can be applied on those before it
  }
  expect(loaded.getText('t').toString()).toBe(doc.getText('t').toString());
});

it('forgetting a page rejects who waits for it and stops trying', async () => {
  const log = new FakeLog('a');
  log.fails = () => true;
  const committer = new Committer(log, { saved() {}, gone() {} });
  committer.add('a', typed(1).updates[0]!, null);
  const waits = committer.settled('a');
  await until('tried', () => log.appends === 1);
  committer.forget('a');
  await expect(waits).rejects.toThrow('removed');
  expect(committer.bytes).toBe(0);
});

it('a listener that throws does not stop the log', async () => {
  const log = new FakeLog('a', 'b');
  const committer = new Committer(log, {
    saved() {
      throw new Error('listener');
    },
    gone() {},
  });
  committer.add('a', typed(1).updates[0]!, null);
  await committer.settled('a');
  committer.add('b', typed(1).updates[0]!, null);
  await committer.settled('b');
  expect(log.appends).toBe(2);
});

it('appends begin 20 ms apart: what comes meanwhile goes together', async () => {
  const log = new FakeLog('a');
  const committer = new Committer(log, { saved() {}, gone() {} });
  const { updates } = typed(50);
  const clock = vi.spyOn(performance, 'now').mockReturnValue(50_000);
  rests.length = 0;
  committer.add('a', updates[0]!, 'm');
  await committer.settled('a');
  expect([log.appends, rests]).toEqual([1, []]); // after a rest at once
  for (const update of updates.slice(1, 25)) committer.add('a', update, 'm');
  await committer.settled('a');
  expect([log.appends, rests]).toEqual([2, [20]]);
  clock.mockReturnValue(50_012);
  for (const update of updates.slice(25)) committer.add('a', update, 'm');
  await committer.settled('a');
  expect([log.appends, rests.slice(1)]).toEqual([3, [8]]);
  expect(committer.pending('a')).toBe(0);
});
