/** What is wrong in a machine's chart, held against its board design. */
import { indexChart } from './build';
import { switchesOf } from './chain';
import { error, warning } from './finding';
import { lintColour } from './lint-design';
import { splitPin } from './names';
import { cellOf, matrixSize, printedNumber } from './numbering';
import type { BoardDesign, Machine, Net } from './schema';
import type { Chart, Finding } from './types';

/** Findings of a machine against the design it names. */
export function lintMachine(machine: Machine, design: BoardDesign): Finding[] {
  if (machine.design !== design.id) {
    const message = `The machine names the board design ${machine.design}, but was held against ${design.id}.`;
    return [error('other-design', 'design', message, 'Choose the design that the machine has.')];
  }
  const chart = indexChart(machine, design);
  return [...lintNumbers(chart), ...lintSwitches(chart), ...lintLines(chart), ...lintChains(chart), ...lintFound(chart)];
}

function* lintNumbers({ machine, design, circuits }: Chart): Generator<Finding> {
  const { numbering } = machine;
  const size = matrixSize(design);
  if (/column-row|row-column/.test(numbering.order) && Math.max(size.columns, size.rows) > 9) {
    const message = 'Numbers made of two digits cannot name a line above 9: 1 and 11 read like 11 and 1.';
    yield error('digits-run-out', 'numbering.order', message, 'Choose a sequence, or check the number of lines.');
  }
  for (const [i, c] of circuits.entries()) {
    const first = circuits.findIndex((o) => o.number === c.number);
    const before = first < i ? circuits[first] : undefined;
    if (!before || (before.column !== undefined && before.column === c.column && before.row === c.row)) continue; // one cell: lintSwitches says so
    const message = `The number ${c.number} is on ${before.name} and on ${c.name}.`;
    yield error('number-twice', placeOf(machine, c.name), message, 'Give each its own number.');
  }
  for (const [i, { number, name }] of machine.direct.entries()) {
    if (!cellOf(numbering, number, size) || circuits.some((c) => c.kind === 'matrix' && c.number === number)) continue;
    const message = `${name} is numbered ${number}, which is a cell of the matrix.`;
    yield warning('direct-in-matrix', `direct[${i}].number`, message, 'Give direct switches numbers of their own, such as D1.');
  }
  for (const [i, { number }] of machine.loads.entries()) {
    if (machine.loads.findIndex((l) => l.number === number) < i) {
      yield error('number-twice', `loads[${i}].number`, `Two loads are numbered ${number}.`, 'Give each its own number.');
    }
  }
}

const placeOf = ({ switches, direct }: Machine, name: string): string => {
  const i = switches.findLastIndex((s) => s.name === name);
  return i >= 0 ? `switches[${i}]` : `direct[${direct.findLastIndex((d) => d.name === name)}].number`;
};

function* lintSwitches({ machine, design }: Chart): Generator<Finding> {
  const size = matrixSize(design);
  for (const [i, s] of machine.switches.entries()) {
    const path = `switches[${i}]`;
    yield* lintCell(design, 'switch', s, path);
    const printed = printedNumber(machine.numbering, s.column, s.row, size);
    if (s.number !== undefined && s.number !== printed) {
      const message = `${s.name} is numbered ${s.number}; by the numbering scheme its cell is ${printed}.`;
      yield warning('number-off-scheme', `${path}.number`, message, 'Correct the number, the cell or the scheme.');
    }
    const other = machine.switches.find((o) => o.column === s.column && o.row === s.row);
    if (other === undefined || other === s) continue;
    const message = `${other.name} and ${s.name} share column ${s.column}, row ${s.row}.`;
    yield other.parallel && s.parallel
      ? warning('cell-twice', path, message, 'They are marked parallel: pressing either closes the cell. Nothing to do if that is so.')
      : error('cell-twice', path, message, 'Correct one cell, or mark both parallel.');
  }
  for (const [i, l] of machine.lamps.entries()) {
    yield* lintCell(design, 'lamp', l, `lamps[${i}]`);
    const other = machine.lamps.find((o) => o.column === l.column && o.row === l.row);
    if (other === undefined || other === l) continue;
    const message = `${other.name} and ${l.name} share lamp column ${l.column}, row ${l.row}.`;
    yield warning('lamp-cell-twice', `lamps[${i}]`, message, 'Correct one cell, unless both lamps light together.');
  }
}

function* lintCell({ nets }: BoardDesign, matrix: 'switch' | 'lamp', at: { column: number; row: number; name: string }, path: string) {
  for (const axis of ['column', 'row'] as const) {
    if (nets.some((net) => net.kind === `${matrix}-${axis}` && net.number === at[axis])) continue;
    const message = `${at.name} stands at ${matrix} ${axis} ${at[axis]}, a line that the board design does not have.`;
    yield error('cell-without-line', `${path}.${axis}`, message, 'Correct the cell, or add the line to the board design.');
  }
}

