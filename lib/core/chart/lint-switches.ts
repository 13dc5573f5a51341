/** Switches and lamps in the cells of their matrix. */
import { error, information, type Lint, rest, warning } from './finding';
import { matrixSize, printedNumber } from './numbering';
import type { BoardDesign, DirectSwitch, MatrixSwitch, Numbering } from './schema';
import type { Chart, Finding } from './types';

export function* lintSwitches({ machine, design, nets }: Chart): Lint {
  for (const [i, s] of machine.switches.entries()) {
    yield rest;
    const path = `switches[${i}]`;
    yield* lintCell(design, 'switch', s, path);
    yield* lintNumber(design, 'switch', machine.numbering, s, path);
    yield* lintOpto(s, path, nets);
    const other = machine.switches.find((o) => o.column === s.column && o.row === s.row);
    if (other === undefined || other === s) continue;
    const message = `${other.name} and ${s.name} share column ${s.column}, row ${s.row}.`;
    yield other.parallel && s.parallel
      ? warning('cell-twice', path, message, 'They are marked parallel: pressing either closes the cell. Nothing to do if that is so.')
      : error('cell-twice', path, message, 'Correct one cell, or mark both parallel.');
  }
  for (const [i, d] of machine.direct.entries()) {
    yield rest;
    yield* lintOpto(d, `direct[${i}]`, nets);
  }
  for (const [i, l] of machine.lamps.entries()) {
    yield rest;
    yield* lintCell(design, 'lamp', l, `lamps[${i}]`);
    yield* lintNumber(design, 'lamp', machine.numbering, l, `lamps[${i}]`);
    const other = machine.lamps.find((o) => o.column === l.column && o.row === l.row);
    if (other === undefined || other === l) continue;
    const message = `${other.name} and ${l.name} share lamp column ${l.column}, row ${l.row}.`;
    yield warning('lamp-cell-twice', `lamps[${i}]`, message, 'Correct one cell, unless both lamps light together.');
  }
}

interface Placed {
  column: number;
  row: number;
  name: string;
  number?: string | undefined;
}

function* lintCell({ nets }: BoardDesign, matrix: 'switch' | 'lamp', at: Placed, path: string): Generator<Finding> {
  for (const axis of ['column', 'row'] as const) {
    if (nets.some((net) => net.kind === `${matrix}-${axis}` && net.number === at[axis])) continue;
    const message = `${at.name} stands at ${matrix} ${axis} ${at[axis]}, a line that the board design does not have.`;
    yield error('cell-without-line', `${path}.${axis}`, message, 'Correct the cell, or add the line to the board design.');
  }
}

function* lintNumber(design: BoardDesign, matrix: 'switch' | 'lamp', scheme: Numbering, at: Placed, path: string): Generator<Finding> {
  const printed = printedNumber(scheme, at.column, at.row, matrixSize(design, matrix));
  if (at.number === undefined || at.number === printed) return;
  const message = `${at.name} is numbered ${at.number}; by the numbering scheme its cell is ${printed}.`;
  // Lamps are often numbered by a scheme of their own, which a chart cannot state.
  yield matrix === 'switch'
    ? warning('number-off-scheme', `${path}.number`, message, 'Correct the number, the cell or the scheme.')
    : information('number-off-scheme', `${path}.number`, message, 'Nothing to do when the manual numbers its lamps otherwise.');
}

function* lintOpto({ name, device, emitterSupply, optoBoard }: MatrixSwitch | DirectSwitch, path: string, nets: Chart['nets']) {
  if (emitterSupply !== undefined && !nets.has(emitterSupply)) {
    const message = `The light of ${name} is fed by ${emitterSupply}, which is not in the board design.`;
    yield error('unknown-line', `${path}.emitterSupply`, message, 'Correct its name, or add the line.');
  }
  if (device !== 'opto' && (emitterSupply !== undefined || optoBoard !== undefined)) {
    const field = emitterSupply !== undefined ? 'emitterSupply' : 'optoBoard';
    const message = `${name} has a light or a board of an optical switch, but its device is ${device}.`;
    yield warning('opto-fields', `${path}.${field}`, message, 'Set its device to opto, or remove the field.');
  }
}
