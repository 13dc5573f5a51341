/**
 * The four end views of a connector. Header at the pin tips and housing at the wire entry run the same way; header from the solder side
 * and housing into its contact openings are their mirror. (Geometry: two halves that mate face to face, each seen from both ends.)
 */
import type { FaceView } from '@/lib/core/lookup/types';

export const endViews = {
  H1: { name: 'Pin tips', part: 'header', from: 'looking at the pins', mirrored: false },
  H2: { name: 'Solder side', part: 'header', from: 'from behind the board', mirrored: true },
  P1: { name: 'Wire entry', part: 'housing', from: 'as it sits, plugged in', mirrored: false },
  P2: { name: 'Contact openings', part: 'housing', from: 'turned over in the hand', mirrored: true },
} as const;
export type EndView = keyof typeof endViews;

/** Indices 0…n−1 in the order they are seen, left to right. */
export const seenOrder = (n: number, view: EndView): number[] =>
  Array.from({ length: n }, (_, k) => (endViews[view].mirrored ? n - 1 - k : k));

/** `A3P4` for the housing views, `A3J4` for the header views. */
export const partName = (face: FaceView, view: EndView) => (endViews[view].part === 'header' ? face.header.id : face.housing);

/** Says the whole view: "Housing A3P4, wire entry, as it sits, plugged in: 11 positions, 1 at the left, key at 4." */
export function viewInWords(face: FaceView, view: EndView): string {
  const { name, part, from, mirrored } = endViews[view];
  const keys = face.positions.filter((p) => p.key).map((p) => p.position);
  const lit = face.positions.filter((p) => p.lit).map((p) => p.position);
  return [
    `${part === 'header' ? 'Header' : 'Housing'} ${partName(face, view)}, ${name.toLowerCase()}, ${from}: ${face.positions.length} positions, 1 at the ${mirrored ? 'right' : 'left'}`,
    keys.length ? `key at ${keys.join(' and ')}` : 'no key',
    lit.length ? `shown bold: ${lit.join(' and ')}` : '',
  ]
    .filter(Boolean)
    .join(', ');
}
