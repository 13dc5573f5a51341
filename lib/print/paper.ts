/** Sheets of paper and the unit they are measured in. Everything in this room is in millimetres; only type sizes are in points. */

export const papers = {
  a4: { name: 'A4', widthMm: 210, heightMm: 297 }, // ISO 216
  letter: { name: 'Letter', widthMm: 215.9, heightMm: 279.4 }, // ANSI/ASME Y14.1: 8.5 in × 11 in
} as const;
export type Paper = keyof typeof papers;

/** Left free on every side: more than any common printer needs. */
export const marginMm = 14;

/** PDF points in a millimetre: 72 to the inch of 25.4 mm. */
export const pointsPerMm = 72 / 25.4;

/** A paper by its name in an address; null for any other. */
export const readPaper = (name: string | null): Paper | null => (name === null ? 'a4' : name === 'a4' || name === 'letter' ? name : null);
