/** What a table is, what its columns are, and what its rows put into the chart. */
import { settleColumns } from './columns';
import { readHeaders, readLines } from './design-list';
import { readGrid } from './grid';
import { gridOf } from './grid-shape';
import { readHarness } from './harness-list';
import { settleKind } from './kind';
import { indexLines } from './lines';
import { listRows } from './list-rows';
import { readLoads } from './load-list';
import { readPins } from './pin-list';
import { readPlaces } from './place-list';
import { plainMeanings } from './plain-fields';
import { found, newReading, type Reading } from './reading';
import { finish, type Steps } from './steps';
import { readStrings } from './string-list';
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
  const reading = newReading(chart, answers);
  const lines = indexLines(chart.design);
  const wanted = tableKinds.find((kind) => kind === answers.kind);
  const shape = wanted === undefined || wanted.endsWith('-matrix') ? gridOf(table.rows) : null;
  yield;
  if (shape) {
    const { matrix, why, rows, columns, numbering } = yield* readGrid(reading, shape, lines);
    return done(reading, table, {
      kind: `${matrix}-matrix`,
      sure: shape.sure,
      why,
      headRows: shape.headRows,
      columns,
      rows,
      ...(numbering && { numbering }),
    });
  }
  const headed = yield* settleColumns(reading, table.rows);
  yield;
  const { kind, sure, why } = settleKind(reading, table.rows, headed);
  const list = yield* listRows(table.rows, headed.headRow + 1, headed.columns);
  yield;
  const of = { kind, sure, why, headRows: headed.headRow + 1, columns: headed.columns };
  if (kind === 'unknown') return done(reading, table, { ...of, rows: [] });
  noteGroups(reading, list.filled, headed.columns, headed.headRow);
  noteUnplaced(reading, kind, headed.columns, headed.headRow);
  for (const row of list.titles) {
    const text = table.rows[row]?.find(Boolean) ?? '';
    reading.not.push({ row: row + 1, column: 1, text, why: 'A row of one cell was taken for a heading.' });
  }
  switch (kind) {
    case 'switches':
    case 'lamps':
      return done(reading, table, { ...of, ...(yield* readPlaces(reading, list, kind === 'switches' ? 'switch' : 'lamp', lines)) });
    case 'loads':
      return done(reading, table, { ...of, rows: yield* readLoads(reading, list, headed.title, lines) });
    case 'pins':
      return done(reading, table, { ...of, rows: yield* readPins(reading, list, lines) });
    case 'strings':
      return done(reading, table, { ...of, rows: yield* readStrings(reading, list, lines) });
    case 'harness':
      return done(reading, table, { ...of, rows: yield* readHarness(reading, list, lines) });
    case 'headers':
      return done(reading, table, { ...of, rows: yield* readHeaders(reading, list, lines) });
    default:
      return done(reading, table, { ...of, rows: yield* readLines(reading, list, lines) });
  }
}

function done({ asks, not, findings }: Reading, table: Table, of: Omit<Understanding, 'asks' | 'not' | 'findings'>): Understanding {
  const all = [...table.findings, ...findings];
  if (of.rows.length === 0 && table.rows.length > 0 && asks.length === 0) {
    const message = of.kind === 'unknown' ? 'It could not be told what this table is.' : 'No row of this table could be placed.';
    all.push({
      level: 'error',
      rule: 'nothing-understood',
      row: 1,
      column: 0,
      message,
      mend: 'Give it a row of headings, such as number, name, column, row; or say what each column is.',
    });
  }
  return { ...of, asks, not, findings: all };
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
/** What each kind of list has a place for. */
const placed: Readonly<Partial<Record<TableKind, readonly Meaning[]>>> = {
  switches: [...place, 'line', 'wire', 'pin', 'emitterSupply', ...plainMeanings('switches')],
  lamps: [...place, ...plainMeanings('lamps')],
  loads: ['number', 'name', 'line', 'driver', 'wire', 'pin', 'supply', 'fuse', 'loadKind', 'volts', ...plainMeanings('loads')],
  strings: ['number', 'line', 'back', 'wire', 'pin', 'taps', ...plainMeanings('strings')],
  pins: ['header', 'position', 'pin', 'line', 'wire', 'goesTo', ...plainMeanings('pins')],
  harness: ['pin', 'step', 'what', 'number', 'name'],
  headers: ['header', 'number', ...plainMeanings('headers')],
  lines: ['line', 'name', 'wire', ...plainMeanings('lines')],
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
