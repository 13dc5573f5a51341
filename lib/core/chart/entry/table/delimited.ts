/** Rows of delimited text: RFC 4180 with any delimiter, line breaks CR, LF or both, and quotes that were not meant as such. */
import type { Steps } from '../steps';
import type { Delimiter, TableFinding } from '../types';

const cellsAStep = 600;
const longestQuoted = 20_000; // characters; a quote that closes later than this was not meant as one

export interface Rows {
  rows: string[][];
  findings: TableFinding[];
  whole: boolean; // false: there was more than `most` rows
}

/** Reads every cell as it stands, its quotes taken off. */
export function* delimited(text: string, delimiter: Delimiter, most = Number.POSITIVE_INFINITY): Steps<Rows> {
  const rows: string[][] = [];
  const findings: TableFinding[] = [];
  const ends = new RegExp(delimiter === '|' ? '[|\\r\\n]' : `[${delimiter}\\r\\n]`, 'g');
  let row: string[] = [];
  let at = 0;
  let cells = 0;
  while (at < text.length) {
    const quoted = text[at] === '"' ? closing(text, at, delimiter) : null;
    if (text[at] === '"' && quoted === null) {
      const message = 'A quote opens a cell here and is never closed.';
      findings.push({
        level: 'warning',
        rule: 'open-quote',
        row: rows.length + 1,
        column: row.length + 1,
        message,
        mend: 'It was taken as part of the text: take it out, or close it.',
      });
    }
    let end: number;
    if (quoted !== null) {
      row.push(text.slice(at + 1, quoted).replaceAll('""', '"'));
      end = quoted + 1;
    } else {
      ends.lastIndex = at;
      end = ends.exec(text)?.index ?? text.length;
      row.push(text.slice(at, end));
    }
    cells += 1;
    if (text[end] === delimiter) {
      at = end + 1;
      if (at === text.length) row.push('');
    } else {
      rows.push(row);
      row = [];
      at = text[end] === '\r' && text[end + 1] === '\n' ? end + 2 : end + 1;
      if (rows.length >= most) return { rows, findings, whole: at >= text.length };
    }
    if (cells % cellsAStep === 0) yield;
  }
  if (row.length > 0) rows.push(row);
  return { rows, findings, whole: true };
}

/** Index of the quote that closes the one at `open`: what follows it is a delimiter or the end of the row. */
function closing(text: string, open: number, delimiter: Delimiter): number | null {
  for (let at = text.indexOf('"', open + 1); at !== -1 && at - open <= longestQuoted; at = text.indexOf('"', at + 1)) {
    const next = text[at + 1];
    if (next === '"') at += 1;
    else if (next === undefined || next === delimiter || next === '\r' || next === '\n') return at;
    else return null;
  }
  return null;
}
