/**
 * What every switch reads, electrically, with any set of faults and any set of closed contacts: the cheapest path, in diode drops, by which
 * the strobed level spreads from a driver to a row input. Cost stands for voltage: V ≈ Vlow + drops · VD.
 */
import { type Layout, layOut } from './layout';
import type { Effect } from './types';
import type { Wiring } from './wiring';

/** 1 closed, 0 open, 0.5 either: a level on the edge, or two drivers that fight. */
export type Reading = 0 | 0.5 | 1;

const never = 99;

/** Readings of all switches by cell index, for the contacts in `closed` (cell indices). */
export function readings(wiring: Wiring, effects: readonly Effect[], closed: ReadonlySet<number>): Reading[] {
  const layout = layOut(wiring, effects, closed);
  const slots = wiring.columns.map((_, slot) => strobe(wiring, layout, layout.strobed(slot)));
  return wiring.cells.map(({ column, row }, index): Reading => {
    if (column < 0) return layout.direct(index) ? 1 : 0;
    const now = slots[column]?.[row] ?? 0;
    // A row that has lost its pull keeps what the column before left on it.
    return layout.carries.has(row) ? (Math.max(now, slots[column - 1]?.[row] ?? 0) as Reading) : now;
  });
}

/** Readings of all rows while one column is strobed. */
function strobe(wiring: Wiring, layout: Layout, column: number): Reading[] {
  const driver = layout.drivers[column];
  const reached = spread(layout, driver === undefined ? layout.always : [...layout.always, driver], false);
  // With push-pull drivers the idle columns hold the other level, and it spreads against the current.
  const idle = wiring.driven ? layout.drivers.filter((_, c) => c !== column) : [];
  const held = idle.length > 0 ? spread(layout, idle, true) : [];
  return layout.inputs.map((node, row): Reading => {
    const fixed = layout.fixed.get(row);
    if (fixed !== undefined) return fixed;
    const drops = reached[node] ?? never;
    if (drops > wiring.drops.sure) return drops === wiring.drops.sure + 1 && wiring.drops.edge ? 0.5 : 0;
    return (held[node] ?? never) < never ? 0.5 : 1;
  });
}

/** Least cost, in drops, from any of these nodes to each node. */
function spread({ nodes, passes, blocked }: Layout, from: readonly number[], against: boolean): number[] {
  const cost = new Array<number>(nodes).fill(never);
  for (const node of from) if (node >= 0 && !blocked.has(node)) cost[node] = 0;
  for (let changed = true; changed; ) {
    changed = false;
    for (const pass of passes) {
      const [a, b] = against ? [pass.to, pass.from] : [pass.from, pass.to];
      const through = (cost[a] ?? never) + pass.drops;
      if (through < (cost[b] ?? never) && !blocked.has(b)) {
        cost[b] = through;
        changed = true;
      }
    }
  }
  return cost;
}
