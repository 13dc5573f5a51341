/** Connector lists: which position carries which line, with its wires and what it goes to. */
import { indexChart } from '../../build';
import { pinOf } from '../../names';
import { type NetKind, netKinds, type Step, type Wire } from '../../schema';
import type { Steps } from '../steps';
import type { Understood } from '../types';
import { settleColours, type WireCell } from './colours';
import { readGoesTo } from './goes-to';
import { anyLine, type LineIndex, settleBoard } from './lines';
import type { ListRows } from './list-rows';
import { type PinRead, readHeader, readInline, readInlinePin, readPin } from './pins';
import { plainOf } from './plain-fields';
import type { Reading } from './reading';
import { isUnusedWord, newCollection, put, putPin, refuse } from './reading';
import { halfWords, wordIn } from './synonyms';

const keyWord = /^(?:key|keyed|no pin|pin removed|index|keying plug)$/i;

export function* readPins(reading: Reading, list: ListRows, lines: LineIndex): Steps<Understood[]> {
  const { design } = reading.chart;
  const to = newCollection(reading, lines);
  const keys = new Map<string, { positions: number[]; row: number }>();
  const cells: WireCell[] = [];
  const places = new Map<number, PinRead>();
  const inline = new Map<string, number[]>(); // rows of a position of an in-line connector are wires of its halves
  for (const row of list.rows) {
    const through = throughOf(row);
    if (through) {
      inline.set(through, [...(inline.get(through) ?? []), row]);
      const line = list.text(row, 'line');
      const own = anyLine(line, design, lines)?.id;
      const colour = own && lines.byId.get(own.toLowerCase())?.colour;
      for (const meaning of ['wire', 'farWire'] as const)
        for (const text of wiresOf(list.text(row, meaning)))
          cells.push({ text, at: { row: row + 1, column: list.index(meaning) }, ...(colour && { line: colour }) });
      continue;
    }
    const place = placeOf(row);
    if (place) places.set(row, place);
    const net = place && lines.byPin.get(pinOf(place.header, place.position));
    const line = net === undefined || net === null ? undefined : lines.byId.get(net.toLowerCase())?.colour;
    for (const text of wiresOf(list.text(row, 'wire'))) {
      cells.push({ text, at: { row: row + 1, column: list.index('wire') }, ...(line !== undefined && { line }) });
    }
    if (row % 100 === 0) yield;
  }
  const colours = yield* settleColours(reading, cells);
  yield;
  const named = namesOf(reading);
  yield;
  let group: number[] = [];
  for (const [i, row] of list.rows.entries()) {
    const place = places.get(row);
    if (i % 100 === 99) yield;
    if (!place) continue;
    group.push(row);
    const next = list.rows[i + 1];
    if (next !== undefined && sameLine(row, next)) continue;
    readPosition(group, place);
    group = [];
  }
  for (const [pin, rows] of inline) readThrough(pin, rows);
  for (const [id, { positions, row }] of keys)
    put(to, { row, column: list.index('position') }, { what: 'header', id, fields: { keys: positions } });
  return to.rows;

  /** The position of an in-line connector that a row is about; null when it is about a header's. */
  function throughOf(row: number): string | null {
    const pin = list.text(row, 'pin');
    const header = list.text(row, 'header');
    const position = list.text(row, 'position') || pin;
    return readInlinePin(pin) ?? readInlinePin(header) ?? (readInline(header) ? readInlinePin(`${header} ${position}`) : null);
  }

  /** One position of an in-line connector; each of its rows is a wire of one half, or a wire of each. */
  function readThrough(pin: string, rows: readonly number[]): void {
    const [row = 0] = rows;
    const at = { row: row + 1, column: list.index('pin') || list.index('position') };
    const said = rows.map((r) => list.text(r, 'line')).find(Boolean) ?? '';
    const carried = anyLine(said, design, lines);
    const net = carried?.id ?? reading.chart.machine.inlinePins?.find((p) => p.pin === pin)?.net;
    if (said !== '' && !carried)
      refuse(to, { row: row + 1, column: list.index('line') }, said, 'It is no line of the board design that is known.');
    if (net === undefined) {
      if (said === '') refuse(to, at, pin, 'Nothing says which line it carries.');
      return;
    }
    const own = lines.byId.get(net.toLowerCase())?.colour;
    const wires: Record<'board' | 'far', Wire[]> = { board: [], far: [] };
    for (const r of rows) {
      const more = plainOf<Wire>(to, list, r, 'pins');
      const word = list.text(r, 'half');
      const half = word === '' ? 'board' : wordIn(halfWords, word);
      if (half === null) {
        refuse(to, { row: r + 1, column: list.index('half') }, word, 'It is neither board nor far.');
        continue;
      }
      const near = wiresAt(r, 'wire', own).map((wire) => ({ ...wire, ...more }));
      wires[half].push(...(near.length === 0 && Object.keys(more).length + (word === '' ? 0 : 1) > 0 ? [more] : near));
      wires.far.push(...wiresAt(r, 'farWire', own));
    }
    for (const meaning of ['wire', 'farWire'] as const) noWire(rows, meaning);
    const near = wireFields(wires.board, net);
    // Without wires of its own the far half is as the near one: where only that one differs, it has to be said.
    const far = wires.far.length === 0 ? undefined : (wireFields(wires.far, net) ?? (near && [{}]));
    put(to, at, { what: 'inlinePin', pin, fields: { net, ...(near && { wires: near }), ...(far && { far }) } });
  }

  function wiresAt(row: number, meaning: 'wire' | 'farWire', own: string | undefined): Wire[] {
    return wiresOf(list.text(row, meaning)).flatMap((text): Wire[] => {
      const read = colours.read(text, own);
      if ('why' in read) refuse(to, { row: row + 1, column: list.index(meaning) }, text, read.why);
      return 'colour' in read ? [{ colour: read.colour }] : [];
    });
  }

  /** A cell that says there is no wire, in a row that says which line there is. */
  function noWire(rows: readonly number[], meaning: 'wire' | 'farWire'): void {
    for (const row of rows) {
      const text = list.text(row, meaning);
      if (text !== '' && wiresOf(text).length === 0)
        refuse(
          to,
          { row: row + 1, column: list.index(meaning) },
          text,
          'It says that there is no wire, yet the row has a line. The wire of that line was taken.',
        );
    }
  }

  /** Rows of one position that follow one another are its wires. */
  function sameLine(row: number, next: number): boolean {
    const [a, b] = [places.get(row), places.get(next)];
    return a?.header === b?.header && a?.position === b?.position && list.text(row, 'line') === list.text(next, 'line');
  }

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

  /** One position; each of its rows is a wire of it. */
  function readPosition(rows: readonly number[], { header, position }: PinRead): void {
    const [row = 0] = rows;
    const at = { row: row + 1, column: list.index('position') || list.index('pin') };
    const line = list.text(row, 'line');
    const goesTo = list.text(row, 'goesTo');
    if ([list.text(row, 'wire'), line, goesTo].some((text) => keyWord.test(text))) {
      const known = keys.get(header) ?? { positions: [...(design.headers.find((h) => h.id === header)?.keys ?? [])], row: row + 1 };
      if (!known.positions.includes(position)) known.positions.push(position);
      keys.set(header, known);
      return;
    }
    const texts = rows.flatMap((r) => wiresOf(list.text(r, 'wire')).map((text) => ({ text, row: r })));
    if (texts.length === 0 && (line === '' || isUnusedWord(line)) && goesTo === '') return;
    const there = lines.byPin.get(pinOf(header, position));
    const own = there === undefined ? undefined : lines.byId.get(there.toLowerCase())?.colour;
    const found = rows.flatMap((r): Wire[] => {
      const more = plainOf<Wire>(to, list, r, 'pins');
      const read = texts.filter((t) => t.row === r).map(({ text }) => colours.read(text, own));
      for (const [i, one] of read.entries())
        if ('why' in one) refuse(to, { row: r + 1, column: list.index('wire') }, texts.filter((t) => t.row === r)[i]?.text ?? '', one.why);
      if (read.length === 0) return rows.length > 1 || Object.keys(more).length > 0 ? [more] : [];
      return read.flatMap((one) => ('colour' in one ? [{ colour: one.colour, ...more }] : []));
    });
    const carried = anyLine(line, design, lines, found[0]?.colour);
    if (line !== '' && !carried)
      refuse(to, { row: row + 1, column: list.index('line') }, line, 'It is no line of the board design that is known.');
    const net = carried?.id ?? there;
    if (net === undefined) {
      if (line === '')
        refuse(to, at, pinOf(header, position), 'Nothing says which line it carries: neither the table nor the board design.');
      return;
    }
    noWire(rows, 'wire');
    const wires = wireFields(found, net);
    putPin(to, at, { header, position }, net, wires);
    if (goesTo !== '') putChain(row, goesTo, pinOf(header, position), net);
  }

  /** Wires that say more than their line does. */
  function wireFields(found: readonly Wire[], id: string): Wire[] | undefined {
    const net = lines.byId.get(id.toLowerCase());
    const fields = found.map(({ colour, awg, ...more }) => ({
      ...more,
      ...(colour !== undefined && colour !== net?.colour && { colour }),
      ...(awg !== undefined && awg !== net?.awg && { awg }),
    }));
    return fields.length > 1 || fields.some((wire) => Object.keys(wire).length > 0) ? fields : undefined;
  }

  /** Numbers in order from the board are a chain; words stay words. */
  function putChain(row: number, text: string, tap: string, net: string): void {
    const at = { row: row + 1, column: list.index('goesTo') };
    const steps = readGoesTo(text, named(lines.byId.get(net.toLowerCase())?.kind));
    if (steps) put(to, at, { what: 'chain', tap, steps });
    else if (/^[A-Z]?\d|[(|]/i.test(text)) refuse(to, at, text, chainMend);
  }
}

const chainMend =
  'Not all of these are numbers of this machine: paste its switches, lamps and loads first, then this list again. A splice is written S2 (16 | 46, 26).';

/** What a number names behind a line of this kind: of two that print alike, the sort that such a line serves. */
function namesOf({ chart: { machine, design } }: Reading): (kind: NetKind | undefined) => (number: string) => Step | null {
  const chart = indexChart(machine, design);
  const of = {
    switch: (number: string) => ({ switch: chart.circuit.get(number)?.number ?? '' }),
    load: (number: string) => ({ load: chart.loads.find((l) => l.number === number)?.number ?? '' }),
    lamp: (number: string) => ({ lamp: chart.lamps.find((l) => l.number === number)?.number ?? '' }),
  } as const;
  return (kind) => {
    const first = kind?.startsWith('lamp') ? 'lamp' : kind === 'load' || kind === 'supply' ? 'load' : 'switch';
    const order = [first, ...(['switch', 'load', 'lamp'] as const).filter((sort) => sort !== first)] as const;
    return (number) => {
      const inline = readInlinePin(number);
      if (inline && chart.through.has(inline)) return { inline };
      return order.map((sort) => of[sort](number)).find((step) => !Object.values(step).includes('')) ?? null;
    };
  };
}

const wiresOf = (text: string): string[] =>
  text === '' || isUnusedWord(text) || keyWord.test(text) ? [] : text.split(/\s*(?:\+|&|\n)\s*/).filter(Boolean);
