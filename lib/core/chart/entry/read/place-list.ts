/** Switch lists and lamp lists: each row names one place of a matrix, or a direct switch. */
import type { Cell } from '../../numbering';
import { matrixSize, printedNumber } from '../../numbering';
import type { DirectSwitch, Lamp, MatrixSwitch, NetKind, Numbering } from '../../schema';
import type { Steps } from '../steps';
import type { Understood } from '../types';
import { settleColours, type WireCell } from './colours';
import { anyLine, type LineIndex, type LineParts, lineOf, splitLine, supplyNamed } from './lines';
import type { ListRows } from './list-rows';
import { cellsByNumber, numberKey, settleNumbering } from './numbers';
import { plainMeanings, plainOf } from './plain-fields';
import { type At, found, isNoName, isUnusedWord, newCollection, put, putLine, putParts, type Reading, refuse } from './reading';

interface AxisDraft {
  parts: LineParts;
  at: At;
  wire: string;
  wireAt: At;
  id?: string;
  number?: number;
}
interface Draft {
  row: number; // index of the table's row
  at: At;
  number: string;
  name: string;
  direct: boolean;
  column: AxisDraft;
  line: AxisDraft; // the row of the matrix; of a direct switch its input
}
interface PlaceList {
  rows: Understood[];
  numbering?: Numbering;
}

const rowsAStep = 60;

