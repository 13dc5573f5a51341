/** What indexing a chart gives: everything that is derived from a machine and its board design. Made by `indexChart`. */
import type { BoardDesign, Deviation, Header, Illumination, Lamp, Load, Machine, Net } from './schema';

/** One wire in one header position, its defaults filled in from its net. */
export interface WireEnd {
  colour: string; // base/stripe
  awg: number;
  insulationMm: number; // given, or estimated from the gauge
  insulationKnown: boolean;
  strands?: number;
  strandAwg?: number;
  strandMm?: number;
  note?: string;
}
/** One header position of a line. */
export interface Tap {
  pin: string; // A3J4-7
  header: string; // A3J4
  position: number;
  net: string;
  wires: WireEnd[];
  /** First thing on the harness behind this tap, in words ("Splice S2, then 16 and 46"); empty when the chart does not say. */
  goesTo: string;
  /** Numbers of the switches behind this tap, in order from the board; empty when the chart does not say. */
  behind: string[];
  /** Numbers of the loads and of the matrix lamps behind this tap, in order from the board; empty when the chart does not say. */
  loads: string[];
  lamps: string[];
}
/** A half of an in-line connector: the one towards the boards, or the far one. */
export type Half = 'board' | 'far';
/** An in-line connector with its positions; like a header, so that what holds of plugs on headers holds of it. */
export interface Inline extends Omit<Header, 'beside'> {
  place: string;
  pinsOn: Half;
}
/** One position of an in-line connector: what goes through from one half to the other, and what is behind it. */
export interface Through extends Omit<Tap, 'wires'> {
  wires: Record<Half, WireEnd[]>;
}
/** A switch, matrix or direct, ready to show. */
export interface Circuit {
  number: string; // as printed
  name: string;
  kind: 'matrix' | 'direct';
  location: string;
  device: string;
  normally: 'open' | 'closed';
  diode: string; // empty for direct switches
  column?: number;
  row?: number;
  /** Net ids: [column, row] for a matrix switch, [input] for a direct one. */
  nets: string[];
  /** Further numbers that the manual prints for it. */
  also?: string[];
  /** Of an optical switch: the line that feeds its light, and the small board that shapes its signal. */
  emitterSupply?: string;
  optoBoard?: string;
}
export interface Chart {
  machine: Machine;
  design: BoardDesign;
  title: string; // "Lantern Regatta, no. 3"
  columns: number[]; // column numbers in order
  rows: number[];
  nets: ReadonlyMap<string, Net>;
  headers: ReadonlyMap<string, Header>;
  taps: ReadonlyMap<string, Tap[]>; // by net id, header order
  pins: ReadonlyMap<string, Tap>; // by pin name
  inline: ReadonlyMap<string, Inline>; // in-line connectors
  through: ReadonlyMap<string, Through>; // their positions, by name
  circuits: Circuit[]; // matrix switches by column then row, then direct ones
  circuit: ReadonlyMap<string, Circuit>; // by number, its further numbers too
  lamps: (Lamp & { number: string })[];
  loads: Load[];
  illumination: Illumination[];
  asFound: Deviation[]; // those that stand
}
/** One lint finding: where in the JSON, what is wrong, what to do. */
export interface Finding {
  level: 'error' | 'warning' | 'information';
  rule: string; // stable id, such as `line-without-tap`
  path: string; // "headers[2].pins[4]": always something that stands in the document
  message: string;
  mend: string;
}
