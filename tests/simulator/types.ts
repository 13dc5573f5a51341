/** What the circuit simulator speaks of: places in the wiring, physical faults, questions a person can put to a machine, answers. */

/** Which side of a switch: its column or row line; for a direct switch its input line or its ground return. */
export type Side = 'column' | 'row' | 'input' | 'ground';

/** One element that current passes. Lines are net ids, pins as `A3J4-7`, `to` is a switch number or `splice S2`. */
export type Place =
  /** Column driver with its latch bit. */
  | { place: 'driver'; line: string }
  /** Receiver of a row or of a direct line. */
  | { place: 'input'; line: string }
  /** Board copper or socket between driver or receiver and the header joints. */
  | { place: 'trace'; line: string }
  /** Solder joint of a header pin. */
  | { place: 'joint'; pin: string }
  /** Terminal spring on the header pin. */
  | { place: 'pin'; pin: string }
  /** Terminal on its wire; `to` picks one wire of several by the first thing on it. */
  | { place: 'terminal'; pin: string; to?: string }
  /** Where the contacts of an in-line connector meet, and the crimp on either side. */
  | { place: 'inline'; pin: string }
  | { place: 'inline-crimp'; pin: string; half: 'board' | 'far' }
  /** Wire that arrives at `to` on the chain behind a pin. */
  | { place: 'segment'; pin: string; to: string }
  /** Where the incoming wire meets the lug: this switch and all beyond hang on it. */
  | { place: 'join'; pin: string; switch: string }
  /** Splice position: the incoming one, or that of the branch which starts at `to`. */
  | { place: 'splice'; pin: string; splice: string; to?: string }
  /** Tail of a lug: this switch only. */
  | { place: 'lug'; switch: string; side: Side }
  | { place: 'contact'; switch: string }
  | { place: 'diode'; switch: string }
  /** A chip: every driver or receiver of the nets whose `part` it is. */
  | { place: 'package'; part: string };

/** A fault as physics. Ground and supply are meant literally. A short is in the harness unless `where` says board. */
export type Physical =
  | { does: 'open'; at: Place }
  | { does: 'resistance'; at: Place; ohms: number }
  | { does: 'driver-on'; line: string }
  | { does: 'to-ground'; line: string; where?: Where }
  | { does: 'to-supply'; line: string; where?: Where }
  | { does: 'join'; lines: readonly [string, string]; where?: Where }
  /** Lug to lug: the column touches the row at this switch. */
  | { does: 'bypass-both'; switch: string }
  | { does: 'contact-closed'; switch: string }
  | { does: 'diode-bypassed'; switch: string }
  | { does: 'diode-reversed'; switch: string }
  | { does: 'middle-to-ground'; switch: string }
  | { does: 'input-reads'; line: string; reads: 'closed' | 'open' }
  | { does: 'pull-open'; line: string }
  /** Two wires of a housing have changed places; without `header`, in the first housing that carries both. */
  | { does: 'exchanged'; lines: readonly [string, string]; header?: string }
  /** The housing sits `by` positions on: its terminal t is on pin t + by. */
  | { does: 'shifted'; header: string; by: number }
  | { does: 'unplugged'; header: string }
  /** The housing is on end for end: its terminal t is on pin n + 1 − t. */
  | { does: 'turned'; header: string }
  /** The housing sits on another header, whose own is off. */
  | { does: 'elsewhere'; header: string; on: string }
  | { does: 'plugs-exchanged'; headers: readonly [string, string] }
  | { does: 'select-stuck'; bit: number; at: 0 | 1 }
  /** Optical switch: no light arrives, or the detector sees light for ever. */
  | { does: 'opto-dark'; switch: string; part: 'emitter' | 'detector' | 'window' | 'interface' }
  | { does: 'opto-lit'; switch: string }
  /** The line that feeds emitters has failed. */
  | { does: 'emitters-off'; supply: string };
export type Where = 'harness' | 'board';

/** A fault with its manner. Chances are those of the present session; a hard fault has none. */
export interface SimFault {
  what: Physical;
  /** Chance that it is there at one press: by hand, and in play. Both 0 in a quiet session. */
  comesAndGoes?: { hand: number; ball: number };
}

/** What a person can ask. Every switch is a printed number, every pin a header position. */
export type SimTest =
  | { kind: 'press'; switch: string; times: number; how?: 'hand' | 'ball' }
  | { kind: 'rest' }
  | { kind: 'hold'; switches: readonly string[] }
  /** All taps of both lines unplugged, column pin joined to row pin by a diode lead. `at` board: on the board side of both joints. */
  | { kind: 'bridge'; columnPin: string; rowPin: string; at?: 'pin' | 'board' }
  | { kind: 'jumper'; switch: string }
  | { kind: 'jumper-diode'; switch: string }
  /** Ohms from a header pin (connector on), its terminal (connector off) or the board side of its joint, to the switch's lug on that line. */
  | { kind: 'continuity'; pin: string; switch: string; from?: 'pin' | 'terminal' | 'board' }
  | { kind: 'diode'; switch: string }
  /** A switch behind the tap is held closed while the connector is wiggled at that position. */
  | { kind: 'wiggle'; pin: string; switch: string }
  | { kind: 'joint'; pin: string }
  /** A position of an in-line connector that was taken apart. */
  | { kind: 'parted'; pin: string }
  /** Harness unplugged, switches at rest: one line to ground, or two lines to each other. */
  | { kind: 'ohms'; lines: readonly [string] | readonly [string, string] }
  /** Harness unplugged: from the point between contact and diode of a matrix switch to ground. */
  | { kind: 'middle'; switch: string }
  | { kind: 'unplugged-rest' }
  | { kind: 'emitter'; switch: string }
  | { kind: 'plug'; header: string }
  | { kind: 'average'; line: string };

/** Numbers are those that the machine's switch test shows as active. */
export type SimOutcome =
  | { kind: 'press'; switch: string; presses: number; missed: number; others: readonly string[] }
  | { kind: 'rest' | 'hold' | 'unplugged-rest'; shown: readonly string[] }
  | { kind: 'bridge' | 'jumper' | 'jumper-diode'; registers: boolean }
  | { kind: 'continuity'; good: boolean; ohms: number }
  | { kind: 'diode'; reads: 'good' | 'short' | 'open' | 'reversed' | 'odd' }
  | { kind: 'wiggle'; saw: 'steady' | 'drops-out' | 'never-registers' }
  | { kind: 'joint'; looks: 'sound' | 'cracked' | 'dark' }
  | { kind: 'parted'; looks: 'sound' | 'dark' }
  | { kind: 'ohms' | 'middle'; reads: 'clear' | 'between' | 'short'; ohms: number }
  | { kind: 'emitter'; glows: boolean }
  | { kind: 'plug'; looks: 'as-charted' | 'unplugged' | 'shifted' | 'turned' | 'elsewhere' | 'plugs-exchanged' | 'exchanged' }
  | { kind: 'average'; volts: number };
