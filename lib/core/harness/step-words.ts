/** What the steps say of this plan in particular. */
import type { Group, PlanRow, Reservoir } from './types';

/** `4`, `4 and 9`, `4, 9 and 12`. */
export const lineWords = (items: readonly (string | number)[]): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;

/** Which reservoirs to measure, with their energy and, where the chart names a bleeder, how long it takes at best. */
export function chargeWords(reservoirs: readonly Reservoir[]): string {
  const measure =
    'With a meter; note the reading: counting seconds proves nothing. What stays up goes down through a resistor rated for it, never a screwdriver.';
  if (reservoirs.length === 0) return `The chart has no reservoir near by: look for one all the same. ${measure}`;
  const each = reservoirs.map((r) => {
    const bleed = r.bleed ? `, at best ${r.bleed.toFive.toFixed(0)} s to 5 V through ${r.bleed.ohms} Ω` : '';
    return `${r.label}, ${r.microfarads} µF, ${Number(r.volts.toFixed(1))} V, ${r.joules.toFixed(1)} J${bleed}`;
  });
  return `Across ${each.join('; ')}. ${measure}`;
}

/** "strip 3.2 mm", or which terminal wants which. */
export function stripWords(rows: readonly PlanRow[]): string {
  const lengths = new Map(rows.flatMap((r) => (r.terminal ? [[r.terminal.part, r.terminal.stripMm] as const] : [])));
  const [one] = lengths.values();
  if (one === undefined) return 'strip';
  if (new Set(lengths.values()).size === 1) return `strip ${one} mm`;
  return `strip ${[...lengths].map(([part, mm]) => `${mm} mm for ${part}`).join(', ')}`;
}

/** The expected grouping, parallel positions named by what stands printed `at` each. */
export function groupWords(groups: readonly Group[], at: (position: number) => string): string {
  const together = groups.filter((g) => g.positions.length > 1).map((g) => `${lineWords(g.positions.map(at))} (${g.label})`);
  const list =
    together.length > 0
      ? `Together: ${together.join('; ')}. Every other pair apart.`
      : 'Every position is a line of its own: every pair apart.';
  return `${list} Commons, coils, lamps and diodes connect by right; the list under “Groups” names them.`;
}
