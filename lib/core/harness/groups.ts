/** Which positions of a header measure together: those of one line. And which connect by right through something, so that nobody hunts them. */
import { netTitle } from '../chart/names';
import type { Header, Net } from '../chart/schema';
import type { Chart } from '../chart/types';
import type { Group, Link } from './types';

/** One group a line, in the order of its first position. Every wired position of the header is in exactly one. */
export function groupsOf(chart: Chart, header: Header): Group[] {
  const groups = new Map<string, number[]>();
  const seen = new Set<number>(); // a pin that the chart has twice belongs to the first of its lines
  for (const { position, net } of [...header.pins].sort((a, b) => a.position - b.position)) {
    if (position > header.positions || seen.has(position)) continue;
    seen.add(position);
    groups.set(net, [...(groups.get(net) ?? []), position]);
  }
  return [...groups].map(([net, positions]) => ({ net, label: netTitle(chart, net), positions }));
}

/** Lines of this header that a meter finds connected although nothing is wrong: through coils, lamps, closed switches, or where grounds meet. */
export function linksOf(chart: Chart, groups: readonly Group[]): Link[] {
  const at = new Map(groups.map((g) => [g.net, g.positions]));
  const joined = (nets: readonly string[]) => [...new Set(nets.flatMap((n) => at.get(n) ?? []))].sort((a, b) => a - b);
  const link = (nets: readonly string[], why: string): Link[] =>
    new Set(nets.filter((n) => at.has(n))).size > 1 ? [{ positions: joined(nets), why }] : [];
  const kind = (of: (net: Net) => boolean) =>
    groups.flatMap((g) => (chart.nets.get(g.net) && of(chart.nets.get(g.net) as Net) ? [g.net] : []));

  const supplies = [...new Set(chart.loads.map((l) => l.supply))];
  return [
    ...supplies.flatMap((supply) => {
      const behind = chart.loads.filter((l) => l.supply === supply && at.has(l.net));
      const ohms = behind.flatMap((l) => l.ohms ?? []);
      const range = ohms.length > 0 ? `, ${span(ohms)} Ω each` : ', a few ohms each';
      return link([...behind.map((l) => l.net), supply], `through coils and ${netTitle(chart, supply)}${range}; diodes conduct one way`);
    }),
    ...chart.illumination.flatMap((g) =>
      link([g.net, g.back], `through the ${g.lamps} lamps of ${g.name}: take one leg off to measure apart`),
    ),
    ...link(
      kind((n) => n.kind === 'lamp-column' || n.kind === 'lamp-row'),
      'through lamps and their diodes, one way',
    ),
    ...closedSwitches(chart, at, link),
    ...link(
      kind((n) => n.kind === 'ground'),
      'grounds meet in the cabinet',
    ),
  ];
}

const span = (values: readonly number[]) => [...new Set([Math.min(...values), Math.max(...values)])].join(' to ');

/** Switches closed at rest: a column and a row through a diode, a direct input to ground. */
function closedSwitches(chart: Chart, at: ReadonlyMap<string, number[]>, link: (nets: readonly string[], why: string) => Link[]): Link[] {
  const grounds = [...at.keys()].filter((id) => chart.nets.get(id)?.kind === 'ground');
  return chart.circuits
    .filter((c) => c.normally === 'closed')
    .flatMap((c) => {
      const nets = c.kind === 'direct' ? [...c.nets, ...grounds] : c.nets;
      return c.nets.some((n) => at.has(n)) ? link(nets, `through ${c.number} ${c.name}, closed at rest`) : [];
    });
}
