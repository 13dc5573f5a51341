/** What is wrong in a machine’s chart, held against its board design. */
import { colourNames } from '../wire/colours';
import { splitColour } from '../wire/format';
import { indexChart } from './build';
import { printedNumber } from './numbering';
import type { BoardDesign, Machine, Step } from './schema';
import type { Chart, Finding } from './types';

const error = (rule: string, path: string, message: string, mend: string): Finding => ({ level: 'error', rule, path, message, mend });
const warning = (rule: string, path: string, message: string, mend: string): Finding => ({ level: 'warning', rule, path, message, mend });

/** Findings of a machine against the design it names. */
export function lintMachine(machine: Machine, design: BoardDesign): Finding[] {
  if (machine.design !== design.id)
    return [
      error(
        'other-design',
        'design',
        `The machine names the board design ${machine.design}, but was held against ${design.id}.`,
        'Choose the right design.',
      ),
    ];
  const chart = indexChart(machine, design);
  return [...lintSwitches(chart), ...lintLines(chart), ...lintChains(chart), ...lintFound(chart)];
}

function lintSwitches({ machine, columns, rows, circuits }: Chart): Finding[] {
  const found: Finding[] = [];
  const size = { columns: columns.length, rows: rows.length };
  const digits = machine.numbering.order === 'column-row' || machine.numbering.order === 'row-column';
  if (digits && Math.max(...columns, ...rows, 0) > 9) {
    found.push(
      error(
        'digits-run-out',
        'numbering',
        'Two-digit numbers cannot name a line above 9.',
        'Choose a sequence, or check the number of lines.',
      ),
    );
  }
  machine.switches.forEach((s, i) => {
    const path = `switches[${i}]`;
    if (!columns.includes(s.column) || !rows.includes(s.row)) {
      found.push(
        error(
          'cell-without-line',
          path,
          `${s.name} stands at column ${s.column}, row ${s.row}; the board has no such line.`,
          'Correct the cell, or add the line to the board design.',
        ),
      );
    }
    const printed = printedNumber(machine.numbering, s.column, s.row, size);
    if (s.number !== undefined && s.number !== printed) {
      found.push(
        warning(
          'number-off-scheme',
          `${path}.number`,
          `${s.name} is numbered ${s.number}; by the scheme its cell is ${printed}.`,
          'Correct the number, the cell or the scheme.',
        ),
      );
    }
    const before = machine.switches.findIndex((o) => o.column === s.column && o.row === s.row);
    if (before !== i) {
      const both = s.parallel && machine.switches[before]?.parallel;
      const message = `${machine.switches[before]?.name} and ${s.name} share column ${s.column}, row ${s.row}.`;
      found.push(
        (both ? warning : error)(
          'cell-twice',
          path,
          message,
          both ? 'They are marked parallel: pressing either closes the cell.' : 'Correct one cell, or mark both parallel.',
        ),
      );
    }
  });
  const seen = new Map<string, string>();
  for (const c of circuits) {
    const before = seen.get(c.number);
    const parallel = machine.switches.some((s) => s.name === c.name && s.parallel);
    if (before !== undefined && !parallel)
      found.push(
        error('number-twice', 'switches', `The number ${c.number} is on ${before} and on ${c.name}.`, 'Give each its own number.'),
      );
    seen.set(c.number, c.name);
  }
  return found;
}

