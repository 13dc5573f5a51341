/** Numbering schemes in use (common practice, no source). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allCells, cellOf, digitsRunOut, matrixSize, printedNumber } from '@/lib/core/chart';
import type { Numbering } from '@/lib/core/chart/schema';
import { fixtureDesign } from './fixture';

fc.configureGlobal({ seed: 46 }); // the same run every time; change it to search further

const scheme = (order: Numbering['order'], first = 1, width = 2): Numbering => ({ order, first, width });
const eight = { columns: 8, rows: 8 };

describe('printedNumber', () => {
  it('prints column 4, row 6 by each scheme', () => {
    expect(printedNumber(scheme('column-row'), 4, 6, eight)).toBe('46');
    expect(printedNumber(scheme('row-column'), 4, 6, eight)).toBe('64');
    expect(printedNumber(scheme('down-columns'), 4, 6, eight)).toBe('30'); // three columns of eight, then six
    expect(printedNumber(scheme('along-rows'), 4, 6, eight)).toBe('44'); // five rows of eight, then four
    expect(printedNumber(scheme('down-columns'), 1, 1, eight)).toBe('01');
    expect(printedNumber(scheme('down-columns', 0), 1, 1, eight)).toBe('00');
    expect(printedNumber(scheme('down-columns', 101, 3), 1, 1, eight)).toBe('101');
    expect(printedNumber(scheme('column-row', 1, 3), 4, 6, eight)).toBe('046');
  });

  it('counts by the lines of the matrix, not by eight', () => {
    expect(printedNumber(scheme('down-columns'), 3, 1, { columns: 6, rows: 5 })).toBe('11');
    expect(printedNumber(scheme('along-rows'), 1, 3, { columns: 6, rows: 5 })).toBe('13');
  });

  it('prints lines counted from 0, other radices, a first digit and a prefix', () => {
    const from0 = { columns: 8, rows: 8, firstColumn: 0, firstRow: 0 };
    expect(printedNumber(scheme('column-row'), 5, 7, from0)).toBe('57');
    expect(printedNumber(scheme('down-columns', 1), 0, 0, { ...from0, columns: 5 })).toBe('01');
    expect(printedNumber(scheme('down-columns', 1), 4, 7, { ...from0, columns: 5 })).toBe('40'); // five columns of eight
    expect(printedNumber({ ...scheme('down-columns', 0), radix: 8 }, 8, 8, eight)).toBe('77'); // 63 in octal
    expect(printedNumber({ ...scheme('column-row'), radix: 16 }, 11, 3, { columns: 12, rows: 8 })).toBe('B3');
    expect(printedNumber({ ...scheme('column-row'), base: { column: 0, row: 0 } }, 1, 1, eight)).toBe('00');
    expect(printedNumber({ ...scheme('column-row'), base: { column: 0 } }, 4, 6, eight)).toBe('36');
    expect(printedNumber({ ...scheme('column-row'), prefix: 'S' }, 4, 6, eight)).toBe('S46');
  });

  it('finds the cells of a matrix counted from 0', () => {
    const from0 = { columns: 2, rows: 2, firstColumn: 0, firstRow: 0 };
    expect(allCells(from0).map((c) => `${c.column}${c.row}`)).toEqual(['00', '01', '10', '11']);
    expect(cellOf(scheme('column-row'), '01', from0)).toEqual({ column: 0, row: 1 });
  });

  it('knows when a digit a line is too few', () => {
    const of = (columns: number, more: Partial<Numbering> = {}) => digitsRunOut({ ...scheme('column-row'), ...more }, { columns, rows: 8 });
    expect([of(9), of(10), of(10, { base: { column: 0 } }), of(11, { base: { column: 0 } })]).toEqual([false, true, false, true]);
    expect([of(15, { radix: 16 }), of(16, { radix: 16 }), of(8, { radix: 8 }), of(7, { radix: 8 })]).toEqual([false, true, true, true]); // eight rows
    expect(of(16, { order: 'down-columns' })).toBe(false);
  });

  it('goes back to the cell, for every cell of a matrix up to nine lines', () => {
    const sizes = fc.record({ columns: fc.integer({ min: 1, max: 9 }), rows: fc.integer({ min: 1, max: 9 }) });
    const orders = fc.constantFrom<Numbering['order']>('column-row', 'row-column', 'down-columns', 'along-rows');
    fc.assert(
      fc.property(sizes, orders, fc.integer({ min: 0, max: 50 }), fc.integer({ min: 1, max: 3 }), (size, order, first, width) => {
        const cells = allCells(size);
        const numbers = cells.map((c) => printedNumber({ order, first, width }, c.column, c.row, size));
        expect(new Set(numbers).size).toBe(size.columns * size.rows);
        for (const [i, number] of numbers.entries()) expect(cellOf({ order, first, width }, number, size)).toEqual(cells[i]);
      }),
      { numRuns: 60 },
    );
  });

  it('gives no cell for a number that digits above nine make ambiguous, or that no cell has', () => {
    expect(cellOf(scheme('column-row'), '111', { columns: 16, rows: 16 })).toBeNull(); // 1 and 11, or 11 and 1
    expect(cellOf(scheme('column-row'), '99', eight)).toBeNull();
  });

  it('takes the size from the lines of the design', () => {
    expect(matrixSize(fixtureDesign)).toEqual({ columns: 8, rows: 8 });
    expect(matrixSize(fixtureDesign, 'lamp')).toEqual({ columns: 2, rows: 2 });
    const nets = fixtureDesign.nets.map((n) => (n.kind === 'switch-column' ? { ...n, number: n.number! - 1 } : n));
    expect(matrixSize({ ...fixtureDesign, nets })).toEqual({ columns: 8, rows: 8, firstColumn: 0 });
    expect(matrixSize({ ...fixtureDesign, nets: [] })).toEqual({ columns: 0, rows: 0 });
  });
});
