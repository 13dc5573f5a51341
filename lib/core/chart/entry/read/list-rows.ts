/** The rows of a list by meaning: cells of a group that is written once are filled down. */

import type { Steps } from '../steps';
import type { ColumnMeaning, Meaning } from '../types';
import type { LineParts } from './lines';

export interface ListRows {
  rows: number[]; // indices of the table's rows that say something
  titles: number[]; // rows of one cell among them: a heading of a section
  /** Text of the first column of this meaning that has any in that row; empty when there is none. */
  text(row: number, meaning: Meaning): string;
  index(meaning: Meaning): number; // column from 1; 0: there is none
  filled: Meaning[]; // groups in which a blank was read as "the same as above"
  /** The cell taken apart; each text of a column once. */
  parts(row: number, meaning: Meaning, read: (text: string) => LineParts): LineParts;
}

/**
 * Written once for several rows, in merged cells; the others of a list belong to their key. `blank`: the least share of blank cells. A pin
 * is nowhere without its header; a switch whose column is blank may be placed by its number, so there a blank or two are no groups.
 */
const groups: readonly { key: Meaning; with: readonly Meaning[]; blank: number }[] = [
  { key: 'header', with: [], blank: 0 },
  { key: 'column', with: ['columnWire', 'columnPin'], blank: 0.5 },
  { key: 'row', with: ['rowWire', 'rowPin'], blank: 0.5 },
];
const nothing: LineParts = { pins: [], rest: '' };

export function* listRows(rows: readonly string[][], from: number, columns: readonly ColumnMeaning[]): Steps<ListRows> {
  const at = new Map<Meaning, number[]>();
  for (const { meaning, index } of columns) at.set(meaning, [...(at.get(meaning) ?? []), index - 1]);
  const used = columns.filter((c) => c.meaning !== 'unused').map((c) => c.index - 1);
  const indices: number[] = [];
  const titles: number[] = [];
  const headings = rows[from - 1];
  for (let r = from; r < rows.length; r += 1) {
    const cells = rows[r] ?? [];
    if (r % 500 === 499) yield;
    const said = used.filter((c) => (cells[c] ?? '') !== '').length;
    if (said === 0 || isRepeated(cells, headings)) continue;
    if (said === 1 && used.length > 2) titles.push(r);
    else indices.push(r);
  }
  const above = new Map<Meaning, string[]>();
  const filled: Meaning[] = [];
  const raw = (r: number, meaning: Meaning): string => {
    for (const c of at.get(meaning) ?? []) {
      const cell = rows[r]?.[c];
      if (cell) return cell;
    }
    return '';
  };
  for (const { key, with: others, blank } of groups) {
    yield;
    const cells = indices.map((r) => raw(r, key));
    if (!isGroup(cells, blank)) continue;
    filled.push(key);
    for (const meaning of [key, ...others]) above.set(meaning, []);
    let last = new Map<Meaning, string>();
    for (const [i, r] of indices.entries()) {
      if (i % 500 === 499) yield;
      if (raw(r, key) !== '') last = new Map([key, ...others].map((meaning) => [meaning, raw(r, meaning)]));
      for (const meaning of [key, ...others]) {
        const list = above.get(meaning);
        if (list) list[r] = raw(r, meaning) || (last.get(meaning) ?? '');
      }
    }
  }
  const cache = new Map<string, LineParts>();
  const text = (row: number, meaning: Meaning) => above.get(meaning)?.[row] ?? raw(row, meaning);
  return {
    rows: indices,
    titles,
    filled,
    text,
    index: (meaning) => (at.get(meaning)?.[0] ?? -1) + 1,
    parts(row, meaning, read) {
      const cell = text(row, meaning);
      if (cell === '') return nothing;
      const key = `${meaning} ${cell}`;
      const known = cache.get(key);
      if (known) return known;
      const parts = read(cell);
      cache.set(key, parts);
      return parts;
    },
  };
}

/** The headings printed again on the next page. */
const isRepeated = (cells: readonly string[], headings: readonly string[] | undefined): boolean =>
  headings !== undefined && cells.length > 1 && cells.every((cell, c) => cell === headings[c]);

/** Merged cells: the first row has one, others lack it, that share of all at least, and what is written changes from group to group. */
function isGroup(cells: readonly string[], blank: number): boolean {
  const written = cells.filter((cell) => cell !== '');
  const lacking = cells.length - written.length;
  return (
    cells[0] !== '' &&
    written.length > 0 &&
    lacking > 0 &&
    lacking >= blank * cells.length &&
    written.every((cell, i) => i === 0 || cell !== written[i - 1])
  );
}
