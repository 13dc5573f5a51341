/** What a table is, what its columns are, and what its rows put into the chart. */
import { type Headed, settleColumns } from './read/columns';
import { readHeaders, readLines } from './read/design-list';
import { settleGauges } from './read/gauges';
import { readGrid } from './read/grid';
import { gridOf } from './read/grid-shape';
import { readHarness } from './read/harness-list';
import { settleKind } from './read/kind';
import { indexLines } from './read/lines';
import { listRows } from './read/list-rows';
import { readLoads } from './read/load-list';
import { readPins } from './read/pin-list';
import { readPlaces } from './read/place-list';
import { plainMeanings } from './read/plain-fields';
import { found, newReading, type Reading } from './read/reading';
import { readStrings } from './read/string-list';
import { finish, type Steps } from './steps';
import { folded, unfold } from './table/side-by-side';
import {
  type Answers,
  type ColumnMeaning,
  type EntryChart,
  type Meaning,
  type Table,
  type TableKind,
  tableKinds,
  type Understanding,
} from './types';

/** Reads a table against the chart that it is for. Questions have ids; call again with `answers` by id. Never throws. */
export const understand = (table: Table, chart: EntryChart, answers: Answers = {}): Understanding =>
  finish(understandInSteps(table, chart, answers));

/** The same in steps of a few milliseconds; the caller rests between them. */
export function* understandInSteps(table: Table, chart: EntryChart, answers: Answers = {}): Steps<Understanding> {
  const unfolded = unfold(table);
  yield;
  const read = yield* understandRows(unfolded?.rows ?? table.rows, newReading(chart, answers));
  const all = unfolded ? folded(read, unfolded) : read;
  return { ...all, findings: [...table.findings, ...all.findings] };
}

function* understandRows(rows: string[][], reading: Reading): Steps<Understanding> {
  const { chart, answers } = reading;
  const lines = indexLines(chart.design);
  const wanted = tableKinds.find((kind) => kind === answers.kind);
  const shape = wanted === undefined || wanted.endsWith('-matrix') ? gridOf(rows) : null;
  yield;
  if (shape) {
    const { matrix, ...read } = yield* readGrid(reading, shape, lines);
    return done(reading, { kind: `${matrix}-matrix`, sure: shape.sure, headRows: shape.headRows, ...read });
  }
  const headed = yield* settleColumns(reading, rows);
  yield;
  const { kind, sure, why } = settleKind(reading, rows, headed);
  const list = yield* listRows(rows, headed.headRow + 1, headed.columns);
  yield;
  const of = { kind, sure, why, headRows: headed.headRow + 1, columns: headed.columns };
  if (kind === 'unknown') return done(reading, { ...of, rows: [] }, rows.length > 0);
  noteGroups(reading, list.filled, headed.columns, headed.headRow);
  noteUnplaced(reading, kind, headed.columns, headed.headRow);
  for (const row of list.titles) {
    const text = rows[row]?.find(Boolean) ?? '';
    reading.not.push({ row: row + 1, column: 1, text, why: 'A row of one cell was taken for a heading.' });
  }
  switch (kind) {
    case 'switches':
    case 'lamps':
      return done(reading, { ...of, ...(yield* readPlaces(reading, list, kind === 'switches' ? 'switch' : 'lamp', lines)) });
    case 'loads':
      return done(reading, { ...of, rows: yield* readLoads(reading, list, titleOf(rows, headed), lines) });
    case 'pins':
      return done(reading, { ...of, rows: yield* readPins(reading, list, lines) });
    case 'strings':
      return done(reading, { ...of, rows: yield* readStrings(reading, list, lines) });
    case 'harness':
      return done(reading, { ...of, rows: yield* readHarness(reading, list, lines) });
    case 'headers':
      return done(reading, { ...of, rows: yield* readHeaders(reading, list, lines) });
    default:
      return done(reading, { ...of, rows: yield* readLines(reading, list, lines) });
  }
}

function done(reading: Reading, of: Omit<Understanding, 'asks' | 'not' | 'findings'>, something = true): Understanding {
  const rows = settleGauges(reading, of.rows);
  const { asks, not, findings } = reading;
  if (rows.length === 0 && something && asks.length === 0) {
    const message = of.kind === 'unknown' ? 'It could not be told what this table is.' : 'No row of this table could be placed.';
    const mend = 'Give it a row of headings, such as number, name, column, row; or say what each column is.';
    found(reading, 'error', 'nothing-understood', { row: 1, column: 0 }, message, mend);
  }
  return { ...of, rows, asks, not, findings };
}

function noteGroups(reading: Reading, filled: readonly Meaning[], columns: readonly ColumnMeaning[], headRow: number): void {
  for (const meaning of filled) {
    const column = columns.find((c) => c.meaning === meaning)?.index ?? 0;
    found(
      reading,
      'information',
      'filled-down',
      { row: headRow + 2, column },
      `Blank cells of this column were read as “the same as above”.`,
      'Fill them in if that is wrong.',
    );
  }
}

const place: readonly Meaning[] = ['number', 'name', 'column', 'row', 'columnWire', 'rowWire', 'columnPin', 'rowPin'];
/** What stands above a list and over its numbers and names. */
function titleOf(rows: readonly string[][], { title, headRow, columns }: Headed): string {
  const own = columns.filter((c) => c.meaning === 'number' || c.meaning === 'name');
  return [title, ...own.map((c) => rows[headRow]?.[c.index - 1] ?? '')].join(' ');
}

/** What each kind of list has a place for. */
const placed: Readonly<Partial<Record<TableKind, readonly Meaning[]>>> = {
  switches: [...place, 'line', 'wire', 'pin', 'emitterSupply', ...plainMeanings('switches')],
  lamps: [...place, ...plainMeanings('lamps')],
  loads: ['number', 'name', 'line', 'driver', 'wire', 'pin', 'supply', 'fuse', 'loadKind', 'volts', ...plainMeanings('loads')],
  strings: ['number', 'line', 'back', 'wire', 'pin', 'taps', ...plainMeanings('strings')],
  pins: ['header', 'position', 'pin', 'line', 'wire', 'half', 'farWire', 'goesTo', ...plainMeanings('pins')],
  harness: ['pin', 'step', 'what', 'number', 'name'],
  headers: ['header', 'number', ...plainMeanings('inline')],
  lines: ['line', 'name', 'wire', 'column', 'row', 'columnWire', 'rowWire', 'pin', 'columnPin', 'rowPin', ...plainMeanings('lines')],
};

function noteUnplaced(reading: Reading, kind: TableKind, columns: readonly ColumnMeaning[], headRow: number): void {
  const has = placed[kind] ?? [];
  for (const { index, meaning } of columns) {
    if (meaning === 'unused' || has.includes(meaning)) continue;
    const at = { row: headRow + 1 || 1, column: index };
    found(
      reading,
      'information',
      'column-left-out',
      at,
      `This column (${meaning}) has no place in a list of ${kind}; it was left out.`,
      'Paste it with the list it belongs to.',
    );
  }
}
