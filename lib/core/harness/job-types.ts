/** What a plan for many connectors gives. Made by `planHousings` and `planHeaders`. */
import type { Header } from '../chart/schema';
import type { Contacts } from './contacts';
import type { CuttingPlan } from './cutting';

/** A header, or a half of an in-line connector, whose housing, or which itself, is to be made. Ids are the caller's: two machines may both have an A3J4. */
export interface JobConnector {
  id: string;
  header: Header;
  contacts?: Contacts; // in its housing; absent: sockets
}
/** A loose piece of a part, left from earlier cuts. */
export interface Offcut {
  part: string;
  positions: number;
}
export interface JobStrip {
  part: string;
  name: string;
  positions: number;
  cut: 'sawn' | 'scored' | 'no';
  from: 'on hand' | 'offcut' | 'to buy';
  pieces: { id: string; from: number; to: number }[]; // positions of the strip, counted from its first
  cuts: { after: number; lost: number | null }[]; // in order: behind position `after`; the position the blade takes
  left: number; // positions behind the last cut
  kept: string | null; // "offcut of H-254-16, 4 positions": goes back to stock
  words: string; // the cuts in one line, for the bench
}
/** Where a connector comes from. */
export interface JobPlace {
  id: string;
  part: string;
  name: string;
  strip: number; // index into `strips`
  from: number;
  to: number;
  exact: boolean; // the whole strip, no cut
}
export interface JobRefusal {
  id: string;
  message: string;
  mend: string;
}
export interface JobBuy {
  part: string;
  name: string;
  supplier: string;
  packs: number;
  strips: number; // packs × pack size
  pence: number | null; // null: no price is known
}
/** One pitch (and plating) solved by itself. */
export interface JobGroup {
  pitchMm: number;
  plating: Header['plating'] | null; // null: housings
  cost: CuttingPlan['cost']; // parts without a price at a reckoned one
  unproven: CuttingPlan['unproven'];
}
export interface Job {
  strips: JobStrip[];
  connectors: JobPlace[]; // in the order given, without those refused
  refused: JobRefusal[];
  buy: JobBuy[];
  kept: Offcut[]; // offcuts that go back to stock
  unused: Offcut[]; // offcuts given whose part is not in the catalogue or does not belong here
  spendPence: number; // packs to buy whose price is known
  groups: JobGroup[];
  proven: boolean; // nothing better exists, in the order of costs of `planCuts`
}
