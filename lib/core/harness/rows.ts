/** The positions table: one row for every position of a header, the key and the unused ones too. */
import { foundAtPin, foundColours } from '../chart/found';
import { netTitle, pinOf } from '../chart/names';
import type { Deviation, Header } from '../chart/schema';
import type { Chart, Tap } from '../chart/types';
import type { Catalogue, Stock, TerminalPart } from '../parts/schema';
import { togetherAwg } from '../wire/gauge';
import { currentOf, fuseOf } from './current';
import { loadedPositions } from './derate';
import { pigtailFor, pigtailRemarks } from './pigtail';
import { chooseTerminal, wireWords } from './terminal';
import type { PlanRow, Problem } from './types';

/** What the rows are planned from. */
export interface RowContext {
  chart: Chart;
  header: Header;
  terminals: readonly TerminalPart[]; // of the chosen housing
  catalogue: Catalogue;
  stock: Stock;
  pigtails: ReadonlySet<number>; // positions whose pigtail was accepted
}

/** Rows 1…n in order. A row whose chart contradicts itself gets no terminal: nobody knows what is there. */
export function rowsOf(context: RowContext): PlanRow[] {
  const loaded = loadedPositions(context.chart, context.header);
  return Array.from({ length: context.header.positions }, (_, i) => rowOf(context, i + 1, loaded));
}

function rowOf(context: RowContext, position: number, loaded: number): PlanRow {
  const { chart, header } = context;
  const key = header.keys.includes(position);
  const pin = pinOf(header.id, position);
  const tap = chart.pins.get(pin);
  const contradictions = tap ? contradictionsOf(chart, header, tap, key) : [];
  const deviations = foundAtPin(chart, pin, tap?.net);
  const problems = [...contradictions, ...foundOtherwise(deviations, pin, position)];
  const found = foundColours(deviations);
  const empty = {
    ...(found.length > 0 && { found }),
    position,
    key,
    wires: [],
    net: '',
    goesTo: '',
    equivalentAwg: null,
    terminal: null,
    pigtail: null,
  };
  if (!tap) return { ...empty, empty: !key, label: key ? 'key' : 'not used', problems };
  const fitted = contradictions.length > 0 ? { terminal: null, pigtail: null, problems: [] } : fittedAt(context, tap, loaded);
  return {
    ...empty,
    empty: false,
    wires: tap.wires,
    net: tap.net,
    label: netTitle(chart, tap.net),
    goesTo: tap.goesTo,
    equivalentAwg: togetherAwg(tap.wires),
    terminal: fitted.terminal,
    pigtail: fitted.pigtail,
    problems: [...problems, ...fitted.problems],
  };
}

/** The terminal on the wires themselves, or on the pigtail that was accepted for them. */
function fittedAt(
  context: RowContext,
  { position, net: netId, pin, wires }: Tap,
  loaded: number,
): Pick<PlanRow, 'terminal' | 'pigtail' | 'problems'> {
  const { chart, header, terminals, stock } = context;
  const net = chart.nets.get(netId);
  const load = { amps: (net && currentOf(header, net)?.amps) ?? 0, loaded };
  const { terminal, problems } = chooseTerminal(position, wires, header, terminals, stock, load);
  const why = terminal === null ? 'fits-none' : wires.length > 1 && problems.length > 0 ? 'two-wires' : 'length';
  const fuseAmps = fuseOf(chart, netId)?.amps ?? null;
  const pigtail = pigtailFor({ ...context, position, wires, load, fuseAmps, why, chosen: context.pigtails.has(position) });
  if (pigtail?.chosen)
    return { terminal: pigtail.terminal, pigtail, problems: pigtailRemarks(pigtail, position, `${pin}, ${wireWords(wires)}`) };
  return { terminal: terminal && { part: terminal.id, name: terminal.name, stripMm: terminal.stripMm }, pigtail, problems };
}

function contradictionsOf(chart: Chart, header: Header, tap: Tap, key: boolean): Problem[] {
  const { pin, position } = tap;
  const name = `${pin}, ${wireWords(tap.wires)}`;
  const error = (message: string, mend: string): Problem => ({ level: 'error', position, message: `${name}: ${message}`, mend });
  const nets = header.pins.filter((p) => p.position === position).map((p) => p.net);
  return [
    ...(nets.length > 1
      ? [error(`the chart has this position ${nets.length} times, as ${nets.join(' and ')}.`, 'Mend the chart before any wire is cut.')]
      : []),
    ...(key
      ? [error('this is the key position, which stays empty.', 'Look at the header, then mend the key or the wire in the chart.')]
      : []),
    ...(chart.nets.has(tap.net)
      ? []
      : [error(`the chart does not list its line ${tap.net}, so its wire is a guess.`, 'Add the line to the chart.')]),
  ];
}

/** What this machine really has at the pin goes before the manual. */
const foundOtherwise = (deviations: readonly Deviation[], pin: string, position: number): Problem[] =>
  deviations.map((d) => ({
    level: 'warning',
    position,
    message: `${pin}: found on ${d.on}: ${d.here}${d.wire ? `, wire ${d.wire}` : ''}. The manual says: ${d.manual}.`,
    mend: 'Go by what is there: look before any wire is cut.',
  }));
