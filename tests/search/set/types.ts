/** What a repair was, apart from any words: the labels that relevance is graded by. */
import type { FaultClass } from '@/lib/core/diagnosis/classes';

export type Kind = 'switch' | 'load' | 'lamp';
export type Behaviour = 'dead' | 'sometimes' | 'always' | 'twice' | 'another' | 'wrong' | 'weak' | 'hot';
export type Extent = 'one' | 'line' | 'bank' | 'everything';
export type When = 'after-repair' | 'warm' | 'hit';
export type Side = 'left' | 'right';

export const roles = [
  'flipper',
  'sling',
  'bumper',
  'spinner',
  'outlane',
  'inlane',
  'drop-target',
  'target',
  'top-lane',
  'trough',
  'ramp',
  'orbit',
  'scoop',
  'coin-slot',
  'tilt',
  'start-button',
  'shooter-lane',
  'kickback',
  'knocker',
  'flasher',
  'illumination',
  'arrow-lamp',
  'bonus-lamp',
] as const;
export type Role = (typeof roles)[number];

/** One device as a chart of this set has it. */
export interface Device {
  role: Role;
  kind: Kind;
  side: Side | null;
  name: string; // as printed on the chart
  number: string; // as printed; empty for lamps
  lines: Line[];
}
export interface Line {
  net: string;
  colour: string; // base/stripe
  pin: string; // A1J2-4
}

export interface Situation {
  machine: string;
  design: string;
  role: Role;
  kind: Kind;
  side: Side | null;
  behaviour: Behaviour;
  extent: Extent;
  when: When | null;
  cause: FaultClass;
}

export interface Repair {
  id: string;
  situation: Situation | null; // null: a page that is no repair (a distractor)
  machine: string; // id
  title: string;
  complaint: string;
  notes: string;
  remedy: string;
  circuits: string[]; // numbers of the chart
  devices: Device[]; // the same, derived from the chart; lamps too
  place: string; // pin at fault, A2J1-4; else words or empty
  atFault: Line | null;
  cause: FaultClass | null;
  outcome: 'verified' | 'recurred' | 'unproved';
  on: string;
  by: string;
  minutes: number;
}

export type QueryKind = 'customer' | 'device' | 'clue' | 'mixed' | 'typos' | 'negation';
/** What a query asks for; what it does not say is absent. */
export interface Asked {
  kind?: Kind;
  role?: Role;
  side?: Side;
  behaviour?: Behaviour;
  extent?: Extent;
  when?: When;
  machine?: string;
  cause?: FaultClass;
  not?: { cause?: FaultClass; role?: Role; when?: When };
  clue?: { wire: string } | { pin: string } | { number: string };
}
export interface Query {
  id: string;
  kind: QueryKind;
  text: string;
  asked: Asked;
}

/** Ways of saying things; one for tuning, one held out, without a phrase in common. */
export interface Words {
  behaviour: Record<Kind, Partial<Record<Behaviour, readonly string[]>>>; // said of one subject: "does nothing"
  extent: Record<Exclude<Extent, 'one'>, readonly string[]>; // {things} is filled in
  when: Record<When, readonly string[]>;
  devices: Record<Role, readonly string[]>; // as customers say them
  things: Record<Kind, readonly string[]>; // switches, lamps, coils as customers say them
  causes: Partial<Record<FaultClass, readonly string[]>>; // as a technician says them
  remedies: Partial<Record<FaultClass, readonly string[]>>;
  openings: readonly string[]; // {it} is the sentence
  asides: readonly string[]; // {other} is a device that has nothing to do with it
  ruledOut: readonly string[]; // {cause}
  chores: readonly { title: string; text: string }[]; // pages that are no repairs; {other}
  proved: readonly string[];
  recurred: readonly string[];
  not: readonly string[]; // "but not {it}"
}
