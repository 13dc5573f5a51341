/** Terminals warm each other: what one may carry falls with the number of loaded positions in its housing. */
import type { Header, Net } from '../chart/schema';
import type { Chart } from '../chart/types';
import type { TerminalPart } from '../parts/schema';

/** [positions loaded, share left], for parts without a table of their own. Common practice, no source; a data sheet goes before it. */
export const commonDerating: readonly (readonly [loaded: number, share: number])[] = [
  [3, 0.9],
  [7, 0.8],
  [13, 0.7],
  [25, 0.6],
];

/** Share of its rating, 0 to 1, that a terminal keeps among so many loaded positions. Never rises with their number. */
export const deratingOf = ({ derate = [...commonDerating] as [number, number][] }: Pick<TerminalPart, 'derate'>, loaded: number): number =>
  Math.min(1, ...derate.filter(([from]) => from <= loaded).map(([, share]) => share));

/** Ampere for one of so many loaded positions. */
export const deratedAmps = (terminal: Pick<TerminalPart, 'amps' | 'derate'>, loaded: number): number =>
  terminal.amps * deratingOf(terminal, loaded);

const carrying: ReadonlySet<Net['kind']> = new Set(['lamp-column', 'lamp-row', 'load', 'supply', 'illumination', 'ground']);

/** A line that warms its terminal: by its kind, or since the chart gives it a current. Switch lines carry milliampere. */
export const carries = (net: Pick<Net, 'kind' | 'amps'>): boolean => carrying.has(net.kind) || (net.amps ?? 0) > 0;

/** Positions of a header that warm their terminals. */
export const loadedPositions = (chart: Chart, header: Header): number =>
  new Set(
    header.pins.flatMap((p) => {
      const net = chart.nets.get(p.net);
      return net && carries(net) && p.position <= header.positions && !header.keys.includes(p.position) ? [p.position] : [];
    }),
  ).size;
