/**
 * What every switch reads, electrically, with any set of faults and any set of closed contacts: the cheapest path, in diode drops, by which
 * the strobed level spreads from a driver to a row input. Cost stands for voltage: V ≈ Vlow + drops · VD.
 */

import type { Effect } from '../types';
import { type Layout, layOut } from './layout';
import type { Wiring } from './wiring';

/** 1 closed, 0 open, 0.5 either: a level on the edge, or two drivers that fight. */
export type Reading = 0 | 0.5 | 1;

const never = 99;

/** Readings of all that is shown, by its index there, for the contacts in `closed` (cell indices). */
export function readings(wiring: Wiring, effects: readonly Effect[], closed: ReadonlySet<number>): Reading[] {
  const layout = layOut(wiring, effects, closed);
  const reached = new Array<number>(layout.nodes).fill(never);
  const held = wiring.driven ? new Array<number>(layout.nodes).fill(never) : reached;
  const result = new Array<Reading>(wiring.shown.length).fill(0);
  let now = new Array<Reading>(wiring.rows.length).fill(0);
  let before = new Array<Reading>(wiring.rows.length).fill(0);
  const last = wiring.columns.length - 1;
  if (layout.carries.length > 0) strobe(wiring, layout, layout.strobed(last), reached, held, before);
  for (let slot = 0; slot < wiring.columns.length; slot++) {
    strobe(wiring, layout, layout.strobed(slot), reached, held, now);
    for (const { index, row } of wiring.ofColumn[slot] ?? []) {
      // A row that has lost its pull keeps what the column before left on it.
      result[index] = layout.carries.includes(row) ? (Math.max(now[row] ?? 0, before[row] ?? 0) as Reading) : (now[row] ?? 0);
    }
    [now, before] = [before, now];
  }
  for (const index of wiring.directCells) result[index] = layout.direct(index) ? 1 : 0;
  return result;
}

/** Readings of all rows while one column is strobed, into `rows`. The two lists of costs are filled anew. */
function strobe(wiring: Wiring, layout: Layout, column: number, reached: number[], held: number[], rows: Reading[]) {
  const { always, blocked, drivers, inputs, fixed } = layout;
  reached.fill(never);
  for (const node of always) if (node >= 0 && !blocked.includes(node)) reached[node] = 0;
  const driver = drivers[column];
  if (driver !== undefined && !blocked.includes(driver)) reached[driver] = 0;
  spread(layout, reached, false);
  if (wiring.driven) {
    // With push-pull drivers the idle columns hold the other level, and it spreads against the current.
    held.fill(never);
    for (const [c, node] of drivers.entries()) if (c !== column && !blocked.includes(node)) held[node] = 0;
    spread(layout, held, true);
  }
  const { sure, edge } = wiring.drops;
  const fought = wiring.driven && reached.some((drops, node) => drops < never && (held[node] ?? never) < never);
  const clean = fought ? withoutFight(layout, reached, held) : reached;
  for (let row = 0; row < inputs.length; row++) {
    const drops = reached[inputs[row] ?? -1] ?? never;
    const reads = drops <= sure ? ((clean[inputs[row] ?? -1] ?? never) <= sure ? 1 : 0.5) : drops === sure + 1 && edge ? 0.5 : 0;
    rows[row] = fixed.get(row) ?? reads;
  }
}

/** Costs of the nodes that the strobed level reaches without passing one that two drivers fight over. */
function withoutFight(layout: Layout, reached: readonly number[], held: readonly number[]): number[] {
  const isFought = (node: number) => (reached[node] ?? never) < never && (held[node] ?? never) < never;
  const cost = reached.map((drops, node) => (drops === 0 && !isFought(node) ? 0 : never));
  const passes = layout.passes.filter(({ from, to }) => !isFought(from) && !isFought(to));
  spread({ ...layout, passes }, cost, false);
  return cost;
}

/** Lets the level spread, to the least cost in drops at each node. */
function spread({ passes, blocked }: Layout, cost: number[], against: boolean) {
  for (let changed = true; changed; ) {
    changed = false;
    for (const pass of passes) {
      const a = against ? pass.to : pass.from;
      const b = against ? pass.from : pass.to;
      const through = (cost[a] ?? never) + pass.drops;
      if (through < (cost[b] ?? never) && !blocked.includes(b)) {
        cost[b] = through;
        changed = true;
      }
    }
  }
}
