/** What a connector plan gives. Made by `planConnector(chart, headerId, catalogue, stock)`. */
import type { Header } from '../chart/schema';
import type { WireEnd } from '../chart/types';
import type { Need } from '../parts/schema';

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
  net: string;
  label: string; // "row 6", "key", "not used"
  goesTo: string;
  /** Equivalent gauge of all wires together, not rounded; the wire's own gauge when there is one. */
  equivalentAwg: number | null;
  terminal: { part: string; name: string; stripMm: number } | null;
  problems: Problem[];
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
  | { how: 'none'; message: string; mend: string };
export interface Caution {
  id: string; // key into content/cautions.json
  title: string;
  text: string;
}
/** One step of the order of work; ticks are shared state under `tick.<id>`. */
export interface WorkStep {
  id: string; // stable: power-off, charge, batteries, photo, mark, cut, wires, key, continuity, groups, reseat, proof …
  title: string;
  detail: string;
  minutes: number;
}
export interface ConnectorPlan {
  header: Header;
  housingName: string; // A3P4
  rows: PlanRow[];
  housing: HousingChoice;
  terminals: { part: string; name: string; fitted: number; spare: number; samples: number; total: number; onHand: number }[];
  keys: { positions: number[]; part: string | null; onHand: number };
  pullTests: { awg: number; newtons: number; standard: string }[]; // minimum for a destructive sample, by gauge
  cautions: Caution[];
  steps: WorkStep[];
  minutes: number;
  needs: Need[];
  problems: Problem[];
}
export type PlanResult = { ok: true; plan: ConnectorPlan } | { ok: false; message: string; mend: string };
