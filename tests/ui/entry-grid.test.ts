/** The grid by itself: moving, writing, filling, pasting, undoing. Keys as spreadsheets have them (common practice, no source). */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { emptyMachine } from '@/lib/core/chart/entry';
import { boardDesign } from '@/lib/core/chart/schema';
import { type Act, copyOf, type Grid, gridReducer, newGrid, rowsOf, textAt } from '@/lib/ui/entry/grid';
import { actOfKey } from '@/lib/ui/entry/keys';
import { cellsOf, copied } from '@/lib/ui/entry/ranges';
import { readSheet } from '@/lib/ui/entry/read-sheet';
import { machineSheet } from '@/lib/ui/entry/sheet';

const sb2 = boardDesign.parse(JSON.parse(readFileSync(new URL('../../content/designs/sb-2.json', import.meta.url), 'utf8')));
const sheet = machineSheet(emptyMachine(sb2, { id: 'x', name: 'X' }), sb2);
const start = newGrid(sheet, 'switches');
const run = (grid: Grid, ...acts: Act[]) => acts.reduce(gridReducer, grid);
/** Presses keys; a word is typed as a person does, its first letter replacing the cell. */
function press(grid: Grid, ...keys: string[]): Grid {
  return keys.reduce((g, spec) => {
    const parts = spec.split('+');
    const key = parts.at(-1) ?? '';
    const act = actOfKey({ key, ctrl: parts.includes('Ctrl'), shift: parts.includes('Shift'), alt: false }, g.editing);
    if (act?.do === 'type' && g.editing) return gridReducer(g, { do: 'write', text: g.editing.text + key });
    if (act) return gridReducer(g, act);
    return g.editing && [...key].length === 1 ? gridReducer(g, { do: 'write', text: g.editing.text + key }) : g;
  }, grid);
}
const word = (text: string) => [...text];
const column = (grid: Grid, index: number, count: number) =>
  rowsOf(grid)
    .slice(0, count)
    .map((r) => r.cells[index]);

describe('keys', () => {
  test('writing begins in the name of the first place', () => expect(start.at).toEqual({ row: 0, column: 1 }));
  test('typing replaces, Enter goes down, Escape takes back', () => {
    const grid = press(start, ...word('Gull'), 'Enter', ...word('Tern'), 'Enter', ...word('Crab'), 'Escape');
    expect(column(grid, 1, 3)).toEqual(['Gull', 'Tern', '']);
    expect(grid.at).toEqual({ row: 2, column: 1 });
  });
  test('arrows take over what is typed; after F2 they move in the text', () => {
    expect(column(press(start, ...word('Gull'), 'ArrowDown'), 1, 1)).toEqual(['Gull']);
    const inText = press(press(start, ...word('Gull'), 'Enter', 'ArrowUp', 'F2'), 'ArrowLeft');
    expect(inText.editing).toEqual({ text: 'Gull', caret: true });
  });
  test('after a run of Tab, Enter goes below where it began', () => {
    const grid = press(start, ...word('Gull'), 'Tab', 'Tab', 'Tab', ...word('opto'), 'Enter');
    expect(grid.at).toEqual({ row: 1, column: 1 });
    expect(textAt(grid, { row: 0, column: 4 })).toBe('opto');
  });
  test('Tab at the end of a row goes to the next', () => {
    const grid = press(start, 'End', 'Tab');
    expect(grid.at).toEqual({ row: 1, column: 0 });
  });
  test('Shift and arrows choose, Ctrl+D fills down, Delete clears, undo and redo', () => {
    const chosen = press(start, ...word('Gull'), 'Enter', 'ArrowUp', 'Shift+ArrowDown', 'Shift+ArrowDown', 'Ctrl+d');
    expect(column(chosen, 1, 4)).toEqual(['Gull', 'Gull', 'Gull', '']);
    const cleared = press(chosen, 'Delete');
    expect(column(cleared, 1, 3)).toEqual(['', '', '']);
    const back = press(cleared, 'Ctrl+z');
    expect(column(back, 1, 3)).toEqual(['Gull', 'Gull', 'Gull']);
    expect(column(press(back, 'Ctrl+z'), 1, 3)).toEqual(['Gull', '', '']);
    expect(column(press(back, 'Ctrl+Shift+Z'), 1, 3)).toEqual(['', '', '']);
  });
  test('fill down of one cell takes the cell above; on the first row it says why not', () => {
    expect(column(press(start, ...word('Gull'), 'Enter', 'Ctrl+d'), 1, 2)).toEqual(['Gull', 'Gull']);
    expect(press(start, 'Ctrl+d').notice).toMatch(/nothing above/);
  });
  test('other people’s keys are left to the browser', () => {
    for (const key of ['Ctrl+c', 'Ctrl+v', 'Ctrl+r', 'F5', 'Shift', 'Control']) {
      const parts = key.split('+');
      expect(actOfKey({ key: parts.at(-1) ?? '', ctrl: parts.includes('Ctrl'), shift: false, alt: false }, null), key).toBeNull();
    }
  });
});

