/** Card edges: a pin by the letter that is printed beside it (trade cases § 1.2: letters skip some of G, I, O and Q). */
import { expect, test } from 'vitest';
import { indexChart } from '@/lib/core/chart';
import { lookup } from '@/lib/core/lookup';
import { fixtureDesign, fixtureMachine } from './fixture';

const edge = (more: object) =>
  indexChart(fixtureMachine, {
    ...fixtureDesign,
    headers: fixtureDesign.headers.map((h) => (h.id === 'A3J4' ? { ...h, ...more } : h)),
  });
const found = (chart: ReturnType<typeof edge>, clue: string) => {
  const result = lookup(chart, clue);
  return result.outcome === 'one' ? result.candidate.id : result.outcome;
};

test('one row in letters: H is the seventh where G is left out', () => {
  const chart = edge({ numbering: 'lettered', skipLetters: 'G' });
  for (const clue of ['A3J4-H', 'a3p4-h', 'A3J4/H', 'A3J4.H']) expect(found(chart, clue), clue).toBe('A3J4-7');
  expect(found(chart, 'A3J4-F')).toBe('A3J4-6');
  expect(found(chart, 'A3J4-G')).toBe('none'); // no such letter on this edge
  expect(found(chart, 'A3J4-7')).toBe('A3J4-7'); // counted, as everywhere
});

test('two faces: numbers on the first, letters on the second', () => {
  const chart = edge({ rows: 2, numbering: 'lettered', positions: 12, keys: [] });
  expect(found(chart, 'A3J4-A')).toBe('A3J4-7');
  expect(found(chart, 'A3J4-1')).toBe('A3J4-1');
});

test('a header without letters has no such pin', () => expect(found(edge({}), 'A3J4-H')).toBe('none'));
