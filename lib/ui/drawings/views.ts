/** How a drawing speaks of the four end views; which run mirrored is decided in lib/core/chart/views.ts. */
import { type EndView, endViews } from '@/lib/core/chart/views';
import type { FaceView } from '@/lib/core/lookup/types';

/** Where one looks from. */
export const lookedAtFrom: Record<EndView, string> = {
  H1: 'looking at the pins',
  H2: 'from behind the board',
  P1: 'as it sits, plugged in',
  P2: 'turned over in the hand',
};

/** `A3P4` for the housing views, `A3J4` for the header views. */
export const partName = (face: FaceView, view: EndView) => (endViews[view].part === 'Header' ? face.header.id : face.housing);

/** Says the whole view: "Housing A3P4, wire entry, as it sits, plugged in: 11 positions, 1 at the left, key at 4." */
export function viewInWords(face: FaceView, view: EndView): string {
  const { name, part, mirrored } = endViews[view];
  const keys = face.positions.filter((p) => p.key).map((p) => p.position);
  const lit = face.positions.filter((p) => p.lit).map((p) => p.position);
  return [
    `${part} ${partName(face, view)}, ${name.toLowerCase()}, ${lookedAtFrom[view]}: ${face.positions.length} positions, 1 at the ${mirrored ? 'right' : 'left'}`,
    keys.length ? `key at ${keys.join(' and ')}` : 'no key',
    lit.length ? `shown bold: ${lit.join(' and ')}` : '',
  ]
    .filter(Boolean)
    .join(', ');
}
