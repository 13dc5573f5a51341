/**
 * What the solver reads for each row of the truth table of our own fault model, in both polarities and all idle styles. The table was checked by
 * script against a nonlinear d.c. solution; no outside source. Published phantom closures are in tests/reference/diagnosis-engine.test.ts.
 */
import { describe, expect, it } from 'vitest';
import { dropsOf } from '@/lib/core/diagnosis/switch/wiring';
import type { Effect } from '@/lib/core/diagnosis/types';
import { closedNumbers, column, gridWiring, reads, row } from './diagnosis-switch-charts';

/** Polarity L as in the table; the dual changes ground with supply. */
const duals = [
  { polarity: 'strobe-low', held: 'to-ground', lost: 'to-supply' },
  { polarity: 'strobe-high', held: 'to-supply', lost: 'to-ground' },
] as const;
const lines = (n: number, of: (k: number) => string) => Array.from({ length: n }, (_, i) => of(i + 1));

describe.each(duals)('truth table, $polarity', ({ polarity, held, lost }) => {
  const w = gridWiring(3, 3, { polarity });
  const shown = (effects: Effect[], closed: string[]) => closedNumbers(w, effects, closed).sort();
  const bypassed = (number: string): Effect => ({ does: 'diode-bypassed', switch: number });
  const reversed = (number: string): Effect => ({ does: 'diode-reversed', switch: number });

  it('healthy: what is closed reads closed, whatever is closed', () => {
    const all = lines(3, (c) => c.toString()).flatMap((c) => lines(3, (r) => `${c}${r}`));
    for (let set = 0; set < 512; set++) {
      const closed = all.filter((_, i) => (set >> i) & 1);
      expect(shown([], closed)).toEqual(closed);
    }
  });
  it('an open element: nothing of what it serves, no ghosts', () => {
    const corners = ['11', '12', '13', '21', '22', '23'];
    const cut = (element: string): Effect => ({ does: 'cut', element });
    expect(shown([cut('driver switch-column.1')], corners)).toEqual(['21', '22', '23']);
    expect(shown([cut('input switch-row.2')], corners)).toEqual(['11', '13', '21', '23']);
    expect(shown([cut('joint A1J1-1')], corners)).toEqual(['21', '22', '23']);
    expect(shown([cut('terminal A1J2-3')], corners)).toEqual(['11', '12', '21', '22']);
    expect(shown([cut('run switch-column.1 A1J1-1 12')], corners)).toEqual(['11', '21', '22', '23']);
    expect(shown([cut('tail switch-column.1 12')], corners)).toEqual(['11', '13', '21', '22', '23']);
    expect(shown([cut('contact 12')], corners)).toEqual(['11', '13', '21', '22', '23']);
    expect(shown([cut('diode 12')], corners)).toEqual(['11', '13', '21', '22', '23']);
    expect(shown([cut('plug A1J2')], corners)).toEqual([]);
  });
  it(`column ${lost}: the column reads nothing`, () => expect(shown([{ does: lost, line: column(1) }], ['11', '22'])).toEqual(['22']));
  it.each([{ does: 'driver-on', line: column(1) } as Effect, { does: held, line: column(1) } as Effect])('%j', (fault) => {
    expect(shown([fault], [])).toEqual([]);
    expect(shown([fault], ['22', '33'])).toEqual(['22', '33']); // no closure in column 1: nothing shows
    expect(shown([fault], ['12'])).toEqual(['12', '22', '32']);
    expect(shown([fault], ['12', '23'])).toEqual(['12', '22', '23', '32']);
  });
  it('two columns joined: two numbers in one row', () =>
    expect(shown([{ does: 'join', lines: [column(1), column(3)] }], ['12', '23'])).toEqual(['12', '23', '32']));
  it('two rows joined: two numbers in one column', () =>
    expect(shown([{ does: 'join', lines: [row(1), row(3)] }], ['11', '22'])).toEqual(['11', '13', '22']));
  it(`row ${held}: all of it, always`, () => expect(shown([{ does: held, line: row(2) }], [])).toEqual(['12', '22', '32']));
  it(`row ${lost}: nothing of it, the rest of the matrix unchanged`, () =>
    expect(shown([{ does: lost, line: row(2) }], ['12', '31'])).toEqual(['31']));
  it('column touches row at a switch: it reads always, and ghosts over two more', () => {
    const fault: Effect = { does: 'bypass-both', switch: '12' };
    expect(shown([fault], [])).toEqual(['12']);
    expect(shown([fault], ['22'])).toEqual(['12', '22']);
    expect(shown([fault], ['11', '22'])).toEqual(['11', '12', '21', '22']);
  });
  it('contact closed for good, diode in series: always, no ghosts', () => {
    expect(shown([{ does: 'contact-closed', switch: '12' }], [])).toEqual(['12']);
    expect(shown([{ does: 'contact-closed', switch: '12' }], ['11', '22'])).toEqual(['11', '12', '22']);
  });
  it('diode bypassed: no symptom alone, a ghost from three corners', () => {
    for (const closed of [[], ['12'], ['11', '12'], ['12', '22'], ['11', '12', '33']])
      expect(shown([bypassed('12')], closed)).toEqual(closed);
    expect(shown([bypassed('12')], ['11', '12', '22'])).toEqual(['11', '12', '21', '22']);
  });
  it('diode reversed: its own switch is dead, the ghost needs three drops', () => {
    expect(shown([reversed('12')], ['12'])).toEqual([]);
    expect(shown([reversed('12')], ['11', '12', '22'])).toEqual(['11', '21', '22']);
  });
  it('diode open: dead, never a ghost', () =>
    expect(shown([{ does: 'cut', element: 'diode 12' }], ['11', '12', '22'])).toEqual(['11', '22']));
  it('input stuck', () => {
    expect(shown([{ does: 'input-reads', line: row(2), reads: 'closed' }], ['11'])).toEqual(['11', '12', '22', '32']);
    expect(shown([{ does: 'input-reads', line: row(2), reads: 'open' }], ['11', '12'])).toEqual(['11']);
  });
  it('lines exchanged: the other number', () => {
    expect(shown([{ does: 'exchanged', lines: [column(1), column(3)], header: 'A1J1' }], ['11', '22', '33'])).toEqual(['13', '22', '31']);
    expect(shown([{ does: 'exchanged', lines: [row(1), row(3)], header: 'A1J2' }], ['11'])).toEqual(['13']);
  });
  it('housing shifted: a permutation, and the line pushed off the end is dead', () => {
    expect(shown([{ does: 'shifted', header: 'A1J1', by: 1 }], ['11', '21', '32'])).toEqual(['21', '31']);
    expect(shown([{ does: 'shifted', header: 'A1J2', by: -1 }], ['11', '12', '13'])).toEqual(['11', '12']);
  });

  it('golden case 1: only the diode of the diagonal ghosts', () => {
    const corners = ['11', '12', '22'];
    for (const innocent of ['11', '22']) {
      expect(shown([bypassed(innocent)], corners)).toEqual(corners);
      expect(shown([reversed(innocent)], corners)).toEqual(corners.filter((n) => n !== innocent));
    }
    // With one innocent corner released the ghost goes.
    expect(shown([bypassed('12')], ['11', '12'])).toEqual(['11', '12']);
    expect(shown([bypassed('12')], ['12', '22'])).toEqual(['12', '22']);
  });
  it('golden case 2: one pair of presses cannot tell columns from rows, one press can', () => {
    const columns: Effect = { does: 'join', lines: [column(1), column(2)] };
    const rows: Effect = { does: 'join', lines: [row(1), row(3)] };
    expect(shown([{ does: 'driver-on', line: column(1) }], ['11', '23'])).toEqual(['11', '21', '23', '31']);
    expect(shown([columns], ['11', '23'])).toEqual(['11', '13', '21', '23']);
    expect(shown([rows], ['11', '23'])).toEqual(['11', '13', '21', '23']);
    expect(shown([columns], ['11'])).toEqual(['11', '21']);
    expect(shown([rows], ['11'])).toEqual(['11', '13']);
  });
  it('golden pairs are neither the union nor the intersection of their singles', () => {
    const stairs = ['11', '12', '22', '23', '33'];
    expect(shown([bypassed('12')], stairs)).toEqual([...stairs, '21'].sort());
    expect(shown([bypassed('23')], stairs)).toEqual([...stairs, '32'].sort());
    expect(shown([bypassed('12'), bypassed('23')], stairs)).toEqual([...stairs, '21', '31', '32'].sort());
    const dead: Effect = { does: 'cut', element: 'driver switch-column.1' };
    expect(shown([dead], ['11'])).toEqual([]);
    expect(shown([dead, { does: held, line: column(1) }], ['11'])).toEqual(['11', '21', '31']);
  });
  it('a short beyond a break acts on its island alone', () => {
    const cut: Effect = { does: 'cut', element: 'terminal A1J2-2' };
    expect(shown([cut, { does: held, line: row(2) }], ['11'])).toEqual(['11']);
    // Both rows hang on the island of row 2 no longer: only row 3 is left of the join.
    expect(shown([cut, { does: 'join', lines: [row(2), row(3)] }], ['12'])).toEqual(['13']);
  });
});