function* lintLines({ machine, design, nets, taps }: Chart): Generator<Finding> {
  const wanted: { path: string; id: string; kinds: Net['kind'][] }[] = [
    ...machine.direct.map((d, i) => ({ path: `direct[${i}].net`, id: d.net, kinds: ['direct' as const] })),
    ...machine.loads.flatMap((l, i) => [
      { path: `loads[${i}].net`, id: l.net, kinds: ['load' as const] },
      { path: `loads[${i}].supply`, id: l.supply, kinds: ['supply' as const] },
    ]),
    ...machine.illumination.flatMap((g, i) => [
      { path: `illumination[${i}].net`, id: g.net, kinds: ['illumination' as const, 'supply' as const] },
      { path: `illumination[${i}].back`, id: g.back, kinds: ['illumination' as const, 'ground' as const] },
    ]),
  ];
  for (const { path, id, kinds } of wanted) {
    const net = nets.get(id);
    if (!net)
      yield error('unknown-line', path, `The line ${id} is not in the board design ${design.id}.`, 'Correct its name, or add the line.');
    else if (!kinds.includes(net.kind)) {
      yield warning('line-of-other-kind', path, `${id} is a ${net.kind} line.`, `Use a line of the kind ${kinds.join(' or ')}.`);
    }
  }
  for (const [i, { net, name }] of machine.direct.entries()) {
    const other = machine.direct.find((d) => d.net === net);
    if (other && other !== machine.direct[i]) {
      const message = `${other.name} and ${name} are on one input, ${net}: the board cannot tell them apart.`;
      yield warning('input-twice', `direct[${i}].net`, message, 'Correct one, unless they are wired in parallel.');
    }
  }
  const grounded = [...nets.values()].some((net) => net.kind === 'ground' && (taps.get(net.id)?.length ?? 0) > 0);
  if (machine.direct.length > 0 && !grounded) {
    const message = 'There are direct switches, but no ground of the board design reaches a header.';
    yield error('direct-without-ground', 'direct', message, 'Add the ground line and its pin to the board design.');
  }
}

function* lintChains({ machine, pins, circuit }: Chart): Generator<Finding> {
  const claimed = new Map<string, string>(); // "switch at net" → tap
  for (const [i, chain] of machine.chains.entries()) {
    const path = `chains[${i}]`;
    const tap = pins.get(chain.tap);
    if (!tap) {
      yield error('chain-without-tap', `${path}.tap`, `${chain.tap} is no wired pin of the board design.`, 'Correct the pin.');
      continue;
    }
    for (const number of switchesOf(chain.steps)) {
      const c = circuit.get(number);
      if (!c) {
        yield error(
          'chain-unknown-switch',
          path,
          `The chain of ${chain.tap} lists ${number}, which is no switch here.`,
          'Correct the number.',
        );
      } else if (!c.nets.includes(tap.net)) {
        const message = `The chain of ${chain.tap} lists ${number} ${c.name}, which is not on ${tap.net}.`;
        yield error('chain-off-line', path, message, 'Correct the number, or the tap.');
      }
      const before = claimed.get(`${number} ${tap.net}`);
      if (before !== undefined) {
        const message =
          before === chain.tap ? `${number} stands twice behind ${before}.` : `${number} hangs on ${before} and on ${chain.tap}.`;
        yield warning('chain-twice', path, message, 'A switch hangs on one tap of a line, unless the line is a ring.');
      }
      claimed.set(`${number} ${tap.net}`, chain.tap);
    }
  }
}

function* lintFound({ machine, circuit, headers, nets }: Chart): Generator<Finding> {
  for (const [i, { id, place, wire }] of machine.asFound.entries()) {
    const path = `asFound[${i}]`;
    if (machine.asFound.findIndex((d) => d.id === id) < i) {
      yield error('found-twice', `${path}.id`, `The deviation ${id} stands here a second time.`, 'Remove or rename one of the two.');
    }
    if (!place.switch && !place.pin && !place.net) {
      yield error('found-nowhere', `${path}.place`, 'This deviation names no place.', 'Name a switch, a pin or a line.');
    }
    if (place.switch !== undefined && !circuit.has(place.switch)) {
      yield error('found-unknown-switch', `${path}.place.switch`, `${place.switch} is no switch here.`, 'Correct the number.');
    }
    if (place.net !== undefined && !nets.has(place.net)) {
      yield error('found-unknown-line', `${path}.place.net`, `${place.net} is no line of the board design.`, 'Correct the line.');
    }
    const at = place.pin === undefined ? null : splitPin(place.pin);
    const header = at && headers.get(at.header);
    if (at && (!header || at.position < 1 || at.position > header.positions)) {
      yield error('found-unknown-pin', `${path}.place.pin`, `${place.pin} is no pin of the board design.`, 'Correct the pin.');
    } else if (at && header?.keys.includes(at.position)) {
      const message = `${place.pin} is a key by the chart, but not as found on this machine.`;
      yield warning('key-not-as-found', `${path}.place.pin`, message, 'Check the key on the header and in the housing, each by itself.');
    }
    if (wire !== undefined) yield* lintColour(`${path}.wire`, wire);
  }
}
