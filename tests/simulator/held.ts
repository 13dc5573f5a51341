/** For tests: what a plain grid reads with switches held and faults present. */
import type { BoardDesign } from '@/lib/core/chart/schema';
import { grid } from './charts';
import { network } from './network';
import { type Scan, scan, shownBy } from './solve';
import type { Physical } from './types';
import { type BoardValues, boardValues } from './values';
import { type Wiring, wire } from './wiring';

export interface Held {
  shown: string[];
  /** Volts at the row while the column is strobed, by printed number. */
  volts(number: string): number;
  scan: Scan;
}
export interface HeldIn {
  size?: readonly [number, number]; // columns, rows; absent: 3 × 3
  matrix?: Partial<BoardDesign['matrix']>;
  values?: Partial<BoardValues>;
  held: readonly string[];
  faults?: readonly Physical[];
}
export function hold({ size = [3, 3], matrix = {}, values = {}, held, faults = [] }: HeldIn): Held {
  const w = gridOf(size, matrix, values);
  const net = network(w, faults);
  const pressed = new Set(held.map((n) => w.contact.get(n)!));
  const found = scan(net, [...pressed]);
  return {
    shown: shownBy(net, pressed).sort(),
    volts: (number) => {
      const c = w.contacts[w.contact.get(number)!]!;
      return found.volts[w.columns.indexOf(c.column)]![w.rows.indexOf(c.row)]!;
    },
    scan: found,
  };
}
const grids = new Map<string, Wiring>();
function gridOf(size: readonly [number, number], matrix: HeldIn['matrix'], values: Partial<BoardValues>): Wiring {
  const key = JSON.stringify([size, matrix, values]);
  const made = grids.get(key) ?? wire(grid(...size, matrix), { ...boardValues, ...values });
  grids.set(key, made);
  return made;
}
export const column = (n: number) => `switch-column.${n}`;
export const row = (n: number) => `switch-row.${n}`;
