/** Housings: what is taken, what is cut, what is left. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Header } from '@/lib/core/chart/schema';
import { chooseHousing, lostPerCut, offcut, piecesFit, planHeaders, planHousings } from '@/lib/core/harness';
import { chooseHeader } from '@/lib/core/harness/needs';
import type { Part } from '@/lib/core/parts/schema';
import { fixtureCatalogue, fixtureStock, without } from './parts-fixture';

fc.configureGlobal({ seed: 1985 }); // the same cases at every run

const header = (positions: number, pitchMm: Header['pitchMm'] = 2.54): Header => ({
  id: 'A3J4',
  positions,
  pitchMm,
  keys: [],
  plating: 'tin',
  termination: 'crimp',
  pins: [],
});
const choose = (positions: number, stock = fixtureStock, catalogue = fixtureCatalogue, pitch?: Header['pitchMm']) =>
  chooseHousing(header(positions, pitch), catalogue, stock).choice;

/** Cutting by hand: each piece is cut off the rest, and a cut that reaches the end of the strip costs nothing more. */
function cutByHand(lengths: readonly number[], stock: number, lost: number): number | null {
  let rest = stock;
  for (const length of lengths) {
    if (length > rest) return null;
    rest = Math.max(0, rest - length - lost);
  }
  return rest;
}

describe('cut arithmetic', () => {
  it('agrees with cutting by hand, piece by piece', () => {
    const lengths = fc.array(fc.integer({ min: 1, max: 24 }), { maxLength: 8 });
    fc.assert(
      fc.property(lengths, fc.integer({ min: 1, max: 60 }), fc.constantFrom(0, 1, 2), (pieces, stock, lost) => {
        const rest = cutByHand(pieces, stock, lost);
        expect(piecesFit(pieces, stock, lost)).toBe(rest !== null);
        if (rest !== null) expect(offcut(pieces, stock, lost)).toBe(rest);
      }),
    );
  });

  it('needs no cut when one piece uses all of it', () => {
    expect(piecesFit([11], 11, lostPerCut.sawn)).toBe(true);
    expect(offcut([11], 11, lostPerCut.sawn)).toBe(0);
  });
});

describe('two rows of pins', () => {
  const two = (positions: number): Header => ({ ...header(positions), rows: 2, numbering: 'zigzag' });
  const dual = (id: string, positions: number): Part =>
    ({ ...fixtureCatalogue.parts.find((p) => p.id === 'H-254-16'), id, positions, rows: 2 }) as Part;
  const withDual = { ...fixtureCatalogue, parts: [dual('H-254-10D', 10), dual('H-254-26D', 26), ...fixtureCatalogue.parts] };
  const chosen = (head: Header, catalogue = withDual) => chooseHousing(head, catalogue, fixtureStock).choice;

  it('get no housing of one row, and are told why by name', () => {
    expect(chosen(two(9), fixtureCatalogue)).toEqual({
      how: 'none',
      message: 'No housing for A3J4, 9 positions in two rows at 2.54 mm, is in the catalogue.',
      mend: 'Those of this pitch have one row, which leaves the other row of pins bare. Add a housing of 9 positions in two rows to the catalogue.',
    });
  });
  it('get one of two rows that has their positions, and none is cut for them', () => {
    expect(chosen(two(10))).toMatchObject({ how: 'order', part: 'H-254-10D' });
    expect(chosen(two(12))).toEqual({
      how: 'none',
      message: 'No housing for A3J4, 12 positions in two rows at 2.54 mm, is in the catalogue.',
      mend: 'Those of two rows have 10, 26, and are not cut. Add one of 12 positions in two rows.',
    });
  });
  it('are the only ones that do: one row of ten is not given it', () => {
    expect(chosen(header(10))).toMatchObject({ how: 'cut', part: 'H-254-16' });
    const onlyDual = { ...withDual, parts: withDual.parts.filter((p) => p.kind !== 'housing' || p.rows === 2) };
    expect(chosen(header(10), onlyDual)).toMatchObject({ how: 'none', mend: expect.stringContaining('do not go on one row of pins') });
  });
  it('hold for a job, and for board headers', () => {
    const connectors = [
      { id: 'A', header: two(10) },
      { id: 'B', header: header(10) },
      { id: 'C', header: two(9) },
    ];
    const job = planHousings(connectors, withDual, fixtureStock);
    expect(job.connectors.map((c) => [c.id, c.part])).toEqual([
      ['A', 'H-254-10D'],
      ['B', 'H-254-16'],
    ]);
    expect(job.refused).toMatchObject([{ id: 'C', message: expect.stringContaining('two rows') }]);
    const headers = planHeaders(connectors.slice(0, 2), withDual, fixtureStock);
    expect(headers.connectors.map((c) => c.id)).toEqual(['B']);
    expect(headers.refused).toMatchObject([{ id: 'A', message: expect.stringMatching(/10 positions in two rows/) }]);
    expect(chooseHeader(two(10), withDual, fixtureStock).part).toBeNull();
  });
});

