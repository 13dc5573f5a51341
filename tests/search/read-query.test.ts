import { describe, expect, test } from 'vitest';
import thesaurus from '@/content/thesaurus.json';
import { longestQuery, readQuery } from '@/lib/search/read-query';

const vocabulary = {
  machines: [
    { id: 'lantern-regatta-3', title: 'Lantern Regatta, no. 3' },
    { id: 'tin-orchard', title: 'Tin Orchard' },
  ],
  designs: ['SB-1', 'SB-2'],
  thesaurus: thesaurus.groups,
};
const read = (query: string) => readQuery(query, vocabulary);
const plain = (query: string) => read(query).map((p) => `${p.as} ${p.value}`);

describe('clues', () => {
  // Letter codes: IEC 60757; digits: IEC 60062; the short forms and spoken forms are common practice, no source.
  test.each(['grey/orange', 'GRY-ORN', 'gy og', 'grey with an orange stripe', '8-3', 'OGGY', 'orange-grey', 'orange stripe on grey'])(
    '%s is one wire, whichever colour comes first',
    (query) => {
      const parts = read(query);
      expect(parts).toHaveLength(1);
      expect(parts[0]?.as).toBe('wire');
      expect(parts[0]?.value.split('/').sort()).toEqual(['grey', 'orange']);
    },
  );
  test.each([
    ['A3J4-7', 'pin A3J4-7'],
    ['a3p4-07', 'pin A3J4-7'],
    ['a3p4 pin 7', 'pin A3J4-7'],
    ['A3J4 7', 'pin A3J4-7'],
    ['A3J4', 'header A3J4'],
    ['a3p4', 'header A3J4'],
    ['sw 46', 'circuit 46'],
    ['switch 46', 'circuit 46'],
    ['sw46', 'circuit 46'],
    ['46', 'circuit 46'],
    ['sb-2', 'board-design SB-2'],
    ['lantern regatta, no. 3', 'machine lantern-regatta-3'],
    ['Tin Orchard', 'machine tin-orchard'],
  ])('%s is %s', (query, clue) => expect(plain(query)[0]).toBe(clue));

  test('stand among words, in the order typed', () => {
    expect(plain('spinner grey-orange A3J4-7')).toEqual(['word spinner', 'wire grey/orange', 'pin A3J4-7']);
    expect(plain('46 or 36')).toEqual(['circuit 46', 'circuit 36']);
  });
  test('a number that counts or measures names no switch', () => {
    expect(plain('misses after 30 minutes')).not.toContain('circuit 30');
    expect(plain('counts 12 of 20').filter((p) => p.startsWith('circuit'))).toEqual([]);
    expect(plain('fuse 52 V').filter((p) => p.startsWith('circuit'))).toEqual([]);
  });
});

describe('words', () => {
  test('words without a meaning of their own are left out', () => {
    expect(plain('the spinner is on it')).toEqual(['word spinner']);
    expect(read('the and of is')).toEqual([]);
  });
  test('a word is widened by those that mean the same, not by itself', () => {
    const [part] = read('Spinner,');
    expect(part?.synonyms).toContain('weathervane');
    expect(part?.synonyms).not.toContain('spinner');
    expect(read('marsh')[0]?.synonyms).toEqual([]);
  });
  test('an expression of several words stays whole, small words included', () => {
    const [part, ...rest] = read('on and off');
    expect(rest).toEqual([]);
    expect(part).toMatchObject({ as: 'word', value: 'on and off' });
    expect(part?.synonyms).toContain('intermittent');
    expect(plain('spinner, after half an hour')).toEqual(['word spinner', 'word after half an hour']);
  });
});

test.each(['', '   ', '?!… -- //', ':*&|!<->()', "'; drop table page; --", '\\', '%_%', '\u0000', 'a'.repeat(5000), '46 '.repeat(500)])(
  'nothing typed throws: %j',
  (query) => expect(read(query).length).toBeLessThan(longestQuery),
);
test('what stands after the 300th character is not read', () => {
  expect(read(`${'x'.repeat(longestQuery)} spinner`).map((p) => p.value)).toEqual(['x'.repeat(longestQuery)]);
});
