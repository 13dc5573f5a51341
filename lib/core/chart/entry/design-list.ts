/** Lists of headers and of lines: what belongs to the board design. */
import type { Header, Net } from '../schema';
import { anyLine } from './any-line';
import { newCollection, put, refuse } from './collect';
import { settleColours, type WireCell } from './colours';
import type { LineIndex } from './lines';
import type { ListRows } from './list-rows';
import { readHeader } from './pins';
import { plainOf } from './plain-fields';
import type { Reading } from './reading';
import type { Steps } from './steps';
import type { Understood } from './types';

export function* readHeaders(reading: Reading, list: ListRows, lines: LineIndex): Steps<Understood[]> {
  const to = newCollection(reading, lines);
  for (const [i, row] of list.rows.entries()) {
    const text = list.text(row, 'header') || list.text(row, 'number');
    const at = { row: row + 1, column: list.index('header') || list.index('number') };
    const header = readHeader(text, reading.chart.design);
    if (!header || 'many' in header) {
      refuse(to, at, text, 'Write a header with its board: A3J4.');
      continue;
    }
    const fields = plainOf<Header>(to, list, row, 'headers');
    put(to, at, { what: 'header', id: header.header, fields });
    if (i % 150 === 149) yield;
  }
  return to.rows;
}

export function* readLines(reading: Reading, list: ListRows, lines: LineIndex): Steps<Understood[]> {
  const { design } = reading.chart;
  const to = newCollection(reading, lines);
  const drafts = list.rows.map((row) => ({ row, line: anyLine(list.text(row, 'line') || list.text(row, 'name'), design, lines) }));
  const known = (id: string | undefined) => (id === undefined ? undefined : lines.byId.get(id.toLowerCase())?.colour);
  const cells = drafts.flatMap(({ row, line }): WireCell[] => {
    const text = list.text(row, 'wire');
    const colour = known(line?.id);
    return text === '' ? [] : [{ text, at: { row: row + 1, column: list.index('wire') }, ...(colour !== undefined && { line: colour }) }];
  });
  yield;
  const colours = yield* settleColours(reading, cells);
  for (const [i, { row, line }] of drafts.entries()) {
    const text = list.text(row, 'line') || list.text(row, 'name');
    if (!line) {
      refuse(
        to,
        { row: row + 1, column: list.index('line') || list.index('name') },
        text,
        'Write a line by its kind and number: switch column 4, load 2, ground.',
      );
      continue;
    }
    const wire = list.text(row, 'wire');
    const read = wire === '' ? null : colours.read(wire, known(line.id));
    if (read && 'why' in read) refuse(to, { row: row + 1, column: list.index('wire') }, wire, read.why);
    const name = list.index('line') > 0 ? list.text(row, 'name') : '';
    const fields: Partial<Net> = {
      ...(name !== '' && { name }),
      ...(read && 'colour' in read && { colour: read.colour }),
      ...plainOf<Net>(to, list, row, 'lines'),
    };
    put(to, { row: row + 1, column: list.index('line') || list.index('name') }, { what: 'line', id: line.id, fields });
    if (i % 150 === 149) yield;
  }
  return to.rows;
}
