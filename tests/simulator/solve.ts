/** What the board reads: one d.c. solution for each strobe of a netlist with some contacts closed. */
import { printedNumber } from '@/lib/core/chart';
import { type Circuit, cutOut } from './circuit';
import { made, type Network } from './network';
import { type Source, voltages } from './newton';
import { ohms } from './values';
import type { Line, Wiring } from './wiring';

export interface Scan {
  /** Volts at the row inputs: strobe by strobe, row by row, true polarity. */
  volts: number[][];
  /** Cells that read closed: strobe index × rows + row index. */
  closed: Uint8Array;
  /** Direct switches that read closed, by index of the contact. */
  direct: ReadonlySet<number>;
  /** Volts at the watched nodes, strobe by strobe. */
  watched: number[][];
  /** Largest current in a column driver; beyond tens of milliamperes two drivers contend or one drives a short. */
  peakDriverAmps: number;
}
export interface ScanOptions {
  plugged?: boolean; // absent: true
  links?: readonly { a: number; b: number; ohms: number }[];
  diodes?: readonly { anode: number; cathode: number }[];
  /** Open contacts whose diode is needed, because a link meets it. */
  diodesOf?: readonly number[];
  /** Further lines that the links or diodes touch. */
  lines?: readonly number[];
  watch?: readonly { node: number; load?: { volts: number; ohms: number } }[];
}

/** Whether a contact conducts, with `pressed` its actuator. A detector that sees light conducts where it is normally closed. */
export function conducts(net: Network, index: number, pressed: boolean): boolean {
  const c = net.wiring.contacts[index]!;
  const state = net.switches.get(index) ?? made;
  if (state.contact !== 'good') return state.contact === 'closed';
  if (!c.opto) return c.normallyClosed !== pressed;
  const dark = state.light === 'dark' || net.dark.has(c.emitterSupply);
  const lit = state.light === 'lit' || (!pressed && !dark);
  return c.normallyClosed === lit;
}

/** Contacts that conduct, by index. */
export const conducting = (net: Network, pressed: ReadonlySet<number>): number[] =>
  net.wiring.contacts.flatMap((_, i) => (conducts(net, i, pressed.has(i)) ? [i] : []));

/** Levels of the design, in true volts. */
export function levels(w: Wiring) {
  const { matrix } = w.chart.design;
  const low = matrix.polarity === 'strobe-low';
  const rail = matrix.rowSupplyVolts;
  const on = matrix.driverVolts ?? 0.15;
  return {
    low,
    rail,
    driven: low ? on : rail - on,
    idle: low ? rail : 0, // of a pulled or driven column, and of a row that nothing closes
    threshold: low ? matrix.thresholdRatio * rail : (1 - matrix.thresholdRatio) * rail,
    directThreshold: matrix.thresholdRatio * rail,
    pullOhms: matrix.rowPullOhms ?? 1000,
  };
}

/** One scan of all columns, and the direct switches. `closed` lists contacts that conduct, by index. */
export function scan(net: Network, closed: readonly number[], options: ScanOptions = {}): Scan {
  const w = net.wiring;
  const level = levels(w);
  const lines = new Set([...net.always, ...(options.lines ?? [])]);
  for (const i of closed) {
    lines.add(w.contacts[i]!.column);
    lines.add(w.contacts[i]!.row);
  }
  lines.delete(-1);
  const boards = [...lines].filter((l) => w.lines[l]!.kind !== 'ground');
  const watch = options.watch ?? [];
  const circuit = cutOut(net, {
    lines,
    closed,
    plugged: options.plugged ?? true,
    keep: [...boards.map((l) => w.lines[l]!.board), ...watch.map((one) => one.node)],
    ...(options.links && { links: options.links }),
    ...(options.diodesOf && { diodesOf: options.diodesOf }),
    ...(options.diodes && { diodes: options.diodes }),
    supplyVolts: level.rail,
  });
  const steady: { node: number; volts: number; ohms: number }[] = [
    ...boards.flatMap((l) => steadySource(net, l)),
    ...watch.flatMap((one) => (one.load ? [{ node: one.node, ...one.load }] : [])),
  ];
  const solved = solver(net, circuit, steady, boards);
  const strobes = w.columns.map((_, i) => solved(w.columns[net.select(i)]));
  const resting = solved(undefined);
  const volts = strobes.map((at) => w.rows.map((row) => at.volts(w.lines[row]!.board) ?? level.idle));
  return {
    volts,
    closed: cellsOf(net, volts),
    direct: new Set(w.contacts.flatMap((c, i) => (c.kind === 'direct' && directReads(net, c.column, resting.volts) ? [i] : []))),
    watched: strobes.map((at) => watch.map((one) => at.volts(one.node) ?? Number.NaN)),
    peakDriverAmps: Math.max(0, ...strobes.map((at) => at.amps)),
  };
}

/** What a line's board end does at all times: pull of a receiver, pull of a column. */
function steadySource(net: Network, index: number): { node: number; volts: number; ohms: number }[] {
  const w = net.wiring;
  const line = w.lines[index]!;
  const level = levels(w);
  const { idle, floatReads } = w.chart.design.matrix;
  if (line.kind === 'column') return idle === 'pulled' ? [{ node: line.board, volts: level.idle, ohms: w.values.columnPullOhms }] : [];
  const rest = line.kind === 'direct' ? level.rail : level.idle;
  if (!net.pullOpen.has(index)) return [{ node: line.board, volts: rest, ohms: level.pullOhms }];
  return [{ node: line.board, volts: floatReads === 'closed' ? level.rail - rest : rest, ohms: ohms.bias }];
}

