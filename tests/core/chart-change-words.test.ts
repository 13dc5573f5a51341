/** Changes of charts in words, a machine held against its board design, and copies. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { indexChart, readMachine } from '@/lib/core/chart';
import { againstDesign, isOwn } from '@/lib/core/chart/against-design';
import { changeLines, changesInShort } from '@/lib/core/chart/change-words';
import { copyOfMachine, idOf } from '@/lib/core/chart/copy';
import { differences } from '@/lib/core/chart/differences';
import { withDeviation } from '@/lib/core/chart/found';
import type { Machine } from '@/lib/core/chart/schema';
import { arbitraryMachine } from './chart-arbitrary';
import { fixtureChart, fixtureDesign, fixtureMachine } from './fixture';

const changed = (change: (machine: Machine) => void): Machine => {
  const machine = structuredClone(fixtureMachine);
  change(machine);
  return machine;
};
const lines = (after: Machine) => changeLines(differences(fixtureMachine, after));
const spinner = (m: Machine) => m.switches.find((s) => s.name === 'Spinner')!;

describe('changes in words', () => {
  test('a cell, with what it was and what it is', () => {
    const renamed = changed((m) => Object.assign(spinner(m), { name: 'Left spinner' }));
    expect(lines(renamed)).toEqual([{ label: 'Switch at column 4, row 6: name', was: 'Spinner', is: 'Left spinner' }]);
    expect(changesInShort(differences(fixtureMachine, renamed))).toBe('Switch at column 4, row 6: name: Spinner became Left spinner');
  });
  test('what is of the whole chart begins like a sentence too', () => {
    const other = changed((m) => Object.assign(m.numbering, { order: 'row-column' }));
    expect(lines(other).map(({ label }) => label)).toEqual(['Numbering: order']);
  });
  test('a row that went and a row that came; the order of their list is not told beside them', () => {
    const away = changed((m) => void m.switches.splice(m.switches.indexOf(spinner(m)), 1));
    expect(lines(away)).toEqual([{ label: 'Switch at column 4, row 6', was: expect.stringContaining('Spinner'), is: '' }]);
    const back = changeLines(differences(away, fixtureMachine));
    expect(back).toEqual([{ label: 'Switch at column 4, row 6', was: '', is: expect.stringContaining('Spinner') }]);
    expect(changesInShort(differences(away, fixtureMachine))).toMatch(/^Switch at column 4, row 6: added: .*Spinner/);
  });
  test('rows that only moved are told as an order', () => {
    expect(lines(changed((m) => void m.loads.reverse()))).toEqual([{ label: 'Loads', was: 'in one order', is: 'in another order' }]);
  });
  test('what was found is known by its words', () => {
    const seen = { on: '2026-02-01', by: 'Ines', place: { switch: '46' }, manual: '', here: 'Plain white', why: '' };
    expect(lines(withDeviation(fixtureMachine, seen))).toEqual([{ label: 'Found on the machine sw-46', was: '', is: 'Plain white' }]);
  });
  test('many are cut short and counted', () => {
    const many = changed((m) => Object.assign(m, { switches: m.switches.map((s) => ({ ...s, name: `${s.name} x` })) }));
    expect(changesInShort(differences(fixtureMachine, many), 2)).toMatch(new RegExp(`; and ${fixtureMachine.switches.length - 2} more$`));
  });
  test('whatever differs has a line with a label, and no value is a bare object', () => {
    fc.assert(
      fc.property(arbitraryMachine, arbitraryMachine, (a, b) => {
        const told = changeLines(differences(a, b));
        if (differences(a, b).length > 0) expect(told.length).toBeGreaterThan(0);
        for (const { label, was, is } of told) {
          expect(label.trim()).not.toBe('');
          expect(`${was}${is}`).not.toContain('[object');
          expect(Math.max(was.length, is.length)).toBeLessThanOrEqual(200);
        }
      }),
      { numRuns: 100 },
    );
  });
});

describe('against the board design', () => {
  test('counts cells, and names lines with nothing on them', () => {
    const against = againstDesign(fixtureChart);
    expect(against.cells.filled).toBe(fixtureMachine.switches.length);
    expect(against.cells.of).toBe(fixtureChart.columns.length * fixtureChart.rows.length);
    const used = new Set(fixtureChart.circuits.flatMap((c) => c.nets));
    for (const { net } of against.unused) expect(used.has(net), net).toBe(false);
    expect(against.missing).toEqual([]);
  });
  test('a line that loses its last switch is unused; a switch on a line that the board lacks is named', () => {
    const without = changed((m) => Object.assign(m, { switches: m.switches.filter((s) => s.row !== 6) }));
    expect(againstDesign(indexChart(without, fixtureDesign)).unused.map((u) => u.title)).toContain('Row 6');
    const beyond = changed((m) => Object.assign(spinner(m), { row: 12 }));
    expect(againstDesign(indexChart(beyond, fixtureDesign)).missing.map((m) => m.net)).toEqual(['switch-row.12']);
  });
  test('keys found otherwise, each side by itself', () => {
    const found = changed((m) => m.keysAsFound.push({ header: 'A3J4', plug: [], on: '2026-02-01', by: 'Ines' }));
    expect(againstDesign(indexChart(found, fixtureDesign)).keys).toEqual([{ header: 'A3J4', chart: [4], pins: [4], plug: [] }]);
    expect(againstDesign(fixtureChart).keys).toEqual([]);
  });
});

describe('a copy', () => {
  const copy = copyOfMachine(
    { ...fixtureMachine, serial: '1234', since: '2019' },
    { id: 'lantern-regatta-4', name: 'Lantern Regatta', unit: 'no. 4' },
  );
  test('is the same machine but for what is true of one alone', () => {
    expect(readMachine(copy).ok).toBe(true);
    expect(copy).toMatchObject({ id: 'lantern-regatta-4', unit: 'no. 4', asFound: [], keysAsFound: [] });
    expect(copy).not.toHaveProperty('serial');
    expect(differences(fixtureMachine, copy).filter(({ path }) => !isOwn(path))).toEqual([]);
  });
  test.each([
    ['Lantern Regatta', 'no. 4', 'lantern-regatta-4'],
    ['Köhler & Söhne', '', 'kohler-sohne'],
    ['!!!', '', ''],
    ['x'.repeat(80), 'no. 1', 'x'.repeat(64)],
  ])('%s %s has an address', (name, unit, id) => expect(idOf(name, unit)).toBe(id));
});
