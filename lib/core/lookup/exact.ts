/**
 * The clues that leave nothing to guess, as people usually write them: numbers, pins, connectors, lines, cells, names and wires. The index
 * holds each of them in lower case; the answer is worked out by the general reading the first time it is asked for and kept.
 */
import { netTitle } from '../chart/names';
import type { Chart } from '../chart/types';
import { formatWire, notations, type StripeOrder, splitColour } from '../wire/format';
import { stripeOrderOf } from './stripe-order';
import type { LookupResult } from './types';

/** By clue; null while nobody has asked for it. */
export type ExactIndex = Map<string, LookupResult | null>;

const indexes = new WeakMap<Chart, ExactIndex | null>();

/** The chart's index; null at the first call, for a chart that is asked one thing, such as that of a request, is not worth an index. */
export function exactIndex(chart: Chart): ExactIndex | null {
  const known = indexes.get(chart);
  if (known) return known;
  const index: ExactIndex | null = known === null ? new Map(exactClues(chart).map((clue) => [clue, null])) : null;
  indexes.set(chart, index);
  return index;
}

/** Every clue of the index, in lower case. */
export const exactClues = (chart: Chart): string[] => [...new Set(allClues(chart).map((clue) => clue.toLowerCase()))];

function allClues(chart: Chart): string[] {
  const order = stripeOrderOf(chart);
  return [
    ...chart.circuits.flatMap((c) => [
      ...['', 'sw', 'sw ', 'switch ', '#', 'no '].map((prefix) => prefix + c.number),
      c.name,
      ...(c.column !== undefined && c.row !== undefined ? cells(c.column, c.row) : []),
      ...crossed(
        c.nets.flatMap((net) => chart.nets.get(net)?.colour ?? []),
        order,
      ),
    ]),
    ...chart.loads.flatMap((l) => [l.number, `${l.kind} ${l.number}`, l.name]),
    ...chart.lamps.flatMap((l) => [`lamp ${l.number}`, l.name]),
    ...[...chart.headers.values()].flatMap(({ id, positions }) => connector(id, positions)),
    ...[...chart.inline.values()].flatMap(({ id, positions }) => inLine(id, positions)),
    ...[...chart.nets.values()].flatMap((net) =>
      net.kind === 'load' ? [] : [netTitle(chart, net.id), ...lineNames(net.kind, net.number)],
    ),
    ...[...new Set([...chart.nets.values()].map((net) => net.colour))].flatMap((colour) =>
      written(colour, order).filter((text) => text !== null),
    ),
  ];
}

function cells(column: number, row: number): string[] {
  const both = [
    [`column ${column}`, `row ${row}`],
    [`col ${column}`, `row ${row}`],
    [`col${column}`, `row${row}`],
    [`c${column}`, `r${row}`],
  ];
  return [...both.flatMap(([c, r]) => [`${c} ${r}`, `${r} ${c}`]), `c${column}r${row}`, `r${row}c${column}`];
}

function connector(header: string, positions: number): string[] {
  const housing = header.replace('J', 'P');
  const short = header.slice(header.indexOf('J'));
  const pins = Array.from({ length: positions }, (_, i) => i + 1).flatMap((n) => [
    ...[header, housing, short].map((name) => `${name}-${n}`),
    `${header} ${n}`,
    `${header} pin ${n}`,
    `${header}.${n}`,
  ]);
  return [header, housing, short, ...pins];
}

const inLine = (id: string, positions: number): string[] => [
  id,
  ...Array.from({ length: positions }, (_, i) => i + 1).flatMap((n) => [`${id}-${n}`, `${id} ${n}`, `${id} pin ${n}`, `${id}.${n}`]),
];

function lineNames(kind: string, number: number | undefined): string[] {
  const [, matrix, axis = ''] = /^(switch|lamp)-(column|row)$/.exec(kind) ?? [];
  if (!matrix || number === undefined) return [];
  const lamp = matrix === 'lamp' ? 'lamp ' : '';
  const names = axis === 'column' ? ['column ', 'col ', 'col', 'c'] : ['row ', 'row', 'r'];
  return names.map((name) => `${lamp}${name}${number}`);
}

/** A wire in every notation and with every usual separator; null where one cannot say it. */
function written(colour: string, order: StripeOrder): (string | null)[] {
  const { base, stripe } = splitColour(colour);
  const name = formatWire(base, stripe, 'names', order) ?? colour;
  return [...notations.map((notation) => formatWire(base, stripe, notation, order)), name.replace('/', '-'), name.replace('/', ' ')];
}

/** The two wires of a cell, in either order, both written alike. */
function crossed([one, two]: readonly string[], order: StripeOrder): string[] {
  if (one === undefined || two === undefined) return [];
  const other = written(two, order);
  return written(one, order).flatMap((a, i) => {
    const b = other[i];
    return a && b ? [`${a} ${b}`, `${b} ${a}`] : [];
  });
}
