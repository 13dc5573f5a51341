/** Lists of headers and of lines: what belongs to the board design. */
import type { Header, InlineConnector, Net, NetKind } from '../../schema';
import type { Steps } from '../steps';
import type { Meaning, Understood } from '../types';
import { settleColours, type WireCell } from './colours';
import { anyLine, type LineIndex, lineOf, splitLine } from './lines';
import type { ListRows } from './list-rows';
import { readHeader, readInline } from './pins';
import { plainOf } from './plain-fields';
import { ask, newCollection, put, putPin, type Reading, refuse } from './reading';

export function* readHeaders(reading: Reading, list: ListRows, lines: LineIndex): Steps<Understood[]> {
  const to = newCollection(reading, lines);
  for (const [i, row] of list.rows.entries()) {
    const text = list.text(row, 'header') || list.text(row, 'number');
    const at = { row: row + 1, column: list.index('header') || list.index('number') };
    const inline = readInline(text);
    if (inline) {
      put(to, at, { what: 'inline', id: inline, fields: plainOf<InlineConnector>(to, list, row, 'inline') });
      continue;
    }
    const header = readHeader(text, reading.chart.design);
    if (!header || 'many' in header) {
      refuse(to, at, text, 'Write a header with its board, A3J4, or an in-line connector, X1.');
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
  const named =
    (['line', 'column', 'row', 'columnWire', 'rowWire', 'columnPin', 'rowPin', 'name'] as const).find((m) => list.index(m) > 0) ?? 'line';
  const [wires, pins] = [first('wire', 'columnWire', 'rowWire'), first('pin', 'columnPin', 'rowPin')];
  const axis = axisOf(reading, list, lines);
  const drafts = list.rows.map((row) => ({ row, line: lineOfRow(row) }));
  const known = (id: string | undefined) => (id === undefined ? undefined : lines.byId.get(id.toLowerCase())?.colour);
  const cells = drafts.flatMap(({ row, line }): WireCell[] => {
    const text = list.text(row, wires);
    const colour = known(line?.id);
    return text === '' ? [] : [{ text, at: { row: row + 1, column: list.index(wires) }, ...(colour !== undefined && { line: colour }) }];
  });
  yield;
  const colours = yield* settleColours(reading, cells);
  for (const [i, { row, line }] of drafts.entries()) {
    if (i % 100 === 99) yield;
    const at = { row: row + 1, column: list.index(named) };
    if (!line) {
      const text = list.text(row, 'line') || list.text(row, named) || list.text(row, 'name');
      refuse(to, at, text, 'Write a line by its kind and number: switch column 4, load 2, ground.');
      continue;
    }
    const wire = list.text(row, wires);
    const read = wire === '' ? null : colours.read(wire, known(line.id));
    if (read && 'why' in read) refuse(to, { row: row + 1, column: list.index(wires) }, wire, read.why);
    const name = list.index('line') > 0 ? list.text(row, 'name') : '';
    const fields: Partial<Net> = {
      ...(name !== '' && { name }),
      ...(read && 'colour' in read && { colour: read.colour }),
      ...plainOf<Net>(to, list, row, 'lines'),
    };
    put(to, at, { what: 'line', id: line.id, fields });
    const text = list.text(row, pins);
    const found = text === '' ? null : splitLine(reading, text, [line.kind], { row: row + 1, column: list.index(pins) }, lines);
    for (const pin of found?.pins ?? []) putPin(to, { row: row + 1, column: list.index(pins) }, pin, line.id);
    if (found && found.pins.length === 0)
      refuse(to, { row: row + 1, column: list.index(pins) }, text, 'It names no header position: write it as A3J4-7.');
  }
  return to.rows;

  function first(...meanings: Meaning[]): Meaning {
    return meanings.find((m) => list.index(m) > 0) ?? meanings[0] ?? 'unused';
  }
  function lineOfRow(row: number) {
    if (!axis) return anyLine(list.text(row, 'line') || list.text(row, 'name'), design, lines);
    const parts = list.parts(row, axis.meaning, (text) =>
      splitLine(reading, text, [axis.kind], { row: row + 1, column: list.index(axis.meaning) }, lines),
    );
    const line = lineOf(parts, [axis.kind], lines);
    return line && { id: line.id, kind: axis.kind };
  }
}

/** In a list of the columns or rows of a matrix: which ones they are. By the heading’s own word, their pins and wires, else by question. */
function axisOf(reading: Reading, list: ListRows, lines: LineIndex): { meaning: 'column' | 'row'; kind: NetKind } | null {
  const meaning = list.index('line') > 0 ? undefined : (['column', 'row'] as const).find((m) => list.index(m) > 0);
  if (!meaning) return null;
  const of = (['switch', 'lamp'] as const).map((matrix) => {
    const kind = `${matrix}-${meaning}` as const;
    const quiet: Reading = { ...reading, asks: [], not: [], findings: [] };
    const pinned = list.rows.filter((row) => {
      const text = (['pin', `${meaning}Pin`] as const).map((m) => list.text(row, m)).find(Boolean) ?? '';
      const { pins } = splitLine(quiet, text, [kind], { row: row + 1, column: 0 }, lines);
      return pins.length > 0 && lineOf({ pins, rest: '' }, [kind], lines) !== null;
    });
    return { matrix, points: pinned.length };
  });
  const [one, two] = of.sort((a, b) => b.points - a.points);
  const told = one && two && one.points > two.points ? one.matrix : undefined;
  const answer =
    told ??
    ask(reading, {
      id: 'matrix',
      text: `Are these the ${meaning}s of the switch matrix or of the lamp matrix?`,
      choices: [
        { value: 'switch', label: 'Switch matrix' },
        { value: 'lamp', label: 'Lamp matrix' },
      ],
      guess: 'switch',
      why: 'No pin of the board design tells it.',
      at: { row: (list.rows[0] ?? 0) + 1, column: list.index(meaning) },
    });
  return { meaning, kind: `${answer === 'lamp' ? 'lamp' : 'switch'}-${meaning}` };
}
