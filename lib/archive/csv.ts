/** Tables for spreadsheets: a cell that would run as a formula is text. */
import { csvOf } from '@/lib/core/chart/entry/files/codec';
import type { Tally } from '@/lib/core/parts/schema';
import type { StockFile } from './format';

/** Spreadsheets run a cell that begins with = + - @, a tab or a return, also after blanks and in full width. */
const runs = /^\s*[=+\-@\uff1d\uff0b\uff0d\uff20]|^[\t\r\n']/;
const words = (text: string): string => (runs.test(text) ? `'${text}` : text);
const pounds = (pence: number | null): string => (pence === null ? '' : (pence / 100).toFixed(2));
const bom = '\ufeff'; // without it a spreadsheet takes UTF-8 for something else

/** What is needed, on hand and to order, a line a part; money in the currency's own unit. */
export function tallyCsv({ lines, currency }: Tally): string {
  const head = [
    'Part',
    'Name',
    'Needed',
    'On hand',
    'Free',
    'Reserved for',
    'Short',
    'Packs',
    'To order',
    `Cost ${currency}`,
    'Supplier',
    'Place',
    'For',
    'Notes',
  ];
  const rows = lines.map((l) => [
    words(l.part ?? ''),
    words(l.name),
    String(l.needed),
    l.onHand === null ? '' : String(l.onHand),
    l.onHand === null ? '' : String(Math.max(0, l.onHand - l.elsewhere)),
    words(l.holders.map(({ title, pieces }) => `${pieces} ${title}`).join('; ')),
    String(l.short),
    String(l.packs),
    String(l.toOrder),
    pounds(l.costPence),
    words(l.supplier),
    words(l.place),
    words(l.from.join('; ')),
    words(l.notes.join('; ')),
  ]);
  return bom + csvOf([head, ...rows]);
}

export const stockCsv = (moves: StockFile, nameOf: (member: string) => string): string =>
  bom +
  csvOf([
    ['When', 'Part', 'What', 'Pieces', 'Reserved', 'Why', 'Page', 'Who'],
    ...moves.map((m) => [
      m.at,
      words(m.part),
      m.kind,
      String(m.quantity),
      String(m.held),
      words(m.reason),
      m.page ?? '',
      m.by ? words(nameOf(m.by)) : '',
    ]),
  ]);
