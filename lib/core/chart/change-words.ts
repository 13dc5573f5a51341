/** Changes of a chart in words for who reads its history. */
import type { Change } from './differences';
import { isOrder, type Json } from './rows';

export interface ChangeLine {
  label: string; // "Switch at column 4, row 6: name"
  was: string; // empty when it was not there
  is: string; // empty when it was taken out
}

const longest = 120; // letters of a value
const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

/** A value as a reader expects it: a name for what has one, plain values in a row, the rest counted. */
function said(value: Json | undefined): string {
  if (value === undefined) return '';
  if (value === null) return 'nothing';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value !== 'object') return String(value);
  const words = Array.isArray(value)
    ? value.length === 0
      ? 'none'
      : value.every((v) => typeof v !== 'object' || v === null)
        ? value.map(String).join(', ')
        : `${value.length} ${value.length === 1 ? 'entry' : 'entries'}`
    : fieldsOf(value);
  return words.length > longest ? `${words.slice(0, longest - 1)}…` : words;
}

/** Rows are known by name and number; of what has neither, the plain fields tell. */
function fieldsOf(row: { [key: string]: Json }): string {
  const plain = (key: string) => (typeof row[key] === 'string' || typeof row[key] === 'number' ? String(row[key]) : '');
  if (plain('here') !== '') return plain('here'); // what was found is known by what it is, not by its id
  const named = [plain('number') || plain('id'), plain('name'), plain('colour')].filter(Boolean);
  if (named.length > 0) return named.join(' ');
  return Object.keys(row)
    .filter((key) => plain(key) !== '')
    .map((key) => `${key} ${plain(key)}`)
    .join(', ');
}

/** One line for each change; of an order only that it is another, and only when rows were moved and none came or went. */
export function changeLines(changes: readonly Change[]): ChangeLine[] {
  const lists = new Set(changes.filter(({ path }) => path.at(-1)?.startsWith('=')).map(({ path }) => path.slice(0, -1).join(' ')));
  return changes.flatMap(({ path, label, before, after }): ChangeLine[] => {
    if (isOrder(path.at(-1) ?? ''))
      return lists.has(path.slice(0, -1).join(' '))
        ? []
        : [{ label: capital(label.replace(/:? ?order$/, '')), was: 'in one order', is: 'in another order' }];
    return [{ label, was: said(before), is: said(after) }];
  });
}

/** "Spinner became Spinner left", "added: 46 Spinner", "taken out: 46 Spinner". */
export const becameWords = ({ was, is }: ChangeLine): string =>
  was === '' ? `added: ${is}` : is === '' ? `taken out: ${was}` : `${was} became ${is}`;

/** The first few changes in one sentence, and how many more there are. */
export function changesInShort(changes: readonly Change[], most = 3): string {
  const lines = changeLines(changes);
  const rest = lines.length - most;
  const told = lines.slice(0, most).map((line) => `${line.label}: ${becameWords(line)}`);
  return [...told, ...(rest > 0 ? [`and ${rest} more`] : [])].join('; ');
}
