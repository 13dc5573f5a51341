/** What the fault finder speaks of: faults, what was seen, tests and their results. Everything is plain data. */
import type { FaultClass } from './classes';

/**
 * What one fault does to the wiring, electrically. Lines are net ids (`switch-column.4`), switches are numbers as printed.
 * Ground and supply are meant literally; what they do to a reading follows from the polarity of the board design.
 */
export type Effect =
  /** Nothing passes this element of a path. */
  | { does: 'cut'; element: string }
  /** The column driver never lets go: its column is strobed all the time. */
  | { does: 'driver-on'; line: string }
  | { does: 'to-ground'; line: string }
  | { does: 'to-supply'; line: string }
  /** Two lines touch. */
  | { does: 'join'; lines: readonly [string, string] }
  /** The column touches the row at this switch: contact and diode are both bypassed. */
  | { does: 'bypass-both'; switch: string }
  /** The contact never opens; its diode is still in series. */
  | { does: 'contact-closed'; switch: string }
  | { does: 'diode-bypassed'; switch: string }
  | { does: 'diode-reversed'; switch: string }
  /** The joint between contact and diode touches ground. */
  | { does: 'middle-to-ground'; switch: string }
  /** The row input reads the same whatever its row does. */
  | { does: 'input-reads'; line: string; reads: 'closed' | 'open' }
  | { does: 'pull-open'; line: string }
  /** The wires of two lines have changed places in the housing on this header. */
  | { does: 'exchanged'; lines: readonly [string, string]; header: string }
  /** A plug sits `by` places away from where it belongs on its header. */
  | { does: 'shifted'; header: string; by: number }
  /** A plug is on its header end for end. */
  | { does: 'turned'; header: string }
  /** The plug of a header sits on another one, whose own plug hangs loose. */
  | { does: 'elsewhere'; header: string; on: string }
  /** The plugs of two headers have changed places. */
  | { does: 'plugs-exchanged'; headers: readonly [string, string] }
  /** One address bit of the column decoder is stuck. */
  | { does: 'select-stuck'; bit: number; at: 0 | 1 };

export type Behaviour = 'hard' | 'intermittent' | 'timing';
/** One way in which one element can be at fault. Modes of one element exclude each other. */
export interface Mode {
  id: string; // unique in its field
  element: string; // id of the element
  weight: number; // odds before anything was seen, relative to the other modes
  group?: string; // housing, header or package: two faults in one of these are likelier together
  /** Modes with the same key have the same chances of every observation and every test, alone and in any pair. */
  key: string;
}
/** A mode that is present, for a test to show. */
export type Present = Pick<Mode, 'id' | 'element'>;
/** A place where a fault can be, in words. */
export interface Element {
  id: string; // "terminal A3J4-7"
  name: string; // "Terminal A3P4-7"
  detail: string; // "insulation-displacement"
  place: string; // what a fix record's place would say: "A3P4-7", "46", "U9"
  fault: FaultClass;
}

/** What was seen at the bench. Numbers are switch numbers as printed; "active" is what the machine's switch test shows. */
export type Observation =
  | { kind: 'presses'; number: string; presses: number; missed: number; how: 'hand' | 'ball' | 'tool'; others: readonly string[] }
  | { kind: 'rest'; number: string; reads: 'active' | 'inactive' }
  /** Several held closed together; `shown` lists everything that then reads closed. */
  | { kind: 'hold'; held: readonly string[]; shown: readonly string[] };
/** The result of a bench test. */
export interface Result {
  test: string; // id of the test
  saw: string; // id of its outcome
}

/** A test that somebody can do next. */
export interface Test {
  id: string; // "wiggle A3J4-7"
  title: string; // "Hold 46 closed and wiggle A3P4 at position 7."
  minutes: number;
  power: 'on' | 'off' | 'unplugged';
  hazard: 0 | 1 | 2 | 3; // 0 none, 1 low voltage on, 2 load rail live, 3 stored charge or high voltage
  outcomes: readonly { id: string; label: string }[]; // at least two
}
/** A test that the engine can weigh: the chance of each outcome when exactly these modes are present. */
export interface Probe extends Test {
  chance(modes: readonly Present[]): readonly number[];
  /** False when the presence of this mode changes nothing in the outcome, whatever else is present; absent: any may. */
  heeds?(mode: Present): boolean;
}