export function* readPlaces(reading: Reading, list: ListRows, of: 'switch' | 'lamp', lines: LineIndex): Steps<PlaceList> {
  const { design, machine } = reading.chart;
  const to = newCollection(reading, lines);
  const size = matrixSize(design, of);
  const drafts: Draft[] = [];
  const named = new Map<string, { name: string; row: number }>(); // by place, what the table itself has there
  let unused = 0;
  for (const row of list.rows) {
    const name = list.text(row, 'name');
    if (isNoName(name) || (name === '' && list.index('name') > 0 && saysNothing(list, row))) unused += 1;
    else drafts.push(draftOf(reading, list, row, of, lines));
    if (row % rowsAStep === 0) yield;
  }
  if (unused > 0) {
    const at = { row: (list.rows[0] ?? 0) + 1, column: list.index('name') };
    found(
      reading,
      'information',
      'unused-places',
      at,
      `${unused} places have no name, or are marked as not used or not known; they stay so.`,
      'Nothing to do.',
    );
  }
  yield;
  const inMatrix = drafts.filter((d) => !d.direct);
  const numbered = inMatrix.flatMap((d) => {
    const cell = cellOf(d);
    return d.number === '' ? [] : [{ number: d.number, at: d.at, ...(cell && { cell }) }];
  });
  yield;
  const scheme = settleNumbering(reading, numbered, size);
  yield;
  const byNumber = scheme ? cellsByNumber(scheme, size) : new Map<string, Cell>();
  for (const [i, draft] of inMatrix.entries()) {
    place(lines, draft, byNumber.get(numberKey(draft.number)), of);
    if (i % 500 === 499) yield;
  }
  yield;
  const cells = yield* wireCells(drafts, lines);
  const colours = yield* settleColours(reading, cells);
  yield;
  for (const [i, draft] of drafts.entries()) {
    readAxis(draft.column, [`${of}-column`]);
    readAxis(draft.line, draft.direct ? ['direct'] : [`${of}-row`]);
    if (draft.direct) putDirect(draft);
    else putPlace(draft);
    if (i % rowsAStep === 0) yield;
  }
  const other = scheme && scheme !== machine.numbering && of === 'switch' && numbered.length > 0;
  return { rows: to.rows, ...(other && { numbering: scheme }) };

  /** Wire of a line, and the line by it where nothing else told it. */
  function readAxis(axis: AxisDraft, kinds: NetKind[]): void {
    const known = axis.id === undefined ? undefined : lines.byId.get(axis.id)?.colour;
    const wire = axis.wire === '' ? null : colours.read(axis.wire, known);
    if (wire && 'why' in wire) refuse(to, axis.wireAt, axis.wire, wire.why);
    const colour = wire && 'colour' in wire ? wire.colour : undefined;
    if (axis.id === undefined) {
      const line = lineOf(axis.parts, kinds, lines, colour);
      if (line) Object.assign(axis, line);
    }
    if (axis.id === undefined) return;
    putLine(to, axis.wireAt, axis.id, { colour });
    putParts(to, axis.at, axis.id, axis.parts);
  }

  function putPlace({ row, at, number, name, column, line }: Draft): void {
    if (column.number === undefined || line.number === undefined) {
      const text = [number, name].filter(Boolean).join(' ');
      const why =
        scheme === null && number !== ''
          ? 'It waits for the answer how the numbers are printed.'
          : 'Neither its number nor a column and row say where it stands.';
      refuse(to, at, text, why);
      return;
    }
    const by = scheme ?? machine.numbering;
    const cell = { column: column.number, row: line.number };
    const before = named.get(`${cell.column} ${cell.row}`);
    if (before && name !== '' && before.name !== name) {
      refuse(to, at, [number, name].filter(Boolean).join(' '), `Row ${before.row} of the table says that “${before.name}” stands there.`);
      return;
    }
    if (name !== '') named.set(`${cell.column} ${cell.row}`, { name, row: at.row });
    const printed = printedNumber(by, column.number, line.number, size);
    const off = number !== '' && number !== printed && numberKey(number) !== numberKey(printed);
    const own = { ...(name !== '' && { name }), ...(off && { number }) };
    const fields =
      of === 'switch'
        ? Object.assign(own, plainOf<MatrixSwitch>(to, list, row, 'switches'), emitterOf(row))
        : Object.assign(own, plainOf<Lamp>(to, list, row, 'lamps'));
    if (Object.keys(fields).length > 0) put(to, at, { what: of, ...cell, fields });
  }

  function putDirect({ row, at, number, name, line }: Draft): void {
    const fields = { ...(name !== '' && { name }), ...plainOf<DirectSwitch>(to, list, row, 'direct'), ...emitterOf(row) };
    const net = line.id !== undefined ? { net: line.id } : {};
    if (Object.keys(fields).length > 0) put(to, at, { what: 'direct', number, ...net, fields });
  }

  /** The line that feeds the light of an optical switch. */
  function emitterOf(row: number): { emitterSupply?: string } {
    const text = list.text(row, 'emitterSupply');
    if (text === '' || isUnusedWord(text)) return {};
    const line = supplyNamed(text, design) ?? anyLine(text, design, lines);
    if (line) return { emitterSupply: line.id };
    refuse(to, { row: row + 1, column: list.index('emitterSupply') }, text, 'It is no line of the board design that is known.');
    return {};
  }
}

/** Whether a row without a name has nothing else to say of its switch or lamp. */
const saysNothing = (list: ListRows, row: number): boolean =>
  [...plainMeanings('switches'), ...plainMeanings('lamps')].every((meaning) => list.text(row, meaning) === '');

function draftOf(reading: Reading, list: ListRows, row: number, of: 'switch' | 'lamp', lines: LineIndex): Draft {
  const number = list.text(row, 'number');
  const at = { row: row + 1, column: list.index('number') || list.index('name') };
  const lineText = list.text(row, 'line');
  const hasCell = list.text(row, 'column') !== '' || list.text(row, 'row') !== '';
  const known = reading.chart.machine.direct.some((d) => d.number === number);
  const direct = of === 'switch' && !hasCell && (/^D-?\d{1,2}$/i.test(number) || known || /\bdirect\b/i.test(lineText));
  return {
    row,
    at,
    number,
    name: list.text(row, 'name'),
    direct,
    column: axisOf(reading, list, row, 'column', [`${of}-column`], lines),
    line: direct ? directOf(reading, list, row, number, lines) : axisOf(reading, list, row, 'row', [`${of}-row`], lines),
  };
}

