/** A clue with a wire that the chart does not have: what it would fit if that wire were a faded one. Marked as a guess, never an answer. */
import type { Chart } from '../chart/types';
import { joinColour } from '../wire/format';
import type { Piece } from './clue';
import { usuallyTakenFor } from './faded';
import type { Candidate } from './types';
import { weigh } from './weigh';

/** Empty unless wires are all that the chart lacks of the clue, and each of them has a near one here that fits the rest. */
export function guessFaded(chart: Chart, read: readonly Piece[], unread: readonly Piece[]): Candidate[] {
  if (unread.length === 0 || unread.some((piece) => piece.is !== 'wire')) return [];
  const faded = unread.flatMap((piece) => (piece.is === 'wire' ? [asFaded(chart, piece)] : []));
  if (faded.some((piece) => piece.readings.length === 0)) return [];
  const { candidates, whole } = weigh(chart, [...read, ...faded]);
  return whole ? candidates.map((candidate) => ({ ...candidate, guess: true })) : [];
}

type WirePiece = Extract<Piece, { is: 'wire' }>;

function asFaded(chart: Chart, { text, readings }: WirePiece): WirePiece {
  const seen = readings.filter((r) => !r.protectiveEarth).flatMap(({ base, stripe, ordered }) => bothWays(base, stripe, ordered));
  return {
    text,
    is: 'wire',
    readings: seen.flatMap(({ base, stripe }) =>
      usuallyTakenFor(chart, base, stripe).map((wire) => {
        const [own = '', ownStripe] = wire.split('/');
        return {
          base: own,
          ...(ownStripe !== undefined && { stripe: ownStripe }),
          ordered: true,
          notation: 'names' as const,
          certain: false,
          insteadOf: joinColour(base, stripe),
        };
      }),
    ),
  };
}

const bothWays = (base: string, stripe: string | undefined, ordered: boolean): { base: string; stripe?: string }[] =>
  stripe !== undefined && !ordered
    ? [
        { base, stripe },
        { base: stripe, stripe: base },
      ]
    : [{ base, stripe }];
