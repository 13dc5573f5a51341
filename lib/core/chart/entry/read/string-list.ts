/** Lists of general illumination: a string of lamps a row, with its two lines and the pins that feed it. */
import { pinOf } from '../../names';
import type { Illumination, Net } from '../../schema';
import type { Steps } from '../steps';
import type { Understood } from '../types';
import { settleColours, type WireCell } from './colours';
import type { LineIndex } from './lines';
import { anyLine } from './lines';
import type { ListRows } from './list-rows';
import { readPins as pinsIn } from './pins';
import { plainOf } from './plain-fields';
import type { Reading } from './reading';
import { newCollection, put, putLine, refuse } from './reading';

export function* readStrings(reading: Reading, list: ListRows, lines: LineIndex): Steps<Understood[]> {
  const { design, machine } = reading.chart;
  const to = newCollection(reading, lines);
  const cells = list.rows.flatMap((row): WireCell[] => {
    const text = list.text(row, 'wire');
    return text === '' ? [] : [{ text, at: { row: row + 1, column: list.index('wire') } }];
  });
  const colours = yield* settleColours(reading, cells);
  yield;
  for (const [i, row] of list.rows.entries()) {
    const number = list.text(row, 'number');
    const at = { row: row + 1, column: list.index('number') || list.index('name') };
    const wire = list.text(row, 'wire');
    const read = wire === '' ? null : colours.read(wire);
    const colour = read && 'colour' in read ? read.colour : undefined;
    if (read && 'why' in read) refuse(to, { row: row + 1, column: list.index('wire') }, wire, read.why);
    const taps = pinsIn(list.text(row, 'taps') || list.text(row, 'pin'), design);
    const net = lineOfString(row, number, colour, taps);
    const back = net && backOf(row, net);
    const label = [number, list.text(row, 'name')].filter(Boolean).join(' ');
    if (!net) refuse(to, at, label, 'Neither its line, its wire, its pins nor its number says which line feeds it.');
    else if (!back) refuse(to, at, label, 'Nothing says by which line the current comes back: give a column “back line”.');
    if (i % 150 === 149) yield;
    if (!net || !back) continue;
    if (colour !== undefined) putLine(to, { row: row + 1, column: list.index('wire') }, net.id, { colour });
    const fields = plainOf<Illumination>(to, list, row, 'strings');
    const feeding = taps.length > 0 ? { taps: taps.map((pin) => pinOf(pin.header, pin.position)) } : {};
    put(to, at, { what: 'string', id: number || `G${net.number ?? i + 1}`, fields: { ...fields, net: net.id, back: back.id, ...feeding } });
  }
  return to.rows;

  function lineOfString(row: number, number: string, colour: string | undefined, taps: ReturnType<typeof pinsIn>): Net | undefined {
    const own = design.nets.filter((n) => n.kind === 'illumination');
    const said = anyLine(list.text(row, 'line'), design, lines, colour);
    const digit = Number(/(\d+)\s*$/.exec(number)?.[1] ?? Number.NaN);
    const byPin = taps.flatMap((pin) => lines.byId.get(lines.byPin.get(pinOf(pin.header, pin.position))?.toLowerCase() ?? '') ?? []);
    return (
      own.find((n) => n.id === said?.id) ??
      only(own.filter((n) => colour !== undefined && n.colour === colour)) ??
      byPin.find((n) => n.kind === 'illumination' && !n.id.endsWith('-back')) ??
      own.find((n) => n.id === machine.illumination.find((g) => g.id === number)?.net) ??
      only(own.filter((n) => n.number === digit && !n.id.endsWith('-back')))
    );
  }

  function backOf(row: number, net: Net): Net | undefined {
    const said = list.text(row, 'back');
    if (said === '') return design.nets.find((n) => n.id === `${net.id}-back`);
    const id = anyLine(said, design, lines)?.id;
    return design.nets.find((n) => n.id === id);
  }
}

const only = <T>(items: readonly T[]): T | undefined => (items.length === 1 ? items[0] : undefined);
