/** Numbers of switches, lamps and loads: each names one thing, and agrees with the numbering scheme. */
import { error, type Lint, rest, warning } from './finding';
import { cellOf, digitsRunOut, matrixSize, printedNumber } from './numbering';
import type { Machine } from './schema';
import type { Chart } from './types';

interface Numbered {
  number: string;
  name: string;
  path: string;
  cell?: string; // of a matrix: two in one cell are found by lint-switches.ts
}

export function* lintNumbers(chart: Chart): Lint {
  const { machine, design } = chart;
  const { numbering } = machine;
  const size = matrixSize(design);
  if (digitsRunOut(numbering, size)) {
    const above = (numbering.radix ?? 10) - 1;
    const message = `Numbers made of a digit a line cannot name a line above ${above}: 1 and 11 read like 11 and 1.`;
    yield error('digits-run-out', 'numbering.order', message, 'Choose a sequence, or check the number of lines.');
  }
  const printed = new Set(machine.switches.map((s) => s.number ?? printedNumber(numbering, s.column, s.row, size)));
  for (const [i, { number, name }] of machine.direct.entries()) {
    yield rest;
    if (!cellOf(numbering, number, size) || printed.has(number)) continue;
    const message = `${name} is numbered ${number}, which is a cell of the matrix.`;
    yield warning('direct-in-matrix', `direct[${i}].number`, message, 'Give direct switches numbers of their own, such as D1.');
  }
  for (const [kind, things] of [
    ['switch', numberedSwitches(machine, size)],
    ['lamp', chart.lamps.map((l, i) => ({ ...l, path: `lamps[${i}]`, cell: `${l.column} ${l.row}` }))],
    ['load', machine.loads.map((l, i) => ({ ...l, path: `loads[${i}].number` }))],
    ['string of lamps', machine.illumination.map((g, i) => ({ ...g, number: g.id, path: `illumination[${i}].id` }))],
  ] as const) {
    yield* repeated(kind, things);
  }
}

function numberedSwitches({ switches, direct, numbering }: Machine, size: ReturnType<typeof matrixSize>): Numbered[] {
  const own = [
    ...switches.map((s, i) => ({
      number: s.number ?? printedNumber(numbering, s.column, s.row, size),
      name: s.name,
      path: `switches[${i}]${s.number === undefined ? '' : '.number'}`,
      cell: `${s.column} ${s.row}`,
    })),
    ...direct.map((d, i) => ({ number: d.number, name: d.name, path: `direct[${i}].number` })),
  ];
  const further = (of: 'switches' | 'direct') =>
    (of === 'switches' ? switches : direct).flatMap((s, i) =>
      (s.also ?? []).map((number, k) => ({ number, name: s.name, path: `${of}[${i}].also[${k}]` })),
    );
  return [...own, ...further('switches'), ...further('direct')];
}

function* repeated(kind: string, things: readonly Numbered[]): Lint {
  const first = new Map<string, Numbered>();
  for (const thing of things) {
    yield rest;
    const before = first.get(thing.number);
    if (!before) first.set(thing.number, thing);
    else if (before.cell === undefined || before.cell !== thing.cell) {
      const message = `The ${kind} number ${thing.number} is on ${before.name} and on ${thing.name}.`;
      yield error('number-twice', thing.path, message, 'Give each a number of its own.');
    }
  }
}
