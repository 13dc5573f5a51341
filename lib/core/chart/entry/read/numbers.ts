/** Printed numbers of a table against the numbering schemes that charts use. */
import { allCells, type Cell, type MatrixSize, printedNumber } from '../../numbering';
import type { Numbering } from '../../schema';
import { type At, ask, type Reading } from './reading';

export interface Numbered {
  number: string;
  at: At;
  cell?: Cell; // where the table says it stands
}

/** A number as it is compared: capitals, without signs and zeros in front. */
export const numberKey = (number: string): string =>
  number
    .trim()
    .toUpperCase()
    .replace(/^(?:SW(?:ITCH)?|NO|NR|LAMP|#|№)[\s.:#-]*/i, '')
    .replace(/^([A-Z]{0,3}-?)0+(?=[0-9A-F])/, '$1');

/** The cell of each number, as compared. A number of two cells is left out. */
export function cellsByNumber(scheme: Numbering, size: MatrixSize): Map<string, Cell> {
  const map = new Map<string, Cell | null>();
  for (const cell of allCells(size)) {
    const key = numberKey(printedNumber(scheme, cell.column, cell.row, size));
    map.set(key, map.has(key) ? null : cell);
  }
  return new Map([...map].flatMap(([key, cell]) => (cell ? [[key, cell] as const] : [])));
}

const orders = ['column-row', 'row-column', 'down-columns', 'along-rows'] as const;

/** Every scheme that charts use, numbers of this width and prefix. */
function schemes(width: number, prefix: string): Numbering[] {
  const more = { width, ...(prefix && { prefix }) };
  return orders.flatMap((order) =>
    ([10, 8, 16] as const).flatMap((radix) => {
      const base = { order, ...more, ...(radix !== 10 && { radix }) };
      if (order === 'down-columns' || order === 'along-rows') return [1, 0].map((first): Numbering => ({ ...base, first }));
      return [
        { ...base, first: 1 },
        { ...base, first: 1, base: { column: 0 as const, row: 0 as const } },
        { ...base, first: 1, base: { column: 0 as const, row: 1 as const } },
        { ...base, first: 1, base: { column: 1 as const, row: 0 as const } },
      ];
    }),
  );
}

const enough = 0.9; // share of the numbers that a scheme must print

/** The scheme of this table: the machine's own where it fits, else another that does, by question. Null while that is open. */
export function settleNumbering(reading: Reading, numbered: readonly Numbered[], size: MatrixSize): Numbering | null {
  const own = reading.chart.machine.numbering;
  const sample = distinct(numbered);
  if (sample.length === 0 || size.columns * size.rows === 0) return own;
  const share = (scheme: Numbering) => {
    const cells = cellsByNumber(scheme, size);
    const right = sample.filter((n) => {
      const cell = cells.get(numberKey(n.number));
      return cell && (!n.cell || (n.cell.column === cell.column && n.cell.row === cell.row));
    });
    return right.length / sample.length;
  };
  const ownShare = share(own);
  if (ownShare >= enough && reading.answers.numbering === undefined) return own;
  const digits = sample.map((n) => n.number.replace(/^\D*/, ''));
  const prefix = commonPrefix(sample.map((n) => n.number));
  const width = Math.min(
    3,
    Math.max(
      1,
      digits.some((d) => /^0\d/.test(d)) ? Math.max(...digits.map((d) => d.length)) : Math.min(...digits.map((d) => d.length || 1)),
    ),
  );
  const fitting = schemes(width, prefix)
    .map((scheme) => ({ scheme, share: share(scheme) }))
    .filter((s) => s.share >= enough && s.share > ownShare)
    .sort((a, b) => b.share - a.share);
  const best = fitting.filter((s) => s.share === fitting[0]?.share);
  const choices = unlike(
    best.map((b) => b.scheme),
    sample,
    size,
  );
  const [first] = choices;
  if (!first) return own;
  const example = sample[Math.min(sample.length - 1, 9)] ?? numbered[0];
  const number = example?.number ?? '';
  const answer = ask(reading, {
    id: 'numbering',
    text: 'How are the numbers of this table printed?',
    choices: [
      ...choices.map((scheme) => ({ value: keyOf(scheme), label: inWords(scheme, number, size) })),
      { value: 'own', label: `As the machine has it: ${inWords(own, number, size)}` },
    ],
    ...(choices.length === 1 && sample.some((n) => n.cell) && { guess: keyOf(first) }),
    why: `By the machine’s scheme ${Math.round(ownShare * 100)} % of these numbers fit.`,
    at: example?.at ?? { row: 1, column: 1 },
  });
  return answer === 'own' ? own : (choices.find((scheme) => keyOf(scheme) === answer) ?? null);
}

const mostSampled = 300;

function distinct(numbered: readonly Numbered[]): Numbered[] {
  const seen = new Map<string, Numbered>();
  for (const n of numbered) {
    if (n.number !== '' && !seen.has(n.number)) seen.set(n.number, n);
    if (seen.size >= mostSampled) break;
  }
  return [...seen.values()];
}

function commonPrefix(numbers: readonly string[]): string {
  const prefixes = new Set(numbers.map((n) => /^([A-Za-z]{1,3}-?)(?=\d)/.exec(n)?.[1] ?? ''));
  return prefixes.size === 1 ? ([...prefixes][0] ?? '') : '';
}

/** Schemes that place these numbers differently: one of each. */
function unlike(all: readonly Numbering[], sample: readonly Numbered[], size: MatrixSize): Numbering[] {
  const seen = new Set<string>();
  return all.filter((scheme) => {
    const cells = cellsByNumber(scheme, size);
    const places = sample.map((n) => {
      const cell = cells.get(numberKey(n.number));
      return cell ? `${cell.column}.${cell.row}` : '';
    });
    const key = places.join(' ');
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

const keyOf = ({ order, radix, first, base }: Numbering) => [order, radix ?? 10, first, base?.column ?? 1, base?.row ?? 1].join('.');

const orderWords: Readonly<Record<Numbering['order'], string>> = {
  'column-row': 'column, then row',
  'row-column': 'row, then column',
  'down-columns': 'counted down the columns',
  'along-rows': 'counted along the rows',
};

function inWords(scheme: Numbering, number: string, size: MatrixSize): string {
  const radix = scheme.radix === 8 ? ', octal' : scheme.radix === 16 ? ', hexadecimal' : '';
  const sequence = scheme.order === 'down-columns' || scheme.order === 'along-rows';
  const from = sequence
    ? ` from ${scheme.first}`
    : scheme.base
      ? `, lines from ${scheme.base.column ?? 1} and ${scheme.base.row ?? 1}`
      : '';
  const cell = cellsByNumber(scheme, size).get(numberKey(number));
  const example = cell ? `: ${number} is column ${cell.column}, row ${cell.row}` : '';
  return `${orderWords[scheme.order]}${from}${radix}${example}`;
}
