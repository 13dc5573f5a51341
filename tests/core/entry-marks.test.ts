/** What of a table was understood, cell by cell, and work in steps. */
import { describe, expect, it } from 'vitest';
import {
  advance,
  applyTable,
  type EntryChart,
  emptyMachine,
  finish,
  lintMissing,
  marksOf,
  readTable,
  readTableInSteps,
  understand,
  understandInSteps,
} from '@/lib/core/chart/entry';
import { machineOf, matrixGrid, sb2, sheet, switchList } from './entry-pastes';

const chart: EntryChart = { design: sb2, machine: emptyMachine(sb2, { id: 'new', name: 'New machine' }) };

describe('marks', () => {
  const table = readTable(
    sheet([
      ['No.', 'Switch', 'Column wire', 'Page'],
      ['46', 'Gate', 'VIO-YEL', '12'],
      ['47', 'Ramp', 'sparkling', '12'],
      ['99', 'Nowhere', '', '12'],
      ['48', '', 'VIO-YEL', ''],
    ]),
  );
  const mark = marksOf(table, understand(table, chart));

  it('say of each cell what became of it', () => {
    const all = table.rows.map((row, r) => row.map((_, c) => mark(r + 1, c + 1).mark));
    expect(all).toEqual([
      ['heading', 'heading', 'heading', 'heading'],
      ['understood', 'understood', 'understood', 'left-out'],
      ['understood', 'understood', 'not-understood', 'left-out'],
      ['not-understood', 'not-understood', 'blank', 'left-out'],
      ['left-out', 'blank', 'left-out'],
    ]);
  });

  it('say why', () => {
    expect(mark(3, 3).why).toBe('This is not a wire colour that is known.');
    expect(mark(2, 2).why).toBe('Its heading is “Switch”.');
    expect(mark(90, 90).mark).toBe('blank');
  });

  it('point at what is asked', () => {
    const grid = readTable(
      sheet(matrixGrid().map((row, r) => row.map((cell, c) => (r === 0 || c === 0 ? (cell.split('\n')[0] ?? '') : cell)))),
    );
    const read = understand(grid, chart);
    expect(read.asks.map((q) => q.id)).toEqual(['kind']);
    expect(marksOf(grid, read)(1, 1)).toEqual({ mark: 'asked', why: read.asks[0]?.text });
    expect(marksOf(grid, read)(2, 2).mark).toBe('understood');
  });
});

describe('steps', () => {
  it('give what the whole gives, however they are taken', () => {
    const text = sheet(switchList());
    const steps = understandInSteps(finish(readTableInSteps(text)), chart);
    let taken = 0;
    for (;;) {
      const at = advance(steps, () => false);
      taken += 1;
      if (!at.done) continue;
      expect(at.value).toEqual(understand(readTable(text), chart));
      break;
    }
    expect(taken).toBeGreaterThan(5);
    const all = advance(understandInSteps(readTable(text), chart), () => true);
    expect(all.done).toBe(true);
  });

  it('of a long table are many', () => {
    const [head = [], ...body] = switchList();
    const text = sheet([head, ...Array.from({ length: 10_000 }, (_, i) => body[i % 64] ?? [])]);
    const reading = readTableInSteps(text);
    let steps = 0;
    while (!reading.next().done) steps += 1;
    expect(steps).toBeGreaterThan(100);
  });
});

describe('what is still missing', () => {
  it('is everything of an empty machine, less after each paste, and nothing is an error', () => {
    const before = lintMissing(chart.machine, sb2);
    expect(before.map((f) => f.path)).toEqual(['switches', 'lamps', 'direct', 'loads', 'chains']);
    expect(before.every((f) => f.level === 'information')).toBe(true);
    const { chart: after } = applyTable(chart, understand(readTable(sheet(matrixGrid())), chart));
    expect(lintMissing(after.machine, sb2).map((f) => f.path)).toEqual(['lamps', 'direct', 'loads', 'chains']);
    expect(lintMissing(machineOf('lantern-regatta-3'), sb2).map((f) => f.message)).toContain('2 of 64 switch places have no name.');
  });
});
