/** Who is told when that something is in the log. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { News } from '@/lib/live/news';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
});
afterEach(() => {
  vi.useRealTimers();
});

class Ear {
  readonly heard: { ticket: number; vector: Record<string, number> }[] = [];
  constructor(public awaits: boolean) {}
  saved(ticket: number, vector: Uint8Array) {
    this.heard.push({ ticket, vector: Object.fromEntries(Y.decodeStateVector(vector)) });
  }
}
const commit = (client: number, clock: number) => new Map([[client, clock]]);

it('who waits hears of a lone commit at once, the others within half a second', () => {
  const [writer, reader] = [new Ear(true), new Ear(false)];
  const news = new News([writer, reader]);
  news.add(5, commit(1, 3));
  expect(writer.heard).toEqual([{ ticket: 5, vector: { 1: 3 } }]);
  expect(reader.heard).toEqual([]);
  vi.advanceTimersByTime(500);
  expect(reader.heard).toEqual([{ ticket: 5, vector: { 1: 3 } }]);
  expect(vi.getTimerCount()).toBe(0);
});

it('a commit every millisecond for a second: 100 messages to who waits, 2 to the others, and nothing is left out', () => {
  const [writer, reader] = [new Ear(true), new Ear(false)];
  const news = new News([writer, reader]);
  for (let i = 1; i <= 1000; i++) {
    news.add(i, commit(i % 3, i));
    vi.advanceTimersByTime(1);
  }
  expect(writer.heard.length).toBeGreaterThan(90);
  expect(writer.heard.length).toBeLessThan(110);
  expect(reader.heard.length).toBe(2);
  vi.advanceTimersByTime(500);
  for (const ear of [writer, reader]) {
    const vector: Record<string, number> = {};
    for (const said of ear.heard)
      for (const [client, clock] of Object.entries(said.vector)) vector[client] = Math.max(clock, vector[client] ?? 0);
    expect(vector).toEqual({ 0: 999, 1: 1000, 2: 998 });
    expect(ear.heard.at(-1)!.ticket).toBe(1000);
  }
});

it('what is still to be told is told at the end', () => {
  const [writer, reader] = [new Ear(true), new Ear(false)];
  const news = new News([writer, reader]);
  news.add(1, commit(1, 1));
  news.add(2, commit(1, 2));
  news.close();
  for (const ear of [writer, reader]) expect(ear.heard.at(-1)).toEqual({ ticket: 2, vector: { 1: 2 } });
  expect(vi.getTimerCount()).toBe(0);
});
