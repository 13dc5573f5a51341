/** The load check: what each position carries against its terminal, its wire, its fuse and the volts lost on the way. */
import { netTitle, pinOf } from '../chart/names';
import type { Header, Net } from '../chart/schema';
import type { Chart, WireEnd } from '../chart/types';
import type { TerminalPart } from '../parts/schema';
import { awgOfAreaMm2, conductorAreaMm2, ohmsPerMetre, safeAmps } from '../wire/gauge';
import { type Current, currentOf, fuseOf } from './current';
import { carries, deratedAmps, deratingOf, loadedPositions } from './derate';
import { wireWords } from './terminal';
import type { LoadRow, PlanRow, Problem } from './types';

/** Share of a line's volts that may be lost out and back, in percent (common practice, no source). */
export const dropLimitPercent = 5;
const hair = 1e-9;
const short = (value: number) => Number(value.toFixed(2));

/** Volts lost out and back over a run, one way in metres, in copper at 20 °C. */
export const dropVolts = (amps: number, awg: number, metres: number): number => amps * 2 * metres * ohmsPerMetre(awg);

/** The thinnest copper of a position: all of its current may run through that one wire. Tables go by the gauge that is marked. */
const thinnestOf = (row: PlanRow): number => Math.max(...row.wires.map((w) => w.awg), ...(row.pigtail?.chosen ? [row.pigtail.awg] : []));
const thinnestWire = (row: PlanRow): WireEnd | undefined => [...row.wires].sort((a, b) => conductorAreaMm2(a) - conductorAreaMm2(b))[0];

/** One row for every position whose line warms its terminal, in order. */
export function loadsOf(chart: Chart, header: Header, rows: readonly PlanRow[], terminals: readonly TerminalPart[]): LoadRow[] {
  const loaded = loadedPositions(chart, header);
  return rows.flatMap((row) => {
    const net = chart.nets.get(row.net);
    if (!net || row.wires.length === 0 || row.key || !carries(net)) return [];
    return [loadOf(chart, header, row, net, terminals.find((t) => t.id === row.terminal?.part) ?? null, loaded)];
  });
}

function loadOf(chart: Chart, header: Header, row: PlanRow, net: Net, terminal: TerminalPart | null, loaded: number): LoadRow {
  const current = currentOf(header, net);
  const wireAmps = safeAmps(thinnestOf(row));
  const checked = {
    position: row.position,
    wire: wireWords(row.wires),
    net: net.id,
    label: netTitle(chart, net.id),
    amps: current?.amps ?? null,
    sharedBy: current?.sharedBy ?? 1,
    terminalAmps: terminal && deratedAmps(terminal, loaded),
    derating: terminal && { loaded, factor: deratingOf(terminal, loaded) },
    wireAmps,
    drop: dropOf(net, row, current),
    fuse: fuseOf(chart, net.id),
  };
  return { ...checked, level: levelOf(checked) };
}

function dropOf(net: Net, row: PlanRow, current: Current | null): LoadRow['drop'] {
  const wire = thinnestWire(row);
  if (!current || !wire || net.runMetres === undefined) return null;
  const volts = dropVolts(current.whileOn, awgOfAreaMm2(conductorAreaMm2(wire)), net.runMetres);
  return { volts, percent: net.volts ? (volts / net.volts) * 100 : null, metres: net.runMetres };
}

type Checked = Omit<LoadRow, 'level'>;
const wireTooThin = ({ amps, wireAmps }: Checked) => amps !== null && amps > 0 && amps > (wireAmps ?? 0) + hair;
const terminalOver = ({ amps, terminalAmps }: Checked) => amps !== null && terminalAmps !== null && amps > terminalAmps + hair;
const dropTooLarge = ({ drop }: Checked) => (drop?.percent ?? 0) > dropLimitPercent + hair;
const unprotected = ({ fuse, wireAmps }: Checked) => fuse !== null && fuse.amps > (wireAmps ?? 0) + hair;

function levelOf(row: Checked): LoadRow['level'] {
  if (row.terminalAmps === null || terminalOver(row)) return 'error';
  if (wireTooThin(row) || dropTooLarge(row) || unprotected(row)) return 'warning';
  return row.amps === null ? 'unknown' : 'ok';
}

/** What the load check warns of. A terminal that is overloaded was refused when it was chosen. */
export const loadProblems = (header: Header, loads: readonly LoadRow[]): Problem[] => [
  ...loads.flatMap((row) => [...overWire(header, row), ...overDrop(header, row)]),
  ...unprotectedLines(header, loads),
];

const warn = (header: Header, row: LoadRow, message: string, mend: string): Problem => ({
  level: 'warning',
  position: row.position,
  message: `${pinOf(header.id, row.position)}, ${row.wire}: ${message}`,
  mend,
});

function overWire(header: Header, row: LoadRow): Problem[] {
  if (!wireTooThin(row)) return [];
  const bears =
    row.wireAmps === null ? 'its thinnest wire is too thin for any figure' : `its thinnest wire bears ${row.wireAmps} A in a loom`;
  return [
    warn(
      header,
      row,
      `${short(row.amps ?? 0)} A flow, and ${bears}.`,
      'Lay a thicker wire, or spread the line over more positions. Look for browned insulation first.',
    ),
  ];
}

function overDrop(header: Header, row: LoadRow): Problem[] {
  if (!row.drop || row.drop.percent === null || !dropTooLarge(row)) return [];
  const { volts, percent, metres } = row.drop;
  return [
    warn(
      header,
      row,
      `${volts.toFixed(2)} V, ${percent.toFixed(1)} % of its volts, are lost over ${metres} m out and back.`,
      `Lay a thicker wire, or a second one: ${dropLimitPercent} % is the most we allow (common practice). Measure it under load before you rewire.`,
    ),
  ];
}

/** One warning for each fuse and gauge, however many positions share it: the mend is in the fuse holder. */
function unprotectedLines(header: Header, loads: readonly LoadRow[]): Problem[] {
  const groups = new Map<string, LoadRow[]>();
  for (const row of loads.filter(unprotected)) {
    const key = `${row.fuse?.text} ${row.wireAmps}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return [...groups.values()].map(([first, ...more]) => {
    const row = first as LoadRow;
    const others = more.map((r) => `${pinOf(header.id, r.position)} ${r.wire}`).join('; ');
    return warn(
      header,
      row,
      `the fuse ${row.fuse?.text} does not protect ${row.wireAmps === null ? 'so thin a wire' : `its thinnest wire, which bears ${row.wireAmps} A in a loom`}${others && `; nor at ${others}`}.`,
      `Look what is in the holder and what the manual says${row.wireAmps === null ? '' : `: at most ${row.wireAmps} A protects this wire for certain`}. Never fit a larger fuse; lay a new run in thicker wire.`,
    );
  });
}
