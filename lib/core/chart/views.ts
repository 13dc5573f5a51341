/**
 * The end views of a connector: four of a header and its housing, two of a half with pins in the middle of a cable. A header at the pin tips and its housing at the wire entry run the same way; the header from the
 * solder side and the housing at the contact openings are the mirror of that. A cable half with pins runs like a header at its tips, so at its
 * wire entry it is the mirror of the half that goes on it. Most swapped wires come from mixing them up.
 */
export const endViews = {
  H1: { name: 'Pin tips', part: 'Header', mirrored: false },
  H2: { name: 'Solder side', part: 'Header', mirrored: true },
  P1: { name: 'Wire entry', part: 'Housing', mirrored: false },
  P2: { name: 'Contact openings', part: 'Housing', mirrored: true },
  Q1: { name: 'Wire entry', part: 'Housing', mirrored: true },
  Q2: { name: 'Pin tips', part: 'Housing', mirrored: false },
} as const;
export type EndView = keyof typeof endViews;

/** Whether the wires come towards the reader, in front of the body. */
export const wiresInFront = (view: EndView): boolean => endViews[view].part === 'Housing' && endViews[view].name === 'Wire entry';

/** Positions 1…n from left to right as that view shows them. */
export function orderOf(positions: number, view: EndView): number[] {
  const order = Array.from({ length: positions }, (_, i) => i + 1);
  return endViews[view].mirrored ? order.reverse() : order;
}

/** `A3J4` → `A3P4`: the movable mate of a fixed connector (ASME Y14.44). */
export const housingName = (header: string) => header.replace('J', 'P');
