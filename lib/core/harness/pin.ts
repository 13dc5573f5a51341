/** Pins of a header against parts made for pins: shape, size, and how many sides a contact holds. Common practice, no source. */
import type { HeaderPart, TerminalPart } from '../parts/schema';

/** The pins of a header; what nobody wrote down matches anything. */
export interface Pins {
  pinShape?: 'square' | 'round';
  pinMm?: number; // side of a square pin, diameter of a round one
}
const sameSize = 0.05; // mm: 0.6 stands for 0.64, and 1.1 for 1.14

export const pinWords = ({ pinShape, pinMm }: Pins): string => [pinMm !== undefined && `${pinMm} mm`, pinShape].filter(Boolean).join(' ');

/** Is the part made for these pins? */
export function suitsPins(part: Pick<TerminalPart | HeaderPart, 'pin' | 'pinMm'>, { pinShape, pinMm }: Pins): boolean {
  const shape = part.pin === undefined || pinShape === undefined || part.pin === pinShape;
  const size = part.pinMm === undefined || pinMm === undefined || Math.abs(part.pinMm - pinMm) <= sameSize;
  return shape && size;
}

/** Do two headers take the same parts? */
export const samePins = (a: Pins, b: Pins): boolean => a.pinShape === b.pinShape && a.pinMm === b.pinMm;

/** A spring on one side meets a round pin on a single line: it takes two. */
export const holdsPins = ({ contact }: Pick<TerminalPart, 'contact'>, { pinShape }: Pins): boolean =>
  !(contact === 'one-sided' && pinShape === 'round');
