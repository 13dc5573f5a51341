/** Three faults at once, on request: the posterior widened by the triples among the likeliest modes. */
import type { Mode } from './types';
import type { Field, Weighed } from './weigh';

export const shortlisted = 24; // 2,024 triples

/**
 * P(i, j, k) ∝ ρ² κ… w_i w_j w_k. Only modes that are likely already are tried in threes; `apart` says which may not be put together
 * because their common chance is not known.
 */
export function withTriples(field: Field, weighed: Weighed, mayStand: (modes: readonly Mode[]) => boolean): Weighed {
  const list = [...field.modes]
    .sort((a, b) => (weighed.modes.get(b.id) ?? 0) - (weighed.modes.get(a.id) ?? 0) || (a.id < b.id ? -1 : 1))
    .slice(0, shortlisted);
  const near = (a: Mode, b: Mode) => (a.group !== undefined && a.group === b.group ? field.together : 1);
  const found: { modes: readonly [Mode, Mode, Mode]; mass: number }[] = [];
  for (const [i, a] of list.entries())
    for (const [j, b] of list.slice(i + 1).entries())
      for (const c of list.slice(i + j + 2)) {
        if (a.element === b.element || b.element === c.element || a.element === c.element || !mayStand([a, b, c])) continue;
        const prior = field.pair ** 2 * a.weight * b.weight * c.weight * near(a, b) * near(b, c) * near(a, c);
        found.push({ modes: [a, b, c], mass: prior * Math.exp(field.given([a, b, c]) - weighed.logTotal) });
      }
  const added = found.reduce((sum, { mass }) => sum + mass, 0);
  const scale = 1 / (1 + added);
  const widen = (shares: ReadonlyMap<string, number>, nameOf: (mode: Mode) => string) => {
    const wide = new Map([...shares].map(([name, share]) => [name, share * scale]));
    for (const { modes, mass } of found) for (const mode of modes) wide.set(nameOf(mode), (wide.get(nameOf(mode)) ?? 0) + mass * scale);
    return wide;
  };
  const best = [
    ...weighed.best.map((entry) => ({ ...entry, mass: entry.mass * scale })),
    ...found.map((entry) => ({ ...entry, mass: entry.mass * scale })),
  ];
  return {
    ...weighed,
    none: weighed.none * scale,
    modes: widen(weighed.modes, (mode) => mode.id),
    elements: widen(weighed.elements, (mode) => mode.element),
    only: new Map([...weighed.only].map(([name, share]) => [name, share * scale])),
    pairs: weighed.pairs * scale,
    logTotal: weighed.logTotal + Math.log1p(added),
    best: best.sort((a, b) => b.mass - a.mass).slice(0, weighed.best.length),
  };
}
