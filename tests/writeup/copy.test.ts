/** What the customer gets: parts, time and prices, and the frozen copy as plain data. */
import { describe, expect, it } from 'vitest';
import { money, readMoney, typedMoney } from '@/lib/core/money';
import { captionOf, copyShape, isSame, photosOf, sumOf } from '@/lib/notebook/writeup/copy';
import { letterhead as letterheadShape } from '@/lib/notebook/writeup/letterhead';
import { partLines } from '@/lib/notebook/writeup/parts';
import { ownKey } from '@/lib/notebook/writeup/wording';
import { derive, letterhead, priced, record, wording, written } from './pages';

const terminal = priced.catalogue.parts.find(({ id }) => id === 'T-254-S');
const prices = { prices: true };

describe('parts', () => {
  const part = 'T-254-S';
  it('of one kind are one line: what was taken counts before what was noted, and that before what was planned', () => {
    const planned = { part, name: 'Terminal', quantity: 12, planned: true as const };
    const noted = { part, name: 'Terminal', quantity: 10 };
    const text = (listed: Parameters<typeof partLines>[0], used = {}) =>
      partLines(listed, { ...priced, used }).map((l) => l.text.split(' ')[0]);
    expect(text([planned])).toEqual(['12']);
    expect(text([planned, planned])).toEqual(['24']);
    expect(text([planned, noted])).toEqual(['10']);
    expect(text([planned, noted], { [part]: 11 })).toEqual(['11']);
    expect(text([], { [part]: 3 })).toEqual(['3']);
    expect(text([], { [part]: 0 })).toEqual([]);
  });

  it('cost their share of a pack, in whole minor units; in another currency than the catalogue’s no price is known', () => {
    const catalogue = { ...priced.catalogue, parts: terminal ? [{ ...terminal, pack: 3, packPence: 100 }] : [] };
    const price = (currency: string, quantity: number) =>
      partLines([{ part, name: 'x', quantity }], { ...priced, catalogue, currency })[0]?.price;
    expect([1, 2, 3, 10].map((n) => price('GBP', n))).toEqual([33, 67, 100, 333]);
    expect(price('EUR', 3)).toBeNull();
  });
});

describe('prices', () => {
  it('stand only where they are wanted', () => {
    const bare = written(record()).copy;
    expect(bare.currency).toBeNull();
    expect(JSON.stringify(bare)).not.toMatch(/"price":\d/);
    expect(sumOf(bare)).toBeNull();
    expect(sumOf(written('# Looked at', {}, prices).copy)).toBeNull(); // nothing to pay for
    expect(written(record(), {}, prices).copy.currency).toBe('GBP');
  });

  it('are summed with the time, and the sum says what has no price', () => {
    const own = { [ownKey('parts', 'a')]: wording('x', 'Call-out', 2500), [ownKey('parts', 'b')]: wording('x', 'A favour') };
    const { copy, up } = written(record(), own, prices);
    const part = up.lines.find((l) => l.key === 'parts.T-254-S')?.price ?? Number.NaN;
    expect(up.lines.find((l) => l.key === 'time')?.price).toBe(2850); // 95 minutes at 18.00 an hour
    expect(sumOf(copy)).toEqual({ total: part + 2850 + 2500, without: 1 });
  });

  it('of time are left to the club: without a rate it is told and not charged', () => {
    expect(derive(record(), { ...priced, rate: null }).lines.find((l) => l.key === 'time')).toMatchObject({
      text: '1 h 35 min',
      price: null,
    });
  });
});

describe('a copy', () => {
  it('is plain data that reads back as it was', () => {
    const { copy } = written(record(), {}, prices);
    expect(copyShape.parse(JSON.parse(JSON.stringify(copy)))).toEqual(copy);
    expect(copyShape.safeParse({ ...copy, format: 'other' }).success).toBe(false);
    expect(photosOf(copy)).toEqual([]);
  });

  it('is the same as another that says the same, in whatever order a database gave its keys back', () => {
    const { copy } = written(record(), {}, prices);
    const turned = Object.fromEntries(Object.entries(copy).reverse()) as typeof copy;
    expect(isSame(copy, turned)).toBe(true);
    expect(isSame(copy, { ...copy, title: 'Other' })).toBe(false);
    expect(isSame(copy, { ...copy, proved: true })).toBe(true); // the customer reads nothing of it
    expect(isSame(copy, written(record()).copy)).toBe(false);
  });

  it('without a proof says that there is none, until somebody says how it is known', () => {
    expect(written(record()).texts('proof')).toEqual(['Not proved yet.']);
    const own = { [ownKey('proof', 'a')]: wording('', 'Played all evening') };
    expect(written(record(), own).texts('proof')).toEqual(['Played all evening']);
    expect(written(record({ proof: '"24 clean presses"' })).texts('proof')).toEqual(['24 clean presses']);
  });

  it('says beneath a photo its words and its numbered marks, whichever there are', () => {
    const at = { x: 0, y: 0 };
    const marks = [
      { sort: 'number' as const, number: 1, from: null, to: at, label: 'scorched' },
      { sort: 'arrow' as const, number: 0, from: at, to: at, label: '' },
    ];
    const photo = { picture: 'a'.repeat(64), width: 4, height: 3, caption: '', marks };
    expect(captionOf({ text: 'The plug', price: null, photo })).toBe('The plug; 1 scorched');
    expect(captionOf({ text: '', price: null, photo })).toBe('1 scorched');
    expect(captionOf({ text: '', price: null, photo: { ...photo, marks: [] } })).toBe('');
  });

  it('carries who writes, and nothing of how they charge', () => {
    expect(written(record()).copy.head).toEqual({ name: 'Ashgate Shed', address: ['2 Cinder Yard', 'Ashgate'], logo: null });
    expect(letterheadShape.safeParse(letterhead).success).toBe(true);
    expect(letterheadShape.safeParse({ ...letterhead, currency: 'XQQ' }).success).toBe(false);
    expect(letterheadShape.safeParse({ ...letterhead, rate: 1.5 }).success).toBe(false);
  });
});

// Digits behind the point: ISO 4217, as the platform's own tables have them.
it.each([
  ['GBP', '4.20', 420],
  ['GBP', ' 4,2 ', 420],
  ['GBP', '4', 400],
  ['GBP', '0.07', 7],
  ['JPY', '420', 420],
  ['KWD', '1.234', 1234],
])('in %s “%s” is %i minor units, there and back', (currency, typed, minor) => {
  expect(readMoney(typed, currency)).toBe(minor);
  expect(readMoney(typedMoney(minor, currency), currency)).toBe(minor);
});
it('a sum that is none of the currency’s is refused', () => {
  for (const bad of ['4.205', '-1', '1e3', '', '4..2', 'four']) expect(readMoney(bad, 'GBP')).toBeNull();
  expect(readMoney('4.2', 'JPY')).toBeNull();
  expect(money(1234, 'JPY')).toContain('1,234');
});
