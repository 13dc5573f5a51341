/** What a connector plan gives. Made by `planConnector(chart, headerId, catalogue, stock)`. */

import type { Header } from '../chart/schema';
import type { WireEnd } from '../chart/types';
import type { Need } from '../parts/schema';
import type { CutKind } from './cut';
import type { FoundHere } from './found-here';
import type { JobShare } from './job-share';

export interface Problem {
  level: 'error' | 'warning';
  position?: number;
  message: string; // names the wire and the position
  mend: string;
}
/** One row of the positions table. */
export interface PlanRow {
  position: number;
  key: boolean;
  empty: boolean; // neither key nor wire
  wires: WireEnd[];
  found?: string[]; // colours that this machine has there instead of the chart's
  net: string;
  label: string; // "row 6", "key", "not used"
  goesTo: string;
  /** Equivalent gauge of all wires together, not rounded; the wire's own gauge when there is one. */
  equivalentAwg: number | null;
  terminal: { part: string; name: string; stripMm: number } | null;
  /** A short new wire that the terminal could be crimped to; null where none is of use or none fits. */
  pigtail: Pigtail | null;
  problems: Problem[];
}
/** A short stranded wire between the terminal and the harness wires, joined to them by a splice outside the housing. */
export interface Pigtail {
  /** No terminal takes the wires; two wires fit only with a remark; the wire may be too short once it is cut back. */
  why: 'fits-none' | 'two-wires' | 'length';
  chosen: boolean; // accepted: state `pigtail.<position>`
  awg: number;
  insulationMm: number; // about
  lengthMm: number;
  colour: string;
  terminal: { part: string; name: string; stripMm: number };
  splice: { part: string | null; name: string; onHand: number }; // part null: none in the catalogue takes these wires
  slackMm: number; // loose length the harness wires must have
}
/** What one position carries, held against what it may. All currents are in ampere. */
export interface LoadRow {
  position: number;
  wire: string; // "white/green 18 AWG"
  net: string;
  label: string;
  amps: number | null; // r.m.s., the worst of the positions that share the line; null: the chart does not say
  sharedBy: number; // positions of the line in this header
  terminalAmps: number | null; // rating after derating; null without a terminal
  derating: { loaded: number; factor: number } | null;
  wireAmps: number | null; // of the thinnest wire there; null: thinner than the table
  /** Out and back over the run, with the current while it is on; null where current or run is not known. `percent` of the line's volts. */
  drop: { volts: number; percent: number | null; metres: number } | null;
  fuse: { text: string; amps: number } | null;
  level: 'ok' | 'warning' | 'error' | 'unknown';
}
/** Positions that one line joins: they measure together, every other pair apart, but for the links. */
export interface Group {
  net: string;
  label: string;
  positions: number[];
}
/** Positions of different lines that connect by right, through something. */
export interface Link {
  positions: number[];
  why: string;
}
/** A store of charge on a line of this header, of its board, or of its loom. */
export interface Reservoir {
  net: string;
  label: string;
  microfarads: number;
  volts: number; // at its peak
  joules: number; // ½CV²
  live: boolean; // above 42.4 V (IEC 60335-1, 8.1.4)
  flagged: boolean; // live, or large at any voltage
  /** Seconds to 42.4 V and to 5 V through the bleeder that the chart names, if that is whole; null without one. An estimate only. */
  bleed: { ohms: number; toLimit: number; toFive: number } | null;
}
/** A destructive test of samples: least force for a wire by itself. */
export interface PullTest {
  awg: number;
  newtons: number;
  standard: string;
  /** The same wire in other tables, side by side. */
  beside: { standard: string; newtons: number }[];
}
/** Wires together in one terminal: each is pulled by itself, against the force for the smallest. */
export interface TogetherTest {
  position: number;
  wires: string;
  awg: number; // of the smallest
  newtons: number | null; // null: the table has none for it
}
export type HousingChoice =
  | { how: 'exact'; part: string; name: string; positions: number; onHand: number }
  | {
      how: 'cut';
      part: string;
      name: string;
      positions: number;
      from: number;
      lost: number;
      offcut: number;
      onHand: number;
      cut: 'sawn' | 'scored';
    }
  | { how: 'order'; part: string; name: string; positions: number }
  /** One of several that come from one strip. */
  | {
      how: 'shared';
      part: string;
      name: string;
      positions: number;
      from: number;
      onHand: number;
      cut: CutKind;
      share: JobShare;
    }
  | { how: 'none'; message: string; mend: string };
/** The new header of a plan that replaces it: same pitch, plating, rows and pins, exact or cut. */
export interface HeaderChoice {
  part: string | null; // null: none in the catalogue
  name: string;
  from: number;
  cut: CutKind | null;
  share?: JobShare; // planned with the others of a job
}
export interface Caution {
  id: string; // key into content/cautions.json
  title: string;
  text: string;
}
/** One step of the order of work; ticks are shared state under `tick.<id>`. */
export interface WorkStep {
  id: string; // stable: power-off, charge, batteries, photo, mark, cut, key, sample, pigtails, wires, continuity, groups, reseat, proof …
  title: string;
  detail: string;
  minutes: number;
}
export interface ConnectorPlan {
  header: Header;
  housingName: string; // A3P4
  /** Set of a half of an in-line connector: its title, its contacts, the half that it goes together with. */
  half: { title: string; contacts: 'pins' | 'sockets'; mate: string } | null;
  rows: PlanRow[];
  housing: HousingChoice;
  newHeader: HeaderChoice | null; // null: the header stays
  /** Set when the connectors of a page were planned together: the shares of the housing, and of the header if that is new. */
  job: { housing: JobShare | null; header: JobShare | null } | null;
  terminals: { part: string; name: string; fitted: number; spare: number; samples: number; total: number; onHand: number }[];
  keys: { positions: number[]; part: string | null; onHand: number };
  pullTests: PullTest[]; // by gauge, thickest first
  togetherTests: TogetherTest[];
  loads: LoadRow[];
  groups: Group[];
  links: Link[];
  reservoirs: Reservoir[];
  cautions: Caution[];
  asFound: FoundHere[]; // what this machine has otherwise than its manual, at this connector
  steps: WorkStep[];
  minutes: number;
  needs: Need[];
  problems: Problem[];
}
export type PlanResult = { ok: true; plan: ConnectorPlan } | { ok: false; message: string; mend: string };