describe('the housing', () => {
  it('is the exact one on hand', () => {
    expect(choose(9)).toEqual({ how: 'exact', part: 'H-254-9', name: 'Housing, 2.54 mm, 9 positions', positions: 9, onHand: 2 });
  });

  it('is cut from a longer one on hand before an exact one is ordered', () => {
    expect(choose(11)).toEqual({
      how: 'cut',
      part: 'H-254-16',
      name: 'Housing, 2.54 mm, 16 positions',
      positions: 11,
      from: 16,
      lost: 1,
      offcut: 4,
      onHand: 6,
      cut: 'sawn',
    });
  });

  it('is cut from the shortest that serves', () => {
    expect(choose(7)).toMatchObject({ how: 'cut', part: 'H-254-9', from: 9, offcut: 1 });
    expect(choose(8)).toMatchObject({ how: 'cut', part: 'H-254-9', from: 9, offcut: 0, lost: 1 });
  });

  it('loses nothing where a scored one breaks', () => {
    expect(choose(17, { 'H-396-18': 1 }, fixtureCatalogue, 3.96)).toMatchObject({ how: 'cut', cut: 'scored', lost: 0, offcut: 1 });
  });

  it('is ordered exact when nothing on hand serves, else ordered to be cut', () => {
    expect(choose(11, {})).toEqual({ how: 'order', part: 'H-254-11', name: 'Housing, 2.54 mm, 11 positions', positions: 11 });
    expect(choose(10, {})).toMatchObject({ how: 'cut', part: 'H-254-11', onHand: 0, offcut: 0 });
  });

  it('never cuts one that is marked as not to be cut', () => {
    const choice = choose(18, { 'H-254-20': 3 });
    expect(choice).toMatchObject({ how: 'none', message: expect.stringContaining('18 positions at 2.54 mm') });
    expect(choice).toMatchObject({ mend: expect.stringContaining('not to be cut') });
    expect(choose(20, { 'H-254-20': 3 })).toMatchObject({ how: 'exact', part: 'H-254-20' });
  });

  it('is none, with the longest there is, when all are shorter', () => {
    expect(choose(21)).toMatchObject({ how: 'none', mend: expect.stringContaining('The longest of this pitch has 20') });
  });

  it('is none for another pitch, however near: 2.5 mm against 2.54 mm', () => {
    expect(choose(9, fixtureStock, fixtureCatalogue, 2.5)).toMatchObject({
      how: 'none',
      mend: expect.stringMatching(/2\.54, 3\.96 mm, which does not mate.*Add a housing of 2\.5 mm/),
    });
    expect(choose(9, fixtureStock, { ...fixtureCatalogue, parts: [] })).toMatchObject({
      how: 'none',
      mend: 'Add a housing of 2.54 mm to the catalogue.',
    });
  });

  it('is never shorter than the header, of its pitch, on hand before ordered, and keeps every position', () => {
    const ids = fixtureCatalogue.parts.flatMap((p) => (p.kind === 'housing' ? [p.id] : []));
    const stocks = fc.dictionary(fc.constantFrom(...ids), fc.integer({ min: 0, max: 3 }));
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 24 }),
        fc.constantFrom<Header['pitchMm'][]>(2.5, 2.54, 3.96),
        stocks,
        fc.subarray(ids),
        (positions, pitch, stock, left) => {
          const catalogue = without(...left);
          const { choice, housing } = chooseHousing(header(positions, pitch), catalogue, stock);
          const could = catalogue.parts.some(
            (p) =>
              p.kind === 'housing' && p.pitchMm === pitch && (p.positions === positions || (p.positions > positions && p.cut !== 'no')),
          );
          expect(choice.how !== 'none').toBe(could);
          if (choice.how === 'none' || !housing) return;
          expect(choice.positions).toBe(positions);
          expect(housing.positions).toBeGreaterThanOrEqual(positions);
          expect(housing.pitchMm).toBe(pitch);
          if (choice.how === 'cut') {
            expect(housing.cut).toBe(choice.cut);
            expect(choice.positions + choice.lost + choice.offcut).toBe(choice.from);
          } else expect(housing.positions).toBe(positions);
          const here = stock[housing.id] ?? 0;
          expect('onHand' in choice ? choice.onHand : 0).toBe(here);
          const exactHere = catalogue.parts.some(
            (p) => p.kind === 'housing' && p.pitchMm === pitch && p.positions === positions && (stock[p.id] ?? 0) > 0,
          );
          expect(choice.how === 'exact').toBe(exactHere);
        },
      ),
    );
  });
});