describe('middle node to ground', () => {
  const fault: Effect = { does: 'middle-to-ground', switch: '12' };
  const cases = [
    { polarity: 'strobe-low', diodeEnd: 'contact-column', rest: [], pressed: ['12', '22', '32'] },
    { polarity: 'strobe-low', diodeEnd: 'row-contact', rest: ['12', '22', '32'], pressed: ['12', '22', '32'] },
    { polarity: 'strobe-high', diodeEnd: 'contact-column', rest: [], pressed: [] },
    { polarity: 'strobe-high', diodeEnd: 'row-contact', rest: [], pressed: [] },
  ] as const;
  it.each(cases)('$polarity, diode $diodeEnd', ({ rest, pressed, ...matrix }) => {
    const w = gridWiring(3, 3, matrix);
    expect(closedNumbers(w, [fault], []).sort()).toEqual([...rest]);
    expect(closedNumbers(w, [fault], ['12']).sort()).toEqual([...pressed]);
  });
  it('diode on the row side: pressing grounds the column too', () => {
    const w = gridWiring(3, 3, { diodeEnd: 'row-contact' });
    expect(closedNumbers(w, [fault], ['12', '13']).sort()).toEqual(['12', '13', '22', '23', '32', '33']);
  });
  it('strobed high: the column is dead always, or while pressed', () => {
    expect(closedNumbers(gridWiring(3, 3, { polarity: 'strobe-high' }), [fault], ['11', '21'])).toEqual(['21']);
    const onRow = gridWiring(3, 3, { polarity: 'strobe-high', diodeEnd: 'row-contact' });
    expect(closedNumbers(onRow, [fault], ['11', '21']).sort()).toEqual(['11', '21']);
    expect(closedNumbers(onRow, [fault], ['11', '12', '21'])).toEqual(['21']);
  });
  it('strobed high, diode on the column side: pressing also holds the row', () => {
    const w = gridWiring(3, 3, { polarity: 'strobe-high' });
    expect(closedNumbers(w, [fault], ['22'])).toEqual(['22']);
    expect(closedNumbers(w, [fault], ['12', '22'])).toEqual([]);
  });
});

