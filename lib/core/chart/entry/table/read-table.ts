/** A pasted table as rows of cells. */

import { finish, type Steps } from '../steps';
import { type Delimiter, delimiters, type Table, type TableFinding } from '../types';
import { delimited } from './delimited';
import { repairText, textOfBytes } from './encoding';

export const mostRows = 20_000;
export const mostCharacters = 4_000_000;
export const mostColumns = 200;

/** Reads a pasted block, or the bytes of a CSV file in whatever encoding. Never throws: what is odd is found by row and column. */
export const readTable = (source: string | Uint8Array): Table => finish(readTableInSteps(source));

/** The same in steps of a few milliseconds at most; the caller rests between them. */
export function* readTableInSteps(source: string | Uint8Array): Steps<Table> {
  const findings: TableFinding[] = [];
  const cut = source.length > mostCharacters;
  const given = cut ? source.slice(0, mostCharacters) : source;
  const repaired = typeof given === 'string' ? repairText(given) : textOfBytes(given, cut);
  yield;
  const delimiter = delimiterOf(repaired.text);
  const read = yield* delimited(repaired.text, delimiter, mostRows);
  const rows = yield* tidy(read.rows);
  const odd = yield* oddRows(rows);
  findings.push(...repaired.findings, ...capped(read.findings), ...capped(odd));
  if (cut || !read.whole) {
    const message = `The table is longer than ${mostRows} rows or ${mostCharacters} characters; the rest was left out.`;
    findings.push({ level: 'error', rule: 'too-long', row: rows.length, column: 0, message, mend: 'Paste it in parts.' });
  }
  if (rows.length === 0) {
    findings.push({
      level: 'error',
      rule: 'empty',
      row: 0,
      column: 0,
      message: 'There is no cell with text.',
      mend: 'Copy the cells again, with their headings.',
    });
  }
  return { delimiter, rows, findings };
}

const sampleLines = 40;

/** The delimiter that cuts the first rows into the most even table of two columns or more. */
export function delimiterOf(text: string): Delimiter {
  const sample = text.slice(0, 20_000);
  let best: { delimiter: Delimiter; score: number } = { delimiter: '\t', score: 0 };
  for (const delimiter of delimiters) {
    if (!sample.includes(delimiter)) continue;
    const rows = finish(delimited(sample, delimiter, sampleLines)).rows.filter((row) => row.some((cell) => cell.trim() !== ''));
    const widths = rows.map((row) => row.length);
    const usual = mode(widths);
    if (usual < 2) continue;
    const even = widths.filter((w) => w === usual).length / widths.length;
    // A tab is never typed within a cell; a comma often is.
    const weight = delimiter === '\t' ? 2 : delimiter === ',' ? 0.9 : 1;
    const score = weight * even * Math.min(usual, 4);
    if (score > best.score) best = { delimiter, score };
  }
  return best.delimiter;
}

function mode(values: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]?.[0] ?? 0;
}

/** Cells without the space around them; blank rows at the end and blank cells at the end of a row go, so that a row keeps its number. */
function* tidy(rows: string[][]): Steps<string[][]> {
  const clean: string[][] = [];
  for (const [i, row] of rows.entries()) {
    const cells = row.map((cell) =>
      /^[\s\u200b]|[\s\u200b]$|\u00a0/.test(cell) ? cell.replaceAll('\u00a0', ' ').replace(/^[\s\u200b]+|[\s\u200b]+$/g, '') : cell,
    );
    while (cells.length > 0 && cells.at(-1) === '') cells.pop();
    clean.push(cells);
    if (i % 200 === 199) yield;
  }
  while (clean.length > 0 && clean.at(-1)?.length === 0) clean.pop();
  return clean;
}

const longestCell = 2000;

/** What is odd about the rows; cells that lie too far out are cut off. */
function* oddRows(rows: string[][]): Steps<TableFinding[]> {
  const odd: TableFinding[] = [];
  const usual = Math.max(2, mode(rows.map((row) => row.length)));
  yield;
  const widest = rows.findIndex((row) => row.length > 4 * usual);
  const beyond = rows.findIndex((row) => row.length > mostColumns);
  if (beyond !== -1) {
    const message = `Row ${beyond + 1} has ${rows[beyond]?.length} cells; what lies beyond the ${mostColumns}th was left out.`;
    const mend = 'See whether its rows ran together, or paste it in parts.';
    odd.push({ level: 'error', rule: 'too-wide', row: beyond + 1, column: mostColumns, message, mend });
    for (const row of rows) row.length = Math.min(row.length, mostColumns);
  } else if (widest !== -1) {
    const message = `Row ${widest + 1} has ${rows[widest]?.length} cells; most have ${usual}.`;
    odd.push({ level: 'warning', rule: 'uneven', row: widest + 1, column: usual + 1, message, mend: 'See whether two rows ran together.' });
  }
  for (const [r, row] of rows.entries()) {
    if (r % 500 === 499) yield;
    const c = row.findIndex((cell) => cell.length > longestCell);
    if (c === -1) continue;
    const message = `This cell has ${row[c]?.length} characters.`;
    const mend = 'A quote before it may have swallowed the rows below.';
    odd.push({ level: 'warning', rule: 'long-cell', row: r + 1, column: c + 1, message, mend });
  }
  return odd;
}

const mostAlike = 20;

/** The first of many findings that are alike, and how many more there are. */
function capped(findings: readonly TableFinding[]): TableFinding[] {
  const next = findings[mostAlike];
  if (!next) return [...findings];
  const message = `There are ${findings.length - mostAlike} more like this.`;
  return [...findings.slice(0, mostAlike), { ...next, message }];
}