describe('ranges', () => {
  test('a block is pasted where one stands and stays chosen', () => {
    const grid = run(start, { do: 'goto', at: { row: 0, column: 4 } }, { do: 'paste', rows: cellsOf('leaf\topen\r\nreed\tclosed\r\n') });
    expect(
      rowsOf(grid)
        .slice(0, 3)
        .map((r) => r.cells.slice(4, 6)),
    ).toEqual([
      ['leaf', 'open'],
      ['reed', 'closed'],
      ['', ''],
    ]);
    expect(copyOf(grid, (row, c) => row.cells[c] ?? '')).toBe('leaf\topen\nreed\tclosed');
  });
  test('one cell fills all that is chosen', () => {
    const grid = press(run(start, { do: 'goto', at: { row: 0, column: 4 } }), 'Shift+ArrowDown', 'Shift+ArrowDown');
    expect(column(run(grid, { do: 'paste', rows: [['leaf']] }), 4, 4)).toEqual(['leaf', 'leaf', 'leaf', '']);
  });
  test('rows below the table are added; columns beyond it are refused whole, with what to do', () => {
    const long = run(
      start,
      { do: 'table', table: 'chains' },
      {
        do: 'paste',
        rows: [
          ['A3J4-1', '16'],
          ['A3J4-2', '17'],
          ['A3J4-3', '18'],
        ],
      },
    );
    expect(rowsOf(long)).toHaveLength(4);
    const wide = run(long, { do: 'goto', at: { row: 0, column: 0 } }, { do: 'paste', rows: [['a', 'b', 'c']] });
    expect(wide.sheet).toBe(long.sheet);
    expect(wide.notice).toMatch(/1 cell .* nothing was put in/);
  });
  test('10,000 rows are pasted and read', () => {
    const rows = Array.from({ length: 10_000 }, (_, i) => [`A3J4-${(i % 9) + 1}`, `${i}`]);
    const grid = run(start, { do: 'table', table: 'chains' }, { do: 'paste', rows });
    expect(rowsOf(grid)).toHaveLength(10_001);
    expect(readSheet(grid.sheet).machine?.chains).toHaveLength(10_000);
  });
  test('any block reads back as it was copied', () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '"', '\t', ' ', ',', ';', 'é') });
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 2, maxLength: 2 }), { minLength: 1, maxLength: 5 }), (rows) => {
        expect(cellsOf(copied(rows))).toEqual(rows);
      }),
    );
  });
});

test('what is being written goes on when others’ rows come in', () => {
  const chains = (...taps: string[]) =>
    machineSheet({ ...emptyMachine(sb2, { id: 'x', name: 'X' }), chains: taps.map((tap) => ({ tap, steps: [{ switch: '11' }] })) }, sb2);
  const writing = run(newGrid(chains('A3J4-2'), 'chains'), { do: 'goto', at: { row: 0, column: 1 } }, { do: 'type', text: '16' });
  const after = run(writing, { do: 'rebase', sheet: chains('A3J4-1', 'A3J4-2') });
  expect(after.editing?.text).toBe('16');
  expect(after.at).toEqual({ row: 1, column: 1 });
});

test('whatever is pressed, undo leads back to the beginning and nothing ever leaves the table', () => {
  const key = fc.constantFrom(
    'a',
    'ArrowUp',
    'ArrowDown',
    'ArrowLeft',
    'ArrowRight',
    'Shift+ArrowDown',
    'Shift+ArrowRight',
    'Enter',
    'Tab',
    'Shift+Tab',
    'F2',
    'Escape',
    'Delete',
    'Ctrl+d',
    'Ctrl+z',
    'Ctrl+y',
    'Ctrl+ArrowDown',
    'Home',
    'End',
  );
  fc.assert(
    fc.property(fc.array(key, { maxLength: 60 }), (keys) => {
      const grid = press(start, ...keys);
      const rows = rowsOf(grid);
      expect(rows[grid.at.row]).toBeDefined();
      expect(grid.at.column).toBeLessThan(rows[0]!.cells.length);
      let back = gridReducer(grid, { do: 'cancel' });
      for (let i = 0; i < 61; i++) back = gridReducer(back, { do: 'undo' });
      expect(back.sheet).toBe(start.sheet);
    }),
  );
});
