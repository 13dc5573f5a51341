/** 200 sockets on one page, and 1,000 over 100 pages: everyone sees everything, and the log has it. */
import { afterEach, expect, it } from 'vitest';
import { FakeLog, type House, startHouse, textOf, until, write } from './helpers';

let house: House | null = null;
afterEach(() => house?.stop());

const crowd = Array.from({ length: 100 }, (_, n) => `m${n}`);

it.each([
  [200, 1],
  [1000, 100],
])('%i windows on %i pages', { timeout: 120_000 }, async (windows, pages) => {
  const names = Array.from({ length: pages }, (_, n) => `page${n}`);
  const log = new FakeLog(...names);
  house = await startHouse(log);
  for (const name of crowd) house.members.set(name, { name, write: true });
  const people = Array.from({ length: windows }, (_, n) => ({
    page: names[n % pages]!,
    word: `w${n}.`,
    window: house!.open(names[n % pages]!, crowd[(n + Math.floor(n / pages)) % crowd.length]!),
  }));
  await until('all open', () => people.every(({ window }) => window.everSynced()), 60_000);
  for (const { window, word } of people) write(window.doc, word, 0);
  await until('all saved', () => people.every(({ window }) => window.saved.getSnapshot().state === 'saved'), 60_000);
  const lettersOf = new Map(names.map((name) => [name, 0]));
  for (const { page, word } of people) lettersOf.set(page, lettersOf.get(page)! + word.length);
  await until('all see all', () => people.every(({ page, window }) => textOf(window.doc).length === lettersOf.get(page)), 60_000);
  for (const name of names) {
    const kept = log.text(name);
    const own = people.filter(({ page }) => page === name);
    for (const { word, window } of own) {
      expect(kept).toContain(word);
      expect(textOf(window.doc)).toBe(kept);
    }
  }
  expect(house.live.counts().sockets).toBe(windows);
});
