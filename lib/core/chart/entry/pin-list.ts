/** Connector lists: which position carries which line, with its wires and what it goes to. */
import { indexChart } from '../build';
import { pinOf } from '../names';
import type { Chain, Wire } from '../schema';
import { netKinds } from '../schema';
import { anyLine } from './any-line';
import { isUnusedWord, newCollection, put, refuse } from './collect';
import { type Colours, settleColours, type WireCell } from './colours';
import { type LineIndex, settleBoard } from './lines';
import type { ListRows } from './list-rows';
import { type PinRead, readHeader, readPin } from './pins';
import { readFigure } from './quantities';
import type { Reading } from './reading';
import type { Steps } from './steps';
import type { Understood } from './types';

const keyWord = /^(?:key|keyed|no pin|pin removed|index|keying plug)$/i;

export function* readPins(reading: Reading, list: ListRows, lines: LineIndex): Steps<Understood[]> {
  const { design, machine } = reading.chart;
  const to = newCollection(reading, lines);
  const keys = new Map<string, { positions: number[]; row: number }>();
  const cells: WireCell[] = [];
  const places = new Map<number, PinRead>();
  for (const row of list.rows) {
    const place = placeOf(row);
    if (place) places.set(row, place);
    const net = place && lines.byPin.get(pinOf(place.header, place.position));
    const line = net === undefined || net === null ? undefined : lines.byId.get(net.toLowerCase())?.colour;
    for (const text of wiresOf(list.text(row, 'wire'))) {
      cells.push({ text, at: { row: row + 1, column: list.index('wire') }, ...(line !== undefined && { line }) });
    }
    if (row % 200 === 0) yield;
  }
  const colours = settleColours(reading, cells);
  yield;
  const chart = indexChart(machine, design);
  for (const [i, row] of list.rows.entries()) {
    const place = places.get(row);
    if (place) readRow(row, place, colours);
    if (i % 150 === 149) yield;
  }
  for (const [id, { positions, row }] of keys)
    put(to, { row, column: list.index('position') }, { what: 'header', id, fields: { keys: positions } });
  return to.rows;

  function placeOf(row: number): PinRead | null {
    const at = { row: row + 1, column: list.index('pin') || list.index('position') };
    const pinText = list.text(row, 'pin') || list.text(row, 'header');
    const read = readPin(pinText, design);
    if (read) return 'many' in read.pin ? settleBoard(reading, read.pin, netKinds, at, lines) : read.pin;
    const header = list.text(row, 'header');
    const position = Number(/^(?:pin\s*|p)?(\d{1,2})$/i.exec(list.text(row, 'position') || list.text(row, 'pin'))?.[1] ?? Number.NaN);
    const known = readHeader(header, design);
    const text = [header, list.text(row, 'position') || list.text(row, 'pin')].filter(Boolean).join(' ');
    if (!known || !Number.isFinite(position) || position < 1) {
      refuse(to, at, text, 'It names no header position: write it as A3J4 and 7, or A3J4-7.');
      return null;
    }
    return 'many' in known ? settleBoard(reading, { many: known.many, position }, netKinds, at, lines) : { header: known.header, position };
  }

  function readRow(row: number, { header, position }: PinRead, read: Colours): void {
    const at = { row: row + 1, column: list.index('position') || list.index('pin') };
    const wire = list.text(row, 'wire');
    const line = list.text(row, 'line');
    const goesTo = list.text(row, 'goesTo');
    if (keyWord.test(wire) || keyWord.test(line) || keyWord.test(goesTo)) {
      const known = keys.get(header) ?? { positions: [...(design.headers.find((h) => h.id === header)?.keys ?? [])], row: row + 1 };
      if (!known.positions.includes(position)) known.positions.push(position);
      keys.set(header, known);
      return;
    }
    if ([wire, line].every((text) => text === '' || isUnusedWord(text)) && goesTo === '') return;
    const there = lines.byPin.get(pinOf(header, position));
    const own = there === undefined ? undefined : lines.byId.get(there.toLowerCase())?.colour;
    const wireAt = { row: row + 1, column: list.index('wire') };
    const found = wiresOf(wire).flatMap((text) => {
      const one = read.read(text, own);
      if ('why' in one) refuse(to, wireAt, text, one.why);
      return 'colour' in one ? [one.colour] : [];
    });
    const named = anyLine(line, design, lines, found[0]);
    if (line !== '' && !named)
      refuse(to, { row: row + 1, column: list.index('line') }, line, 'It is no line of the board design that is known.');
    const net = named?.id ?? there;
    if (net === undefined) {
      if (line === '')
        refuse(to, at, pinOf(header, position), 'Nothing says which line it carries: neither the table nor the board design.');
      return;
    }
    const wires = wireFields(row, found, net);
    put(to, at, { what: 'pin', header, position, net, ...(wires && { wires }) });
    if (goesTo !== '') readGoesTo(row, goesTo, pinOf(header, position));
  }

  /** Wires that say more than their line does. */
  function wireFields(row: number, found: readonly string[], id: string): Wire[] | undefined {
    const net = lines.byId.get(id.toLowerCase());
    const gauge = readFigure(list.text(row, 'gauge'));
    const fields = found.map(
      (colour): Wire => ({ ...(colour !== net?.colour && { colour }), ...(gauge !== null && gauge !== net?.awg && { awg: gauge }) }),
    );
    return fields.length > 1 || fields.some((wire) => Object.keys(wire).length > 0) ? fields : undefined;
  }

  /** Numbers in order from the board are a chain; words stay words. */
  function readGoesTo(row: number, text: string, tap: string): void {
    const parts = text.split(/\s*(?:[,;>→]|->|\n)\s*/).filter(Boolean);
    const steps = parts.flatMap((part): Chain['steps'] => {
      const number = part.trim();
      if (chart.circuit.has(number)) return [{ switch: chart.circuit.get(number)?.number ?? number }];
      if (machine.loads.some((l) => l.number === number)) return [{ load: number }];
      return [];
    });
    if (steps.length === parts.length && steps.length > 0)
      put(to, { row: row + 1, column: list.index('goesTo') }, { what: 'chain', tap, steps });
    else if (/^\d/.test(text))
      refuse(
        to,
        { row: row + 1, column: list.index('goesTo') },
        text,
        'Not all of these are numbers of this machine: paste its switches first, then this list again.',
      );
  }
}

const wiresOf = (text: string): string[] =>
  text === '' || isUnusedWord(text) || keyWord.test(text) ? [] : text.split(/\s*(?:\+|&|\n)\s*/).filter(Boolean);
