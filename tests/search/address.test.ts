import { expect, test } from 'vitest';
import { askedAs, narrowed, readAsked, without } from '@/lib/search/address';

test('a search and its address say the same', () => {
  const asked = readAsked({ q: 'left flap weak', machine: 'lantern-regatta-3', not: ['does:dead', ''], as: 'does:weak' });
  expect(asked).toEqual({ q: 'left flap weak', narrow: { machine: 'lantern-regatta-3' }, not: ['does:dead'], as: ['does:weak'] });
  const params = new URLSearchParams(askedAs(asked));
  expect(readAsked(Object.fromEntries([...params.keys()].map((key) => [key, params.getAll(key)])))).toEqual(asked);
});

test('what is no search is left out', () => {
  expect(readAsked({ q: ['a', 'b'], colour: 'x', not: 'nonsense', as: ['<b>:x'] })).toEqual({ q: 'a', narrow: {}, not: [], as: [] });
  expect(readAsked({ q: 'x'.repeat(900) }).q).toHaveLength(300);
  expect(readAsked({}).q).toBe('');
});

test('narrowing, and striking out a term, read or added', () => {
  const asked = readAsked({ q: 'a' });
  expect(narrowed(narrowed(asked, 'cause', 'coil'), 'year', '2025').narrow).toEqual({ cause: 'coil', year: '2025' });
  expect(narrowed(narrowed(asked, 'cause', 'coil'), 'cause', null)).toEqual(asked);
  expect(without(asked, 'does:dead').not).toEqual(['does:dead']);
  expect(without({ ...asked, as: ['does:dead'] }, 'does:dead')).toEqual(asked);
});
