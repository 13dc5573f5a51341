/** A short share of `npm run soak -- converge`. */
import { afterEach, beforeEach, it, vi } from 'vitest';
import { converge } from './converge-run';

beforeEach(() => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
});
afterEach(() => {
  vi.restoreAllMocks();
});

it.each(Array.from({ length: 12 }, (_, n) => n + 1))('seed %i', converge, 120_000);
