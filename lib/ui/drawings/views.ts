/** How a drawing speaks of the four end views; which run mirrored is decided in lib/core/chart/views.ts. */
import { positionLabel, rowsInView } from '@/lib/core/chart/positions';
import { type EndView, endViews } from '@/lib/core/chart/views';
import type { FaceView } from '@/lib/core/lookup/types';

/** Where one looks from. */
export const lookedAtFrom: Record<EndView, string> = {
  H1: 'looking at the pins',
  H2: 'from behind the board',
  P1: 'as it sits, plugged in',
  P2: 'turned over in the hand',
  Q1: 'as it lies, wires towards you',
  Q2: 'turned over in the hand',
};

/** `A3P4` for the housing views, `A3J4` for the header views. */
export const partName = (face: FaceView, view: EndView) => (endViews[view].part === 'Header' ? face.header.id : face.housing);

/** What the chart prints at a position; a dash for a key that it does not count. */
export const labelAt = ({ header }: Pick<FaceView, 'header'>, position: number): string => positionLabel(header, position) || '–';

/** True when the chart prints some position otherwise than it is counted. */
export const relabelled = (face: FaceView): boolean => face.positions.some((p) => labelAt(face, p.position) !== String(p.position));

/** Rows of pins as that view shows them, each from left to right. */
export const rowsOf = (face: FaceView, view: EndView): FaceView['positions'][] =>
  rowsInView({ ...face.header, positions: face.positions.length }, view).map((row) => row.flatMap((n) => face.positions[n - 1] ?? []));

/** Where position 1 is: "1 at the left", "1 at the right of row 1". */
export const firstAt = (face: FaceView, view: EndView): string =>
  `${labelAt(face, 1)} at the ${endViews[view].mirrored ? 'right' : 'left'}${face.header.rows === 2 ? ' of row 1' : ''}`;

/** Says the whole view: "Housing A3P4, wire entry, as it sits, plugged in: 11 positions, 1 at the left, key at 4." */
export function viewInWords(face: FaceView, view: EndView): string {
  const { name, part } = endViews[view];
  const at = (positions: FaceView['positions']) => positions.map((p) => labelAt(face, p.position)).join(' and ');
  const keys = face.positions.filter((p) => p.key);
  const lit = face.positions.filter((p) => p.lit);
  const rows = face.header.rows === 2 ? ' in two rows' : '';
  return [
    `${part} ${partName(face, view)}, ${name.toLowerCase()}, ${lookedAtFrom[view]}: ${face.positions.length} positions${rows}, ${firstAt(face, view)}`,
    keys.length ? `key at ${at(keys)}` : 'no key',
    lit.length ? `shown bold: ${at(lit)}` : '',
  ]
    .filter(Boolean)
    .join(', ');
}