function axisOf(reading: Reading, list: ListRows, row: number, axis: 'column' | 'row', kinds: NetKind[], lines: LineIndex): AxisDraft {
  const at = { row: row + 1, column: list.index(axis) || list.index(`${axis}Wire`) };
  const parts = list.parts(row, axis, (text) => splitLine(reading, text, kinds, at, lines));
  const pins = list.parts(row, `${axis}Pin`, (text) => splitLine(reading, text, kinds, at, lines)).pins;
  const apart = list.text(row, `${axis}Wire`);
  const wire = apart || (lines.byId.has(parts.rest.toLowerCase()) ? '' : parts.rest);
  const wireAt = { row: row + 1, column: apart === '' ? at.column : list.index(`${axis}Wire`) };
  const all = pins.length === 0 ? parts : { ...parts, pins: [...parts.pins, ...pins] };
  const line = lineOf(all, kinds, lines);
  return { parts: all, at, wire, wireAt, ...line };
}

/** The input of a direct switch: by the line's cell, its pin, what the machine has already, or its own number. */
function directOf(reading: Reading, list: ListRows, row: number, number: string, lines: LineIndex): AxisDraft {
  const at = { row: row + 1, column: list.index('line') || list.index('number') };
  const parts = list.parts(row, 'line', (text) => splitLine(reading, text, ['direct'], at, lines));
  const pins = (['pin', 'rowPin', 'columnPin'] as const).flatMap(
    (m) => list.parts(row, m, (text) => splitLine(reading, text, ['direct'], at, lines)).pins,
  );
  const all = { ...parts, number: parts.number ?? undefined, pins: [...parts.pins, ...pins] } as LineParts;
  const meaning = (['wire', 'rowWire', 'columnWire'] as const).find((m) => list.text(row, m) !== '');
  const wire = meaning ? list.text(row, meaning) : '';
  const { machine } = reading.chart;
  const there = machine.direct.find((d) => d.number === number)?.net;
  const own = Number(/\d+$/.exec(number)?.[0] ?? Number.NaN);
  const line =
    lineOf(all, ['direct'], lines) ??
    (there ? { id: there } : null) ??
    (wire === '' && Number.isFinite(own) ? lineOf({ ...all, number: own }, ['direct'], lines) : null);
  return { parts: all, at, wire, wireAt: { row: row + 1, column: meaning ? list.index(meaning) : at.column }, ...line };
}

const cellOf = ({ column, line }: Draft): Cell | null =>
  column.number !== undefined && line.number !== undefined ? { column: column.number, row: line.number } : null;

/** Where the number stands, for what the row does not say; both are held against each other. */
function place(lines: LineIndex, draft: Draft, cell: Cell | undefined, of: 'switch' | 'lamp'): void {
  if (!cell) return;
  for (const [axis, number, kind] of [
    [draft.column, cell.column, `${of}-column`],
    [draft.line, cell.row, `${of}-row`],
  ] as const) {
    if (axis.number !== undefined) continue;
    const net = lines.byKind.get(kind)?.find((n) => n.number === number);
    Object.assign(axis, { number, id: net?.id ?? `${kind}.${number}` });
  }
}

function* wireCells(drafts: readonly Draft[], lines: LineIndex): Steps<WireCell[]> {
  const cells: WireCell[] = [];
  for (const [i, draft] of drafts.entries()) {
    if (i % 500 === 499) yield;
    for (const axis of [draft.column, draft.line]) {
      if (axis.wire === '') continue;
      const line = axis.id === undefined ? undefined : lines.byId.get(axis.id)?.colour;
      cells.push({ text: axis.wire, at: axis.wireAt, ...(line !== undefined && { line }) });
    }
  }
  return cells;
}