interface Solution {
  volts(node: number): number | undefined;
  amps: number;
}

/** Solves a strobe; components that hold no driven column are solved once. */
function solver(
  net: Network,
  circuit: Circuit,
  steady: readonly { node: number; volts: number; ohms: number }[],
  boards: readonly number[],
) {
  const w = net.wiring;
  const level = levels(w);
  const columns = boards.filter((l) => w.lines[l]!.kind === 'column');
  const known = new Map<number, { volts: Float64Array[]; amps: number }>();
  const drive = (line: number, on: boolean): { volts: number; ohms: number } | null => {
    const made = net.drivers.get(line) ?? w.values.driverOhms;
    if (net.stuckOn.has(line)) return { volts: level.driven, ohms: w.values.driverOhms };
    if (made === Number.POSITIVE_INFINITY) return null;
    if (on) return { volts: level.driven, ohms: made };
    return w.chart.design.matrix.idle === 'driven' ? { volts: level.idle, ohms: w.values.idleOhms } : null;
  };
  const solveWith = (driven: number, before?: { volts: Float64Array[]; amps: number }) => {
    const home = driven < 0 ? undefined : circuit.at(w.lines[driven]!.board)?.component;
    const sources: Source[][] = circuit.components.map(() => []);
    for (const one of steady) {
      const at = circuit.at(one.node);
      if (at) sources[at.component]!.push({ index: at.index, volts: one.volts, ohms: one.ohms });
    }
    const drives: { component: number; source: Source }[] = [];
    for (const line of columns) {
      const at = circuit.at(w.lines[line]!.board);
      const how = drive(line, line === driven);
      if (!at || !how) continue;
      const source = { index: at.index, ...how };
      drives.push({ component: at.component, source });
      sources[at.component]!.push(source);
    }
    const volts = circuit.components.map((part, i) =>
      before && i !== home ? before.volts[i]! : voltages(part, sources[i]!, w.values.diode),
    );
    const amps = drives.map(({ component, source }) => Math.abs((volts[component]![source.index]! - source.volts) / source.ohms));
    return { volts, amps: Math.max(0, ...amps) };
  };
  const idle = solveWith(-1);
  return (driven: number | undefined): Solution => {
    const line = driven !== undefined && columns.includes(driven) ? driven : -1;
    const found = line < 0 ? idle : (known.get(line) ?? solveWith(line, idle));
    if (line >= 0) known.set(line, found);
    return {
      volts: (node) => {
        const at = circuit.at(node);
        return at && found.volts[at.component]![at.index];
      },
      amps: found.amps,
    };
  };
}

const readsClosed = (low: boolean, volts: number, threshold: number) => (low ? volts < threshold : volts > threshold);

function cellsOf(net: Network, volts: readonly (readonly number[])[]): Uint8Array {
  const w = net.wiring;
  const level = levels(w);
  const rows = w.rows.length;
  const cells = new Uint8Array(w.columns.length * rows);
  const carries = w.chart.design.matrix.floatReads === 'carry-over';
  for (const [r, line] of w.rows.entries()) {
    const seen = volts.map((at) => readsClosed(level.low, at[r]!, level.threshold));
    for (const [c, now] of seen.entries()) {
      const carried = carries && net.pullOpen.has(line) && (seen.at(c - 1) ?? false);
      const forced = net.inputs.get(line);
      cells[c * rows + r] = Number(forced ? forced === 'closed' : now || carried);
    }
  }
  return cells;
}

function directReads(net: Network, index: number, volts: (node: number) => number | undefined): boolean {
  const forced = net.inputs.get(index);
  if (forced) return forced === 'closed';
  const level = levels(net.wiring);
  const line: Line | undefined = net.wiring.lines[index];
  return (line && volts(line.board) !== undefined ? volts(line.board)! : level.rail) < level.directThreshold;
}

/** Numbers that the switch test shows as active; a cell without a switch shows the number it would have. */
export function shownBy(net: Network, pressed: ReadonlySet<number>, options: ScanOptions = {}, also: readonly number[] = []): string[] {
  const found = scan(net, [...new Set([...conducting(net, pressed), ...also])], options);
  return activeOf(net.wiring, found);
}

/** Active numbers of a scan: closed, or open where the switch is normally closed. */
export function activeOf(w: Wiring, found: Scan): string[] {
  const cells = cellNumbers(w);
  const matrix = [...found.closed].flatMap((closed, i) => {
    const { numbers, bare } = cells[i]!;
    if (numbers.length === 0) return closed ? [bare] : [];
    return numbers.flatMap((n) => (Boolean(closed) !== n.normallyClosed ? [n.number] : []));
  });
  const direct = w.contacts.flatMap((c, i) => (c.kind === 'direct' && found.direct.has(i) !== c.normallyClosed ? [c.number] : []));
  return [...matrix, ...direct];
}

interface CellNumbers {
  numbers: { number: string; normallyClosed: boolean }[];
  bare: string;
}
const cellsKnown = new WeakMap<Wiring, CellNumbers[]>();
function cellNumbers(w: Wiring): CellNumbers[] {
  const found = cellsKnown.get(w);
  if (found) return found;
  const { chart } = w;
  const size = { columns: Math.max(...chart.columns), rows: Math.max(...chart.rows) };
  const cells = w.columns.flatMap((column, c) =>
    w.rows.map((row, r) => ({
      numbers: w.contacts.filter((one) => one.kind === 'matrix' && one.column === column && one.row === row),
      bare: printedNumber(chart.machine.numbering, chart.columns[c]!, chart.rows[r]!, size),
    })),
  );
  cellsKnown.set(w, cells);
  return cells;
}
