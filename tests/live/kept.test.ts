/** The list of pages with changes that only this device has. */
import { beforeEach, expect, it, vi } from 'vitest';
import { forgetKept, keptOf, keptPages, noteKept } from '@/lib/live/kept';

const storage = new Map<string, string>();
vi.stubGlobal('localStorage', {
  getItem: (key: string) => storage.get(key) ?? null,
  setItem: (key: string, value: string) => void storage.set(key, value),
  removeItem: (key: string) => void storage.delete(key),
});
beforeEach(() => storage.clear());
const note = (page: string, member: string, changes: number, window = 'w') =>
  noteKept(page, { member, title: `Title of ${page}`, changes, window });

it('two members of one device each have theirs of the same page', () => {
  note('page', 'ada', 3);
  note('page', 'ben', 2);
  expect([keptOf('page', 'ada'), keptOf('page', 'ben')]).toEqual([3, 2]);
  expect(keptPages().map(({ page, member }) => [page, member])).toEqual([
    ['page', 'ada'],
    ['page', 'ben'],
  ]);
  note('page', 'ben', 0);
  expect([keptOf('page', 'ada'), keptOf('page', 'ben')]).toEqual([3, 0]);
});

it('what one member signs out of is not another’s', () => {
  note('page', 'ada', 3);
  note('other', 'ada', 1);
  note('page', 'ben', 2);
  forgetKept('ada');
  expect(keptPages()).toMatchObject([{ page: 'page', member: 'ben', changes: 2, title: 'Title of page' }]);
  forgetKept('ben');
  expect(storage.size).toBe(0);
});

it('keeps the time since when there are some', () => {
  vi.setSystemTime(1_000);
  note('page', 'ada', 1);
  vi.setSystemTime(2_000);
  note('other', 'ada', 1);
  note('page', 'ada', 9);
  vi.useRealTimers();
  expect(keptPages()).toMatchObject([
    { page: 'page', changes: 9, at: 1_000 },
    { page: 'other', changes: 1, at: 2_000 },
  ]);
});

it('storage that throws is no reason to stop', () => {
  vi.spyOn(storage, 'set').mockImplementation(() => {
    throw new Error('full');
  });
  expect(() => note('page', 'ada', 1)).not.toThrow();
  vi.restoreAllMocks();
});
