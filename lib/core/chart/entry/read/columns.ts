/** Which column of a list is what: by its heading, held against its cells; without headings by the cells alone. */

import type { Steps } from '../steps';
import { type ColumnMeaning, type Meaning, meanings } from '../types';
import { meaningOfContent, shareOf, testsOf } from './content';
import type { Reading } from './reading';
import { meaningOfHeading } from './synonyms';

export interface Headed {
  /** Index from 0 of the row of headings; -1: there is none. */
  headRow: number;
  title: string; // what stands above it
  columns: ColumnMeaning[];
}

const searched = 12; // rows in which headings may stand
const sampled = 120;

/** Finds the headings and gives each column a meaning. An answer `column.N` goes before all. */
export function* settleColumns(reading: Reading, rows: readonly string[][]): Steps<Headed> {
  const headRow = headRowOf(rows);
  const title = rows.slice(0, Math.max(0, headRow)).flat().join(' ').trim();
  const width = Math.max(0, ...rows.slice(Math.max(0, headRow), Math.max(0, headRow) + sampled).map((row) => row.length));
  const tests = testsOf(reading.chart.design);
  const body = rows.slice(headRow + 1, headRow + 1 + sampled);
  const columns: ColumnMeaning[] = [];
  for (let c = 0; c < width; c += 1) {
    yield;
    const cells = body.flatMap((row) => row[c] || []);
    const heading = (headRow >= 0 ? rows[headRow]?.[c] : '')?.replace(/\s+/g, ' ').trim() ?? '';
    columns.push(columnOf(c, heading, cells, tests));
  }
  placeRepeated(columns);
  placeText(columns, body, headRow >= 0);
  for (const column of columns) {
    const answer = reading.answers[`column.${column.index}`] as Meaning | undefined;
    if (answer && meanings.includes(answer)) Object.assign(column, { meaning: answer, sure: 1, why: 'So it was answered.' });
  }
  return { headRow, title, columns };
}

/** The first row with the most headings that are known; two at least, and more than half of its cells. */
function headRowOf(rows: readonly string[][]): number {
  let best = { row: -1, known: 1 };
  for (const [r, row] of rows.slice(0, searched).entries()) {
    const cells = row.filter((cell) => cell !== '');
    const known = cells.filter((cell) => meaningOfHeading(cell) !== null && !/^\d+$/.test(cell)).length;
    if (known > best.known && known * 2 > cells.length) best = { row: r, known };
  }
  return best.row;
}

const freeText: readonly Meaning[] = ['name', 'location', 'goesTo', 'supply', 'lampKind', 'unused'];

function columnOf(c: number, heading: string, cells: readonly string[], tests: ReturnType<typeof testsOf>): ColumnMeaning {
  const index = c + 1;
  const said = heading === '' ? null : meaningOfHeading(heading);
  const told = meaningOfContent(cells, tests);
  if (!said) {
    // Bare figures below a heading that is not known, such as “Page”, say nothing.
    const figures = heading !== '' && (told?.meaning === 'number' || told?.meaning === 'column');
    const why = heading ? `“${heading}” is no heading that is known.` : 'It has no heading.';
    return { index, ...(told && !figures ? told : { meaning: 'unused', sure: 0.2, why }) };
  }
  const alternatives = otherwise[said.meaning] ?? [];
  const fitOf = (meaning: Meaning) => {
    const test = tests[meaning];
    return test ? shareOf(cells, test) : 0.6;
  };
  const own = fitOf(said.meaning);
  const other = alternatives.map((meaning) => ({ meaning, fit: fitOf(meaning) })).sort((a, b) => b.fit - a.fit)[0];
  if (other && other.fit > own && (tests[other.meaning] || own < 0.5)) {
    return {
      index,
      meaning: other.meaning,
      sure: said.sure * 0.9 * Math.max(other.fit, 0.6),
      why: `Its heading is “${heading}”, and its cells read as that.`,
    };
  }
  if (cells.length > 0 && own < 0.3 && !freeText.includes(said.meaning)) {
    const by = told && told.meaning !== said.meaning ? told : null;
    if (by && by.sure >= 0.5) return { index, ...by, why: `Its heading is “${heading}”, but: ${by.why}` };
    return { index, meaning: said.meaning, sure: said.sure * 0.5, why: `Its heading is “${heading}”; few of its cells read so.` };
  }
  return { index, meaning: said.meaning, sure: said.sure, why: `Its heading is “${heading}”.` };
}

/** What else a heading may mean, when the cells say so. */
const otherwise: Readonly<Partial<Record<Meaning, readonly Meaning[]>>> = {
  name: ['number'],
  number: ['name'],
  device: ['loadKind', 'driver', 'unused'],
  loadKind: ['device', 'lampKind'],
  pin: ['position'],
  header: ['pin'],
  position: ['pin'],
  column: ['columnWire', 'columnPin'],
  row: ['rowWire', 'rowPin'],
  location: [],
  line: ['wire', 'pin'],
  goesTo: ['location'],
  normally: ['device'],
  supply: ['nature'],
  amps: ['nature'],
  lampCount: ['name'],
  what: ['unused'],
  step: ['unused'],
};

/** "Wire" or "pin" behind a column or row heading belongs to it; a second one of small numbers is the row. */
function placeRepeated(columns: ColumnMeaning[]): void {
  let axis: 'column' | 'row' | null = null;
  const both =
    columns.some((c) => c.meaning === 'column' || c.meaning === 'columnWire') &&
    columns.some((c) => c.meaning === 'row' || c.meaning === 'rowWire');
  for (const column of columns) {
    if (column.meaning === 'column' || column.meaning === 'columnWire' || column.meaning === 'columnPin') axis = 'column';
    else if (column.meaning === 'row' || column.meaning === 'rowWire' || column.meaning === 'rowPin') axis = 'row';
    else if (both && axis && (column.meaning === 'wire' || column.meaning === 'pin')) {
      const meaning: Meaning = column.meaning === 'wire' ? `${axis}Wire` : `${axis}Pin`;
      if (columns.some((c) => c.meaning === meaning)) continue;
      Object.assign(column, { meaning, sure: column.sure * 0.9, why: `${column.why} It stands behind the ${axis}.` });
    }
  }
  if (columns.some((c) => c.meaning === 'positions' || c.meaning === 'pitch')) {
    for (const c of columns)
      if (c.meaning === 'row') Object.assign(c, { meaning: 'pinRows', why: `${c.why} It stands in a list of headers.` });
  }
  const guessed = columns.filter((c) => c.meaning === 'column' && c.sure < 0.5);
  const [first, second] = guessed;
  if (first && second && !columns.some((c) => c.meaning === 'row'))
    Object.assign(second, { meaning: 'row', why: `${second.why} The second such column.` });
}

/** Of columns without a meaning the one with the most different words is the name, the next one the location. */
function placeText(columns: ColumnMeaning[], body: readonly string[][], headed: boolean): void {
  const texts = columns
    .filter((c) => c.meaning === 'unused' && c.sure < 0.5)
    .map((column) => ({
      column,
      different: new Set(body.flatMap((row) => row[column.index - 1] || [])).size,
      letters: body.some((row) => /[a-z]{2}/i.test(row[column.index - 1] ?? '')),
    }))
    .filter((t) => t.letters)
    .sort((a, b) => b.different - a.different);
  const wanted: Meaning[] = headed ? ['name'] : ['name', 'location'];
  for (const meaning of wanted) {
    if (columns.some((c) => c.meaning === meaning)) continue;
    const next = texts.shift();
    if (next) Object.assign(next.column, { meaning, sure: 0.5, why: 'Text, different from row to row.' });
  }
}