describe('what the design decides', () => {
  const bypassed: Effect = { does: 'diode-bypassed', switch: '12' };
  const reversed: Effect = { does: 'diode-reversed', switch: '12' };
  const matrix = (rowSupplyVolts: number, thresholdRatio: number) => ({
    ...gridWiring(2, 2).network.chart.design.matrix,
    rowSupplyVolts,
    thresholdRatio,
  });

  it('drops that still read closed: seven at 12 V and 0.42, one and perhaps two at 5 V and 1.4 V', () => {
    expect(dropsOf(matrix(12, 0.42))).toEqual({ sure: 7, edge: false });
    expect(dropsOf(matrix(5, 0.28))).toEqual({ sure: 1, edge: true });
    expect(dropsOf(matrix(5, 0.5))).toEqual({ sure: 3, edge: false });
  });
  it('5 V gates: the ghost of two drops comes and goes, that of three never comes', () => {
    const w = gridWiring(3, 3, { rowSupplyVolts: 5, thresholdRatio: 0.28 });
    expect(reads(w, [bypassed], ['11', '12', '22'])).toEqual({ 11: 1, 12: 1, 21: 0.5, 22: 1 });
    expect(reads(w, [reversed], ['11', '12', '22'])).toEqual({ 11: 1, 22: 1 });
  });
  it('an idle column that is pulled ghosts like a floating one', () => {
    const w = gridWiring(3, 3, { idle: 'pulled' });
    expect(closedNumbers(w, [bypassed], ['11', '12', '22']).sort()).toEqual(['11', '12', '21', '22']);
  });

  describe('push-pull columns', () => {
    const w = gridWiring(3, 3, { idle: 'driven' });
    it('healthy closures read for sure', () => expect(reads(w, [], ['11', '12', '22', '23'])).toEqual({ 11: 1, 12: 1, 22: 1, 23: 1 }));
    it('a bypassed diode makes its row mates uncertain', () => {
      expect(reads(w, [bypassed], ['12'])).toEqual({ 12: 1 });
      expect(reads(w, [bypassed], ['12', '22'])).toEqual({ 12: 1, 22: 0.5 });
    });
    it('column to row: the row reads in that column only', () => {
      const fault: Effect = { does: 'bypass-both', switch: '12' };
      expect(reads(w, [fault], [])).toEqual({ 12: 1 });
      expect(reads(w, [fault], ['22'])).toEqual({ 12: 1, 22: 0.5 });
    });
    it('a reversed diode kills its own switch', () => expect(reads(w, [reversed], ['12'])).toEqual({}));
  });

  it('a row without its pull reads as its input floats', () => {
    const fault: Effect = { does: 'pull-open', line: row(2) };
    expect(closedNumbers(gridWiring(3, 3, { floatReads: 'open' }), [fault], ['12'])).toEqual(['12']);
    expect(closedNumbers(gridWiring(3, 3, { floatReads: 'closed' }), [fault], []).sort()).toEqual(['12', '22', '32']);
    expect(closedNumbers(gridWiring(3, 3, { floatReads: 'carry-over' }), [fault], ['12', '31']).sort()).toEqual(['12', '22', '31']);
  });
  it('a select bit stuck: the surviving column shows in both numbers, the other is dead', () => {
    const w = gridWiring(4, 4, { select: 'decoder' });
    expect(closedNumbers(w, [{ does: 'select-stuck', bit: 0, at: 0 }], ['12']).sort()).toEqual(['12', '22']);
    expect(closedNumbers(w, [{ does: 'select-stuck', bit: 0, at: 0 }], ['22'])).toEqual([]);
    expect(closedNumbers(w, [{ does: 'select-stuck', bit: 1, at: 1 }], ['33', '11']).sort()).toEqual(['13', '33']);
  });
});
