import { describe, expect, test } from 'vitest';
import { factsSought, type Match, rate } from '@/lib/search/rank';
import type { QueryPart } from '@/lib/search/types';
import type { Fact } from '@/lib/widgets/definition';

const part = (as: QueryPart['as'], value: string, synonyms: string[] = []): QueryPart => ({
  text: value,
  as,
  value,
  label: value,
  synonyms,
});
const fact = (kind: Fact['kind'], value: string, label = value): Fact => ({ kind, value, label });
const match = (given: Partial<Match>): Match => ({ page: 'p', facts: [], words: [], state: 'mended', on: '2025-01-01', ...given });
const says = (value: string, via = value, inTitle = false) => ({ value, via, inTitle });
const corpus = {
  pages: 50,
  withWord: new Map([
    ['spinner', 5],
    ['machine', 45],
    ['wasp', 1],
  ]),
};
const score = (given: Partial<Match>, ...parts: QueryPart[]) => rate(match(given), parts, corpus).score;

describe('what is looked for', () => {
  test('a wire either way round, in every reading', () => {
    expect(factsSought(part('wire', 'grey/orange', ['grey/red'])).map((f) => f.value)).toEqual([
      'grey/orange',
      'orange/grey',
      'grey/red',
      'red/grey',
    ]);
  });
  test('a switch also as one that shares a line; a word in no facts', () => {
    expect(factsSought(part('circuit', '46')).map((f) => f.kind)).toEqual(['circuit', 'sibling']);
    expect(factsSought(part('word', 'spinner'))).toEqual([]);
  });
});

describe('score', () => {
  test('a page that matches nothing has none, even a mended one', () => {
    expect(rate(match({}), [part('word', 'spinner'), part('pin', 'A3J4-7')], corpus)).toEqual({ score: 0, why: [] });
  });
  test('a rare word counts more than a common one', () => {
    expect(score({ words: [says('wasp')] }, part('word', 'wasp'))).toBeGreaterThan(
      score({ words: [says('machine')] }, part('word', 'machine')),
    );
  });
  test('the word itself counts more than one that means the same, and most in the title', () => {
    const query = part('word', 'spinner', ['weathervane']);
    const own = score({ words: [says('spinner')] }, query);
    expect(own).toBeGreaterThan(score({ words: [says('spinner', 'weathervane')] }, query));
    expect(score({ words: [says('spinner', 'spinner', true)] }, query)).toBeGreaterThan(own);
    // Both on one page: the word itself is the reason.
    expect(rate(match({ words: [says('spinner', 'weathervane'), says('spinner')] }), [query], corpus).why).toEqual(['says “spinner”']);
  });
  test('the pin counts more than its connector, a switch more than one that shares a line with it', () => {
    expect(score({ facts: [fact('pin', 'A3J4-7')] }, part('pin', 'A3J4-7'))).toBeGreaterThan(
      score({ facts: [fact('header', 'A3J4')] }, part('header', 'A3J4')),
    );
    expect(score({ facts: [fact('circuit', '46')] }, part('circuit', '46'))).toBeGreaterThan(
      score({ facts: [fact('sibling', '46')] }, part('circuit', '46')),
    );
  });
  test('the same pin of the same board design outranks an unrelated word', () => {
    const query = [part('word', 'spinner'), part('pin', 'A3J4-7'), part('board-design', 'SB-2')];
    const sameFault = score({ facts: [fact('pin', 'A3J4-7'), fact('board-design', 'SB-2')] }, ...query);
    expect(sameFault).toBeGreaterThan(score({ words: [says('spinner', 'spinner', true)] }, ...query));
  });
  test('a page that answers all of the question comes first, and a mended one before an open one', () => {
    const query = [part('word', 'spinner'), part('word', 'wasp')];
    const both = score({ words: [says('spinner'), says('wasp')] }, ...query);
    expect(both).toBeGreaterThan(score({ words: [says('wasp')] }, ...query) + score({ words: [says('spinner')] }, ...query));
    expect(score({ words: [says('wasp')] }, ...query)).toBeGreaterThan(score({ words: [says('wasp')], state: 'open' }, ...query));
  });
});

test('reasons are in words, strongest first', () => {
  const { why } = rate(
    match({
      facts: [fact('board-design', 'SB-2'), fact('wire', 'orange/grey'), fact('pin', 'A3J4-7'), fact('sibling', '46', '46 Spinner')],
      words: [says('machine', 'machine')],
    }),
    [part('board-design', 'SB-2'), part('wire', 'grey/orange'), part('pin', 'A3J4-7'), part('circuit', '46'), part('word', 'machine')],
    corpus,
  );
  expect(why).toEqual([
    'touches A3J4-7',
    'orange/grey is on this repair',
    'same board design SB-2',
    'says “machine”',
    '46 Spinner shares a line with it',
  ]);
});
