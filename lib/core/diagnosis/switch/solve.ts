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

/** Readings of all switches by cell index, for the contacts in `closed` (cell indices). */
export function readings(wiring: Wiring, effects: readonly Effect[], closed: ReadonlySet<number>): Reading[] {
  const layout = layOut(wiring, effects, closed);
  const reached = new Array<number>(layout.nodes);
  const held = new Array<number>(layout.nodes);
  const slots = wiring.columns.map((_, slot) => strobe(wiring, layout, layout.strobed(slot), reached, held));
  return wiring.cells.map(({ column, row }, index): Reading => {
    if (column < 0) return layout.direct(index) ? 1 : 0;
    const now = slots[column]?.[row] ?? 0;
    // A row that has lost its pull keeps what the column before left on it.
    return layout.carries.has(row) ? (Math.max(now, slots[column - 1]?.[row] ?? 0) as Reading) : now;
  });
}

/** Readings of all rows while one column is strobed. The two lists of costs are filled anew. */
function strobe(wiring: Wiring, layout: Layout, column: number, reached: number[], held: number[]): Reading[] {
  reached.fill(never);
  start(layout, reached, layout.always);
  start(layout, reached, layout.drivers.slice(column, column + 1));
  spread(layout, reached, false);
  if (wiring.driven) {
    // With push-pull drivers the idle columns hold the other level, and it spreads against the current.
    held.fill(never);
    start(
      layout,
      held,
      layout.drivers.filter((_, c) => c !== column),
    );
    spread(layout, held, true);
  }
  return layout.inputs.map((node, row): Reading => {
    const fixed = layout.fixed.get(row);
    if (fixed !== undefined) return fixed;
    const drops = reached[node] ?? never;
    if (drops > wiring.drops.sure) return drops === wiring.drops.sure + 1 && wiring.drops.edge ? 0.5 : 0;
    return wiring.driven && (held[node] ?? never) < never ? 0.5 : 1;
  });
}

function start({ blocked }: Layout, cost: number[], nodes: readonly number[]) {
  for (const node of nodes) if (node >= 0 && !blocked.has(node)) cost[node] = 0;
}

/** Lets the level spread, to the least cost in drops at each node. */
function spread({ passes, blocked }: Layout, cost: number[], against: boolean) {
  for (let changed = true; changed; ) {
    changed = false;
    for (const pass of passes) {
      const a = against ? pass.to : pass.from;
      const b = against ? pass.from : pass.to;
      const through = (cost[a] ?? never) + pass.drops;
      if (through < (cost[b] ?? never) && !blocked.has(b)) {
        cost[b] = through;
        changed = true;
      }
    }
  }
}
