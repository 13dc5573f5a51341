/** A row of plain JSON as cells of a CSV file, and back, exactly. A blank cell is a field that is not there. */
import type { Json } from '../../rows';

type CellType = 'text' | 'number' | 'yes-no' | 'numbers' | 'texts';
export interface Field {
  head: string;
  path: string; // in the row; a dot goes into an object
  type: CellType;
}
type Row = { [key: string]: Json };

const forced = /^['=+\-@\t\r]|^$/;
/** Spreadsheets run a cell that begins with = + - @ as a formula; a mark in front makes it text, and says that an empty text is one. */
const markedText = (text: string): string => (forced.test(text) ? `'${text}` : text);
const plainText = (cell: string): string => (cell.startsWith("'") ? cell.slice(1) : cell);

const joinedTexts = (texts: readonly string[]): string =>
  texts.length === 0 ? 'none' : texts.map((t) => t.replace(/[\\;]/g, '\\$&').replace(/^none$/, '\\none')).join(';');
function splitTexts(cell: string): string[] {
  if (cell === 'none') return [];
  const texts = [''];
  for (let i = 0; i < cell.length; i += 1) {
    if (cell[i] === ';') texts.push('');
    else {
      if (cell[i] === '\\') i += 1;
      texts[texts.length - 1] += cell[i] ?? '';
    }
  }
  return texts;
}

/** The cell of a value. */
export function cellOf(value: Json | undefined, type: CellType): string {
  if (value === undefined || value === null) return '';
  if (type === 'numbers') return Array.isArray(value) && value.length > 0 ? value.join(' ') : 'none';
  if (type === 'texts') return markedText(joinedTexts((value as string[]) ?? []));
  if (type === 'yes-no') return value === true ? 'yes' : 'no';
  return type === 'number' ? String(value) : markedText(String(value));
}

/** The value of a cell; undefined for a blank one, null when it is not of that type. */
export function fromCell(cell: string, type: CellType): Json | undefined {
  if (cell === '') return undefined;
  switch (type) {
    case 'text':
      return plainText(cell);
    case 'texts':
      return splitTexts(plainText(cell));
    case 'yes-no':
      return cell === 'yes' ? true : cell === 'no' ? false : null;
    case 'number':
      return numberOf(cell);
    case 'numbers': {
      const numbers = cell === 'none' ? [] : cell.trim().split(/\s+/).map(numberOf);
      return numbers.includes(null) ? null : numbers;
    }
  }
}

const numberOf = (cell: string): number | null => (cell.trim() !== '' && Number.isFinite(Number(cell)) ? Number(cell) : null);

/** The value at a path of a row. */
export const pick = (row: Row, path: string): Json | undefined =>
  path
    .split('.')
    .reduce<Json | undefined>((at, key) => (typeof at === 'object' && at !== null && !Array.isArray(at) ? at[key] : undefined), row);

/** Puts a value at a path; the objects on the way are made. */
export function place(row: Row, path: string, value: Json): void {
  const keys = path.split('.');
  const last = keys.pop() ?? '';
  let at = row;
  for (const key of keys) {
    const next = at[key];
    const into = typeof next === 'object' && next !== null && !Array.isArray(next) ? next : {};
    at[key] = into;
    at = into;
  }
  at[last] = value;
}

/** One field of a CSV file, quoted where it must be (RFC 4180). */
const quoteCell = (cell: string): string => (/[",\r\n]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
export const csvOf = (rows: readonly (readonly string[])[]): string => rows.map((row) => `${row.map(quoteCell).join(',')}\r\n`).join('');
