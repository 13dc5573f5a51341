/** Where a plug goes on although it does not belong there: shifted, turned round, or on another header. Pitch, size, keys and lock decide. */
import { seatOf } from './positions';
import type { Header } from './schema';

/** A header, or an in-line connector. */
type Connector = Pick<Header, 'positions' | 'keys' | 'rows' | 'numbering' | 'lock' | 'pitchMm' | 'pinMm' | 'pinShape'>;

/** Where the terminal of a position comes to sit; null beyond the end of the header. */
export type Placing = (position: number) => number | null;

type Along = Pick<Header, 'positions' | 'keys' | 'rows' | 'numbering'>;

/** One place along the row, `by` up or down. */
export const shifted = (header: Along, by: number): Placing => placing(header, ({ row, along }) => ({ row, along: along + by }));

/** End for end. With two rows they change places as well. */
export function turned(header: Along): Placing {
  const length = header.rows === 2 ? Math.ceil(header.positions / 2) : header.positions;
  return placing(header, ({ row, along }) => ({ row: header.rows === 2 ? (row === 1 ? 2 : 1) : row, along: length + 1 - along }));
}

type Seat = ReturnType<typeof seatOf>;
function placing(header: Along, to: (seat: Seat) => Seat): Placing {
  const positions = Array.from({ length: header.positions }, (_, i) => i + 1);
  const at = new Map(positions.map((p) => [keyOf(seatOf(header, p)), p]));
  return (position) => at.get(keyOf(to(seatOf(header, position)))) ?? null;
}
const keyOf = ({ row, along }: Seat) => `${row} ${along}`;

/** A keyed position of the plug goes where no pin stands, or beyond the end. */
const passes = (plug: readonly number[], cut: readonly number[], place: Placing): boolean =>
  plug.every((key) => {
    const at = place(key);
    return at === null || cut.includes(at);
  });

/** The keys of both halves: positions plugged in the housing, and positions whose pin is cut. */
export interface Keys {
  plug: readonly number[];
  pins: readonly number[];
}

/** A plug goes on one place over unless a key or a shroud stops it; a friction wall does not. */
export const goesOnShifted = (header: Connector, { plug, pins }: Keys, by: number): boolean =>
  header.lock !== 'shroud' && header.positions > 1 && passes(plug, pins, shifted(header, by));

/** A plug goes on turned round unless a key, a friction wall or a shroud stops it. Two rows have a notch or a face to go by unless the chart denies it. */
export const goesOnTurned = (header: Connector, { plug, pins }: Keys): boolean =>
  header.positions > 1 &&
  (header.lock === 'none' || (header.lock === undefined && header.rows !== 2)) &&
  passes(plug, pins, turned(header));

/** A plug goes on the header of another when both are one size and pitch and its keys find no pin there. */
export const goesOn = (own: Connector, plug: readonly number[], other: Connector, pins: readonly number[]): boolean =>
  isAlike(own, other) && passes(plug, pins, (position) => position);

const isAlike = (a: Connector, b: Connector): boolean =>
  a.positions === b.positions &&
  (a.rows ?? 1) === (b.rows ?? 1) &&
  nearly(a.pitchMm, b.pitchMm) &&
  (a.pinMm === undefined || b.pinMm === undefined || a.pinMm === b.pinMm) &&
  (a.pinShape === undefined || b.pinShape === undefined || a.pinShape === b.pinShape);

/** 2.5 and 2.54 mm part by 0.04 mm a position: a short plug goes on all the same. */
const nearly = (a: number, b: number) => Math.abs(a - b) < 0.1;