function lintLines({ machine, design, nets }: Chart): Finding[] {
  const found: Finding[] = [];
  const check = (path: string, net: string, kinds: string[]) => {
    const known = nets.get(net);
    if (!known)
      found.push(
        error('unknown-line', path, `The line ${net} is not in the board design ${design.id}.`, 'Correct its name, or add the line.'),
      );
    else if (!kinds.includes(known.kind))
      found.push(warning('line-of-other-kind', path, `${net} is a ${known.kind} line.`, `Use a line of kind ${kinds.join(' or ')}.`));
  };
  for (const [i, d] of machine.direct.entries()) check(`direct[${i}].net`, d.net, ['direct']);
  if (machine.direct.length > 0 && !design.nets.some((n) => n.kind === 'ground')) {
    found.push(
      error(
        'direct-without-ground',
        'direct',
        'There are direct switches, but the board design has no ground line.',
        'Add the ground line and its pin.',
      ),
    );
  }
  machine.loads.forEach((l, i) => {
    check(`loads[${i}].net`, l.net, ['load']);
    check(`loads[${i}].supply`, l.supply, ['supply']);
  });
  machine.illumination.forEach((g, i) => {
    check(`illumination[${i}].net`, g.net, ['illumination', 'supply']);
    check(`illumination[${i}].back`, g.back, ['illumination', 'ground']);
  });
  machine.lamps.forEach((l, i) => {
    for (const axis of ['column', 'row'] as const) {
      if (!nets.has(`lamp-${axis}.${l[axis]}`))
        found.push(
          error(
            'cell-without-line',
            `lamps[${i}]`,
            `${l.name} stands at lamp ${axis} ${l[axis]}; the board has no such line.`,
            'Correct the cell, or add the line to the board design.',
          ),
        );
    }
  });
  return found;
}

function lintChains({ machine, pins, circuit }: Chart): Finding[] {
  const found: Finding[] = [];
  const claimed = new Map<string, string>(); // "switch at net" → tap
  machine.chains.forEach((chain, i) => {
    const path = `chains[${i}]`;
    const tap = pins.get(chain.tap);
    if (!tap) {
      found.push(error('chain-without-tap', `${path}.tap`, `${chain.tap} is no wired pin of the board design.`, 'Correct the pin.'));
      return;
    }
    for (const number of numbersOf(chain.steps)) {
      const c = circuit.get(number);
      if (!c)
        found.push(
          error('chain-unknown-switch', path, `The chain of ${chain.tap} lists ${number}, which is no switch here.`, 'Correct the number.'),
        );
      else if (!c.nets.includes(tap.net))
        found.push(
          error(
            'chain-off-line',
            path,
            `The chain of ${chain.tap} lists ${number} ${c.name}, which is not on ${tap.net}.`,
            'Correct the number, or the tap.',
          ),
        );
      const key = `${number} ${tap.net}`;
      const before = claimed.get(key);
      if (before !== undefined)
        found.push(
          warning(
            'chain-twice',
            path,
            `${number} hangs on ${before} and on ${chain.tap}.`,
            'A switch hangs on one tap, unless the line is a ring.',
          ),
        );
      claimed.set(key, chain.tap);
    }
  });
  return found;
}

const numbersOf = (steps: readonly Step[]): string[] => steps.flatMap((s) => ('switch' in s ? [s.switch] : s.branches.flatMap(numbersOf)));

function lintFound({ machine, circuit, pins, nets }: Chart): Finding[] {
  return machine.asFound.flatMap((d, i) => {
    const path = `asFound[${i}]`;
    const found: Finding[] = [];
    const { place } = d;
    if (!place.switch && !place.pin && !place.net)
      found.push(error('found-nowhere', `${path}.place`, 'This deviation names no place.', 'Name a switch, a pin or a line.'));
    if (place.switch && !circuit.has(place.switch))
      found.push(error('found-unknown-switch', `${path}.place.switch`, `${place.switch} is no switch here.`, 'Correct the number.'));
    if (place.pin && !pins.has(place.pin))
      found.push(error('found-unknown-pin', `${path}.place.pin`, `${place.pin} is no wired pin of the board design.`, 'Correct the pin.'));
    if (place.net && !nets.has(place.net))
      found.push(error('found-unknown-line', `${path}.place.net`, `${place.net} is no line of the board design.`, 'Correct the line.'));
    if (d.wire) {
      const { base, stripe } = splitColour(d.wire);
      for (const name of [base, ...(stripe ? [stripe] : [])])
        if (!colourNames.includes(name))
          found.push(error('unknown-colour', `${path}.wire`, `${name} is no colour of the table.`, `Use ${colourNames.join(', ')}.`));
    }
    return found;
  });
}
