/** Where the positions of a connector sit, and what the chart prints beside them. A position itself is always counted over every place. */
import type { Header } from './schema';
import { type EndView, orderOf } from './views';

type Shape = Pick<Header, 'positions' | 'keys' | 'rows' | 'numbering' | 'skipLetters' | 'keyCounted'>;

const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';

/** 1 → A, 2 → B …, the left-out letters skipped; after the capitals the small letters, then doubled ones. */
function letterOf(n: number, skipped: string): string {
  const capitals = [...alphabet].filter((letter) => !skipped.includes(letter));
  const letters = [...capitals, ...capitals.map((letter) => letter.toLowerCase())];
  const letter = letters[(n - 1) % letters.length] ?? '';
  return letter.repeat(Math.floor((n - 1) / letters.length) + 1);
}

const perRow = (header: Shape): number => (header.rows === 2 ? Math.ceil(header.positions / 2) : header.positions);

/**
 * What the chart prints beside a position: `7`, or a letter. A lettered connector of two rows has numbers on the first face and letters
 * on the second. Where keys are not counted, a key has no label (empty) and those after it move up by one.
 */
export function positionLabel(header: Shape, position: number): string {
  const keys = header.keyCounted === false ? header.keys : [];
  if (keys.includes(position)) return '';
  const start = header.numbering === 'lettered' && position > perRow(header) ? perRow(header) : 0;
  const number = position - start - keys.filter((key) => key > start && key < position).length;
  const lettered = header.numbering === 'lettered' && (header.rows !== 2 || start > 0);
  return lettered ? letterOf(number, header.skipLetters ?? '') : String(number);
}

/** Row (1 or 2) and place along it, from 1. Zigzag: odd positions in the first row, even ones in the second. */
export function seatOf(header: Shape, position: number): { row: 1 | 2; along: number } {
  if (header.rows !== 2) return { row: 1, along: position };
  if (header.numbering === 'zigzag') return { row: position % 2 === 1 ? 1 : 2, along: Math.ceil(position / 2) };
  const row = position > perRow(header) ? 2 : 1;
  return { row, along: row === 2 ? position - perRow(header) : position };
}

/** Positions row by row, each from left to right as that view shows them. */
export function rowsInView(header: Shape, view: EndView): number[][] {
  const along = orderOf(perRow(header), view);
  const positions = Array.from({ length: header.positions }, (_, i) => i + 1);
  const rows = header.rows === 2 ? [1, 2] : [1];
  return rows.map((row) => {
    const seats = new Map(positions.flatMap((p) => (seatOf(header, p).row === row ? [[seatOf(header, p).along, p] as const] : [])));
    return along.flatMap((place) => seats.get(place) ?? []);
  });
}
