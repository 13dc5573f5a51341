/** The positions table: one row for every position of a header, the key and the unused ones too. */
import { netTitle, pinOf } from '../chart/names';
import type { Header } from '../chart/schema';
import type { Chart, Tap } from '../chart/types';
import type { Stock, TerminalPart } from '../parts/schema';
import { equivalentAwg } from '../wire/gauge';
import { chooseTerminal, wireWords } from './terminal';
import type { PlanRow, Problem } from './types';

const unequalShare = 1.3; // parallel positions do not share a current equally (common practice, no source)

/** Rows 1…n in order. A row whose chart contradicts itself gets no terminal: nobody knows what is there. */
export const rowsOf = (chart: Chart, header: Header, terminals: readonly TerminalPart[], stock: Stock): PlanRow[] =>
  Array.from({ length: header.positions }, (_, i) => rowOf(chart, header, i + 1, terminals, stock));

function rowOf(chart: Chart, header: Header, position: number, terminals: readonly TerminalPart[], stock: Stock): PlanRow {
  const key = header.keys.includes(position);
  const pin = pinOf(header.id, position);
  const tap = chart.pins.get(pin);
  const contradictions = tap ? contradictionsOf(chart, header, tap, key) : [];
  const problems = [...contradictions, ...foundOtherwise(chart, pin, position)];
  const empty = { position, key, wires: [], net: '', goesTo: '', equivalentAwg: null, terminal: null };
  if (!tap) return { ...empty, empty: !key, label: key ? 'key' : 'not used', problems };
  const choice =
    contradictions.length > 0
      ? { terminal: null, problems: [] }
      : chooseTerminal(position, tap.wires, header, terminals, stock, ampsAt(chart, header, tap));
  return {
    position,
    key,
    empty: false,
    wires: tap.wires,
    net: tap.net,
    label: netTitle(chart, tap.net),
    goesTo: tap.goesTo,
    equivalentAwg: equivalentAwg(tap.wires.map((w) => w.awg)),
    terminal: choice.terminal && { part: choice.terminal.id, name: choice.terminal.name, stripMm: choice.terminal.stripMm },
    problems: [...problems, ...choice.problems],
  };
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
const foundOtherwise = (chart: Chart, pin: string, position: number): Problem[] =>
  chart.asFound
    .filter((d) => d.place.pin === pin)
    .map((d) => ({
      level: 'warning',
      position,
      message: `${pin}: found on ${d.on}: ${d.here}. The manual says: ${d.manual}.`,
      mend: 'Go by what is there: look before any wire is cut.',
    }));

/** The current of one position, in ampere: the line's, shared by its positions in this header. 0 when the chart does not say. */
function ampsAt(chart: Chart, header: Header, tap: Tap): number {
  const amps = chart.nets.get(tap.net)?.amps ?? 0;
  const share = header.pins.filter((p) => p.net === tap.net).length;
  return share > 1 ? (amps / share) * unequalShare : amps;
}
