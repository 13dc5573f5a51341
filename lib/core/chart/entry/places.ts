/** Rows of an entry grid: every place that the board design has, with what the machine says of it. */
import { indexChart } from '../build';
import { allCells, matrixSize, printedNumber } from '../numbering';
import type { BoardDesign, Deviation, DirectSwitch, Lamp, Load, Machine, MatrixSwitch, NetKind } from '../schema';
import type { Chart } from '../types';

/** A line as a place shows it; derived, to read only. */
export interface PlaceLine {
  id: string;
  wire: string; // base/stripe; empty when the design lacks the line
  pins: string[]; // A3J4-7
  part: string; // what drives or reads it
}
interface Place<T> {
  number: string; // as printed, or as it would be
  /** What can be edited; null: nobody has named the place. */
  given: T | null;
  /** Index in the machine's list; null like `given`. */
  index: number | null;
  asFound: Deviation[];
}
export interface MatrixPlace<T> extends Place<T> {
  column: number;
  row: number;
  columnLine: PlaceLine;
  rowLine: PlaceLine;
}
export interface LinePlace<T> extends Place<T> {
  line: PlaceLine;
}
export interface Places {
  switches: MatrixPlace<MatrixSwitch>[];
  direct: LinePlace<DirectSwitch>[];
  lamps: MatrixPlace<Lamp>[];
  loads: (LinePlace<Load> & { supply: PlaceLine | null })[];
}

/** Every place of the design in its order; things that stand outside it follow, so that nothing is hidden. */
export function placesOf(machine: Machine, design: BoardDesign): Places {
  const chart = indexChart(machine, design);
  return {
    switches: matrixPlaces(chart, 'switch', machine.switches),
    direct: linePlaces(chart, 'direct', machine.direct, (net) => `D${net}`),
    lamps: matrixPlaces(chart, 'lamp', machine.lamps),
    loads: linePlaces(chart, 'load', machine.loads, (net) => `L${net}`).map((place) => ({
      ...place,
      supply: place.given ? lineOf(chart, place.given.supply) : null,
    })),
  };
}

function lineOf(chart: Chart, id: string): PlaceLine {
  const net = chart.nets.get(id);
  return { id, wire: net?.colour ?? '', pins: (chart.taps.get(id) ?? []).map((tap) => tap.pin), part: net?.part ?? '' };
}

function matrixPlaces<T extends { column: number; row: number; number?: string | undefined }>(
  chart: Chart,
  matrix: 'switch' | 'lamp',
  things: readonly T[],
): MatrixPlace<T>[] {
  const { machine, design } = chart;
  const size = matrixSize(design, matrix);
  const line = (kind: NetKind, number: number) =>
    lineOf(chart, design.nets.find((n) => n.kind === kind && n.number === number)?.id ?? `${kind}.${number}`);
  const by = new Map<string, number[]>();
  for (const [i, { column, row }] of things.entries()) by.set(`${column} ${row}`, [...(by.get(`${column} ${row}`) ?? []), i]);
  const cells = [...allCells(size)];
  const inside = new Set(cells.map(({ column, row }) => `${column} ${row}`));
  for (const { column, row } of things) {
    if (inside.has(`${column} ${row}`)) continue;
    inside.add(`${column} ${row}`);
    cells.push({ column, row });
  }
  return cells.flatMap(({ column, row }) => {
    const indices: (number | null)[] = by.get(`${column} ${row}`) ?? [null];
    return indices.map((index): MatrixPlace<T> => {
      const given = index === null ? null : (things[index] ?? null);
      const number = given?.number ?? printedNumber(machine.numbering, column, row, size);
      return {
        number,
        column,
        row,
        columnLine: line(`${matrix}-column`, column),
        rowLine: line(`${matrix}-row`, row),
        given,
        index,
        asFound: matrix === 'switch' ? machine.asFound.filter((d) => d.place.switch === number) : [],
      };
    });
  });
}

function linePlaces<T extends { number: string; net: string }>(
  chart: Chart,
  kind: 'direct' | 'load',
  things: readonly T[],
  usual: (number: string) => string,
): LinePlace<T>[] {
  const { machine, design } = chart;
  const lines = design.nets.filter((n) => n.kind === kind);
  const known = new Set(lines.map((n) => n.id));
  const taken = new Set(things.map((t) => t.number));
  const row = (id: string, given: T | null, index: number | null, number: string): LinePlace<T> => {
    const pins = (chart.taps.get(id) ?? []).map((tap) => tap.pin);
    const here = ({ place }: Deviation) =>
      (kind === 'direct' && given !== null && place.switch === number) ||
      place.net === id ||
      (place.pin !== undefined && pins.includes(place.pin));
    return { number, line: lineOf(chart, id), given, index, asFound: machine.asFound.filter(here) };
  };
  const inside = lines.flatMap((net) => {
    const own = things.flatMap((thing, i) => (thing.net === net.id ? [row(net.id, thing, i, thing.number)] : []));
    const free = usual(String(net.number ?? net.id.split('.')[1] ?? ''));
    return own.length > 0 ? own : [row(net.id, null, null, taken.has(free) ? '' : free)];
  });
  return [...inside, ...things.flatMap((thing, i) => (known.has(thing.net) ? [] : [row(thing.net, thing, i, thing.number)]))];
}
