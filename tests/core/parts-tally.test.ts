/** The tally: what is needed, held against stock, in whole packs. Prices and parts are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { freeFor, tally } from '@/lib/core/parts';
import type { Need } from '@/lib/core/parts/schema';
import { fixtureCatalogue, fixtureStock } from './parts-fixture';

fc.configureGlobal({ seed: 1985 }); // the same cases at every run

const need = (part: string | undefined, quantity: number, more: Partial<Need> = {}): Need => ({
  ...(part && { part }),
  name: part ?? 'Desoldering braid',
  quantity,
  from: 'typed',
  ...more,
});
const sum = (needs: Need[], stock = fixtureStock) => tally(needs, fixtureCatalogue, stock);

describe('tally', () => {
  it('is one line a part, wherever it is needed, with the catalogue’s own name', () => {
    const { lines } = sum([
      need('T-254-S', 12, { from: 'connector plan A3J4', note: '9 fitted, 1 spare, 2 samples' }),
      need('K-254', 1, { from: 'connector plan A3J4' }),
      need('T-254-S', 11, { from: 'connector plan A3J6', note: '8 fitted, 1 spare, 2 samples' }),
      need('T-254-S', 1, { from: 'connector plan A3J6' }),
    ]);
    expect(lines.map((l) => l.part)).toEqual(['T-254-S', 'K-254']);
    expect(lines[0]).toEqual({
      part: 'T-254-S',
      name: 'Terminal, 2.54 mm, 22 to 30 AWG',
      needed: 24,
      from: ['connector plan A3J4', 'connector plan A3J6'],
      onHand: 140,
      reserved: 0,
      elsewhere: 0,
      holders: [],
      used: 0,
      short: 0,
      packs: 0,
      toOrder: 0,
      costPence: 0,
      supplier: 'Gullwick Components',
      place: '',
      notes: ['9 fitted, 1 spare, 2 samples', '8 fitted, 1 spare, 2 samples'],
    });
  });

  it('orders whole packs of what is short', () => {
    const line = (needed: number, onHand: number) => sum([need('K-254', needed)], { 'K-254': onHand }).lines[0];
    expect(line(1, 0)).toMatchObject({ short: 1, packs: 1, toOrder: 10, costPence: 180 });
    expect(line(10, 0)).toMatchObject({ short: 10, packs: 1, toOrder: 10, costPence: 180 });
    expect(line(11, 0)).toMatchObject({ short: 11, packs: 2, toOrder: 20, costPence: 360 });
    expect(line(11, 10)).toMatchObject({ short: 1, packs: 1, toOrder: 10, costPence: 180 });
    expect(line(11, 11)).toMatchObject({ short: 0, packs: 0, toOrder: 0, costPence: 0 });
  });

  it('is short of what others have not reserved and this page has not taken', () => {
    const line = (here: number, elsewhere: number, used: number) =>
      tally(
        [need('K-254', 10)],
        fixtureCatalogue,
        { 'K-254': 12 },
        { here: { 'K-254': here }, elsewhere: { 'K-254': elsewhere }, used: { 'K-254': used } },
      ).lines[0];
    expect(line(0, 2, 0)).toMatchObject({ onHand: 12, reserved: 0, elsewhere: 2, short: 0 });
    expect(line(5, 7, 0)).toMatchObject({ reserved: 5, short: 5, toOrder: 10 });
    expect(line(0, 7, 5)).toMatchObject({ used: 5, short: 0, toOrder: 0 });
    expect(line(0, 99, 0)).toMatchObject({ short: 10 }); // a count found fewer than are reserved
    expect(line(0, 0, 15)).toMatchObject({ short: 0 });
  });

  it('says which other jobs have the rest', () => {
    const holders = { 'K-254': [{ page: 'p2', title: 'Spinner', pieces: 2 }] };
    const reserved = { here: {}, elsewhere: { 'K-254': 2 }, used: {}, holders };
    const { lines } = tally([need('K-254', 1), need('T-254-S', 1), need(undefined, 1)], fixtureCatalogue, { 'K-254': 2 }, reserved);
    expect(lines.map((line) => line.holders)).toEqual([holders['K-254'], [], []]);
  });

  it('sums plain words by their name, however they are spaced or capitalised', () => {
    const { lines, unpriced } = sum([
      need(undefined, 1),
      need(undefined, 2, { name: ' desoldering  BRAID' }),
      need(undefined, 1, { name: 'Flux' }),
    ]);
    expect(lines.map((l) => [l.name, l.needed, l.onHand, l.toOrder, l.costPence])).toEqual([
      ['Desoldering braid', 3, null, 3, null],
      ['Flux', 1, null, 1, null],
    ]);
    expect(unpriced).toBe(2);
  });

  it('keeps a plain word apart from a part of the same id', () => {
    expect(sum([need('K-254', 1), need(undefined, 1, { name: 'K-254' })]).lines).toHaveLength(2);
  });

  it('adds the known prices and counts the unknown ones', () => {
    const total = sum([need('K-254', 1), need('X-SLEEVE', 2), need('F-4S', 3)]);
    expect(total).toMatchObject({ currency: 'GBP', orderPence: 180 + 190, unpriced: 1 });
    expect(sum([need('X-SLEEVE', 2)], { 'X-SLEEVE': 2 })).toMatchObject({ orderPence: 0, unpriced: 0 });
    expect(total.lines[1]).toMatchObject({ name: 'Sleeve, 3 mm', packs: 2, toOrder: 2, costPence: null });
  });

  it('says when a part is not in the catalogue, and orders it all', () => {
    const [line] = sum([need('Z-9', 4, { name: 'Old part' })]).lines;
    expect(line).toMatchObject({ part: 'Z-9', name: 'Old part', onHand: null, short: 4, toOrder: 4, costPence: null });
    expect(line?.notes).toEqual(['Z-9 is not in the catalogue']);
  });

  it('of nothing is nothing', () => {
    expect(sum([])).toEqual({ lines: [], currency: 'GBP', orderPence: 0, unpriced: 0 });
  });

  it('conserves quantities, orders enough and never a pack too many, whatever the order of the needs', () => {
    const ids = [...fixtureCatalogue.parts.map((p) => p.id), 'Z-9'];
    const needs = fc.array(
      fc
        .record({ part: fc.constantFrom(undefined, ...ids), quantity: fc.integer({ min: 1, max: 300 }) })
        .map((n) => need(n.part, n.quantity)),
      { maxLength: 12 },
    );
    const stocks = fc.dictionary(fc.constantFrom(...ids.slice(0, -1)), fc.integer({ min: 0, max: 200 }));
    fc.assert(
      fc.property(needs, stocks, (list, stock) => {
        const total = sum(list, stock);
        expect(total.lines.reduce((n, l) => n + l.needed, 0)).toBe(list.reduce((n, x) => n + x.quantity, 0));
        expect(total.orderPence).toBe(total.lines.reduce((n, l) => n + (l.costPence ?? 0), 0));
        for (const l of total.lines) {
          const pack = fixtureCatalogue.parts.find((p) => p.id === l.part)?.pack ?? 1;
          expect((l.onHand ?? 0) + l.toOrder).toBeGreaterThanOrEqual(l.needed);
          expect(l.toOrder).toBe(l.packs * pack);
          expect(l.toOrder - l.short).toBeLessThan(pack);
        }
        const turned = sum([...list].reverse(), stock);
        const byName = (t: typeof total) => [...t.lines].map((l) => [l.part ?? l.name, l.needed, l.toOrder, l.costPence]).sort();
        expect(byName(turned)).toEqual(byName(total));
        expect(turned.orderPence).toBe(total.orderPence);
      }),
    );
  });
});

describe('what a page may reckon with', () => {
  it('is what others have not reserved, and what it took already', () => {
    const stock = { a: 5, b: 3, c: 2 };
    expect(freeFor(stock, undefined)).toEqual(stock);
    expect(freeFor(stock, { here: { a: 2 }, elsewhere: { a: 1, b: 3, c: 9 }, used: { b: 1, d: 2 } })).toEqual({ a: 4, b: 1, c: 0, d: 2 });
  });

  it('is never below nothing, and is what the tally is short of', () => {
    const few = fc.nat({ max: 30 });
    fc.assert(
      fc.property(few, few, few, few, (needed, onHand, elsewhere, used) => {
        const [stock, reserved] = [{ 'K-254': onHand }, { here: {}, elsewhere: { 'K-254': elsewhere }, used: { 'K-254': used } }];
        const free = freeFor(stock, reserved)['K-254'] ?? 0;
        expect(free).toBeGreaterThanOrEqual(0);
        expect(tally([need('K-254', needed)], fixtureCatalogue, stock, reserved).lines[0]?.short).toBe(Math.max(0, needed - free));
      }),
    );
  });
});
