/** What a lookup gives. Made by `lookup(chart, clue)`. */

import type { Deviation, Header, NetKind } from '../chart/schema';
import type { Circuit, Tap, Through, WireEnd } from '../chart/types';

/** A header as a drawing needs it: one entry a position, in order from position 1. */
export interface FaceView {
  header: Header;
  housing: string; // A3P4
  contacts?: 'pins'; // of a half of an in-line connector that has pins
  positions: { position: number; key: boolean; wires: WireEnd[]; net: string; label: string; lit: boolean; found?: string[] }[]; // found: colours that this machine has there instead
}
/** A line of a circuit with everything a bench needs. */
export interface LineView {
  net: string;
  kind: NetKind;
  title: string; // "Column 4"
  colour: string;
  part: string; // driven by / read by; may be empty
  does: 'driven by' | 'read by' | '';
  taps: Tap[];
  /** In-line connectors on the way, from the board outwards; of a circuit only those that its own wire passes. */
  through: (Through & { place: string })[];
  faces: FaceView[]; // one a header that carries the line
  asFound: Deviation[]; // that touch the line; within a circuit only those that touch the circuit too
}
export interface Sibling {
  number: string;
  name: string;
  shares: 'column' | 'row' | 'branch' | 'connector';
  /** What it clears when it answers, in one sentence. */
  clears: string;
}
export interface CircuitView {
  circuit: Circuit;
  lines: LineView[];
  /** Press these: the ones on each line that cut the fault in half, nearest first. */
  press: Sibling[];
  siblings: Sibling[];
  asFound: Deviation[];
}
/** One way to read a clue. */
export interface Candidate {
  kind: 'circuit' | 'line' | 'pin' | 'header' | 'lamp' | 'load';
  id: string; // switch number, net id, pin, header, lamp or load number
  title: string; // "46 Spinner", "Row 6", "A3J4-7"
  reasons: string[]; // 'name begins with “spinner”', 'grey/orange is row 6'
  score: number; // 0…1, for ranking only
  guess?: true; // the clue's wire is not in the chart; this one may be it, faded
}
export type LookupResult =
  | { outcome: 'empty' }
  /** `guesses`: what the clue would fit if a wire of it were a faded one of the chart; the advice names them too. */
  | { outcome: 'none'; clue: string; advice: string[]; guesses?: Candidate[] }
  | { outcome: 'several'; clue: string; candidates: Candidate[] }
  | {
      outcome: 'one';
      clue: string;
      candidate: Candidate;
      circuit?: CircuitView;
      line?: LineView;
      face?: FaceView;
      far?: FaceView;
      circuits: Circuit[];
    };
