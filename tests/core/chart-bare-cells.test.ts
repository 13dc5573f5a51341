/** Cells without a switch, with the numbers that the test of the machine shows for them. */
import { describe, expect, it } from 'vitest';
import { indexChart } from '@/lib/core/chart';
import { bareCells } from '@/lib/core/chart/bare-cells';
import { kestrel, lantern, orchard } from './diagnosis-switch-charts';

describe('cells without a switch', () => {
  it('bear the numbers of the scheme', () => {
    expect(bareCells(lantern)).toEqual([
      { number: '57', column: 5, row: 7 },
      { number: '77', column: 7, row: 7 },
    ]);
    expect(bareCells(kestrel).map((cell) => [cell.number, cell.column, cell.row])).toEqual([
      ['87', 7, 8], // row first
      ['78', 8, 7],
    ]);
    expect(bareCells(orchard).map((cell) => cell.number)).toEqual(['63', '64']); // down the columns
  });
  it('are none where a switch is, and leave out a number that a switch bears elsewhere', () => {
    const taken = lantern.machine.switches.map((s) => (s.column === 1 && s.row === 1 ? { ...s, number: '57' } : s));
    const chart = indexChart({ ...lantern.machine, switches: taken }, lantern.design);
    expect(bareCells(chart).map((cell) => cell.number)).toEqual(['77']);
  });
});
