/** What is wrong with the lines of a board design. */
import { error, warning } from './finding';
import { freeAirAmps, fuseAmps } from './fuse';
import { lintColour } from './lint-colour';
import type { BoardDesign, Net } from './schema';
import type { Finding } from './types';

export function* lintNet(design: BoardDesign, net: Net, i: number): Generator<Finding> {
  const { nets, headers } = design;
  const path = `nets[${i}]`;
  if (nets.findIndex((n) => n.id === net.id) < i) {
    yield error('line-twice', `${path}.id`, `The line ${net.id} stands here a second time.`, 'Remove one of the two.');
  } else if (net.number !== undefined && nets.findIndex((n) => n.kind === net.kind && n.number === net.number) < i) {
    const message = `A second ${net.kind} line is numbered ${net.number}.`;
    yield error('line-twice', `${path}.number`, message, 'Give each line of a kind its own number.');
  }
  if (!headers.some((h) => h.pins.some((p) => p.net === net.id))) {
    yield error('line-without-tap', path, `The line ${net.id} reaches no header.`, 'Give it a pin, or remove the line.');
  }
  yield* lintName(net, path);
  yield* lintColour(`${path}.colour`, net.colour, net.kind === 'ground');
  if (net.bleederOhms !== undefined && !net.storedMicrofarads) {
    const message = `The line ${net.id} has a bleeder of ${net.bleederOhms} Ω, but no reservoir.`;
    yield warning(
      'bleeder-without-reservoir',
      `${path}.bleederOhms`,
      message,
      'Write the reservoir in microfarads, or take the bleeder out.',
    );
  }
  if (net.fuse !== undefined) yield* lintFuse(`${path}.fuse`, net.fuse, wiresOf(design, net), net.id);
}

function* lintName(net: Net, path: string): Generator<Finding> {
  const [head = '', tail = ''] = net.id.split('.');
  if (head !== net.kind) {
    const message = `The line ${net.id} is of the kind ${net.kind}, but its name says ${head}.`;
    yield warning('line-kind-differs', `${path}.id`, message, `Name it ${net.kind}.${tail || 'number'}, or correct its kind.`);
  }
  if (!/-(column|row)$/.test(net.kind)) return;
  if (net.number === undefined) {
    yield error('line-without-number', path, `The matrix line ${net.id} has no number.`, 'Give it the number that the manual prints.');
  } else if (/^\d+$/.test(tail) && Number(tail) !== net.number) {
    const message = `The line ${net.id} is numbered ${net.number}.`;
    yield warning('line-number-differs', `${path}.number`, message, 'Correct its name or its number.');
  }
}

/** Gauges of a line: its own and those of its wires. */
export const wiresOf = (design: BoardDesign, net: Net): number[] => [
  net.awg,
  ...design.headers.flatMap((h) => h.pins.flatMap((p) => (p.net === net.id ? (p.wires ?? []).flatMap((w) => w.awg ?? []) : []))),
];

/** A fuse against the thinnest wire behind it. A fuse protects the wire, not the device: a heavier one sets the loom on fire. */
export function* lintFuse(path: string, fuse: string, gauges: readonly number[], what: string): Generator<Finding> {
  const amps = fuseAmps(fuse);
  if (amps === null) {
    const message = `The fuse of ${what} reads “${fuse}”, without a rating.`;
    yield warning('fuse-without-rating', path, message, 'Write name, rating and speed, such as F3, 4 A slow.');
    return;
  }
  const thinnest = Math.max(...gauges);
  const bears = freeAirAmps(thinnest);
  if (amps <= bears) return;
  const message = `The fuse of ${what}, ${amps} A, is above the ${bears} A that its thinnest wire, ${thinnest} AWG, bears in free air.`;
  yield warning('fuse-above-wire', path, message, 'Check the fuse against the manual and the gauge of the wire; never fit a heavier fuse.');
}
