/** What is wrong in a board design: each finding names the place and the mend. */
import type { TerminalPart } from '../parts/schema';
import { colourNames } from '../wire/colours';
import { equivalentAwg } from '../wire/gauge';
import { error, warning } from './finding';
import { boardOf, pinOf } from './names';
import type { BoardDesign, Header, Net, Pin } from './schema';
import type { Finding } from './types';

type Nets = ReadonlyMap<string, Net>;

/** Findings of a board design by itself. With the catalogue's terminals, gauges that none of them takes are found too. */
export function lintDesign(design: BoardDesign, terminals?: readonly TerminalPart[]): Finding[] {
  const nets = new Map(design.nets.map((net) => [net.id, net]));
  return [
    ...lintBoards(design),
    ...design.nets.flatMap((net, i) => [...lintNet(design, net, i)]),
    ...design.headers.flatMap((header, i) => [...lintHeader(design, header, i, nets, terminals)]),
  ];
}

const lintBoards = ({ boards }: BoardDesign): Finding[] =>
  boards.flatMap(({ designator }, i) =>
    boards.findIndex((b) => b.designator === designator) < i
      ? [
          error(
            'board-twice',
            `boards[${i}].designator`,
            `The board ${designator} stands here a second time.`,
            'Remove or rename one of the two.',
          ),
        ]
      : [],
  );

function* lintNet({ nets, headers }: BoardDesign, net: Net, i: number): Generator<Finding> {
  const path = `nets[${i}]`;
  const matrix = /-(column|row)$/.test(net.kind);
  const tail = net.id.slice(net.id.indexOf('.') + 1);
  if (nets.findIndex((n) => n.id === net.id) < i) {
    yield error('line-twice', `${path}.id`, `The line ${net.id} stands here a second time.`, 'Remove one of the two.');
  } else if (net.number !== undefined && nets.findIndex((n) => n.kind === net.kind && n.number === net.number) < i) {
    yield error(
      'line-twice',
      `${path}.number`,
      `A second ${net.kind} line is numbered ${net.number}.`,
      'Give each line of a kind its own number.',
    );
  }
  if (!headers.some((h) => h.pins.some((p) => p.net === net.id))) {
    yield error('line-without-tap', path, `The line ${net.id} reaches no header.`, 'Give it a pin, or remove the line.');
  }
  if (matrix && net.number === undefined) {
    yield error('line-without-number', path, `The matrix line ${net.id} has no number.`, 'Give it the number that the manual prints.');
  }
  if (matrix && net.number !== undefined && /^\d+$/.test(tail) && Number(tail) !== net.number) {
    yield warning(
      'line-number-differs',
      `${path}.number`,
      `The line ${net.id} is numbered ${net.number}.`,
      'Correct its name or its number.',
    );
  }
  yield* lintColour(`${path}.colour`, net.colour);
}

/** A colour outside the table cannot be looked up or drawn. */
export function* lintColour(path: string, colour: string): Generator<Finding> {
  for (const name of colour.split('/')) {
    if (!colourNames.includes(name)) {
      yield error('unknown-colour', path, `“${name}” is not one of the wire colours.`, `Use ${colourNames.join(', ')}.`);
    }
  }
}

function* lintHeader(design: BoardDesign, header: Header, i: number, nets: Nets, terminals?: readonly TerminalPart[]): Generator<Finding> {
  const path = `headers[${i}]`;
  const board = boardOf(header.id);
  if (!design.boards.some((b) => b.designator === board)) {
    const message = `${header.id} belongs to a board ${board} that the design does not have.`;
    yield error('header-without-board', `${path}.id`, message, `Add the board ${board}, or correct the name of the header.`);
  }
  if (design.headers.findIndex((h) => h.id === header.id) < i) {
    yield error('header-twice', `${path}.id`, `${header.id} stands here a second time.`, 'Remove or rename one of the two.');
  }
  for (const [k, key] of header.keys.entries()) {
    if (key <= header.positions) continue;
    const message = `The key at ${key} lies beyond the ${header.positions} positions of ${header.id}.`;
    yield error('key-beyond-positions', `${path}.keys[${k}]`, message, 'Correct the key, or the number of positions.');
  }
  for (const [k, pin] of header.pins.entries()) {
    yield* lintPin(header, pin, k, path);
    const net = nets.get(pin.net);
    if (net) yield* lintWires(header, pin, net, `${path}.pins[${k}]`, terminals);
    else {
      const message = `${pinOf(header.id, pin.position)} names the line ${pin.net}, which the design does not have.`;
      yield error('unknown-line', `${path}.pins[${k}].net`, message, 'Add the line, or correct its name.');
    }
  }
  yield* sameColours(header, path, nets);
  yield* exchangeable(design, header, i);
}

function* lintPin(header: Header, pin: Pin, k: number, path: string): Generator<Finding> {
  const at = `${path}.pins[${k}]`;
  const name = pinOf(header.id, pin.position);
  if (pin.position > header.positions) {
    const message = `${name} lies beyond the ${header.positions} positions of ${header.id}.`;
    yield error('pin-beyond-positions', `${at}.position`, message, 'Correct the position, or the number of positions.');
  }
  if (header.keys.includes(pin.position)) {
    yield error('wire-on-key', `${at}.position`, `${name} is the key, yet ${pin.net} is on it.`, 'Move the wire, or correct the key.');
  }
  const first = header.pins.find((p) => p.position === pin.position);
  if (first === undefined || first === pin) return;
  if (first.net === pin.net) {
    yield error('pin-twice', at, `${name} stands here a second time.`, 'List both wires under “wires” of one pin.');
  } else {
    yield error('two-lines-on-pin', at, `${name} carries both ${first.net} and ${pin.net}.`, 'Correct one: a pin carries one line.');
  }
}

const slack = 0.15; // gauges over the thickest: about 3 % of area, which a terminal may still take (a sample is pull-tested)

function* lintWires(header: Header, pin: Pin, net: Net, at: string, terminals?: readonly TerminalPart[]): Generator<Finding> {
  const name = pinOf(header.id, pin.position);
  const wires = pin.wires ?? [{}];
  if (wires.length > 2) {
    const mend = 'More than two wires do not fit one terminal: check the manual, or splice outside the housing.';
    yield warning('many-wires', `${at}.wires`, `${name} holds ${wires.length} wires.`, mend);
  }
  for (const [w, { colour }] of wires.entries()) {
    if (colour === undefined) continue;
    yield* lintColour(`${at}.wires[${w}].colour`, colour);
    if (colour === net.colour) continue;
    const message = `A wire at ${name} is ${colour}, but its line ${net.id} is ${net.colour}.`;
    yield warning('colour-differs', `${at}.wires[${w}].colour`, message, 'Correct one; leave it when the manual really says so.');
  }
  const gauges = wires.map((wire) => wire.awg ?? net.awg);
  const together = equivalentAwg(gauges);
  const ofPitch = terminals?.filter((t) => t.pitchMm === header.pitchMm);
  if (ofPitch && !ofPitch.some((t) => together >= t.awg[0] - slack && together <= t.awg[1])) {
    const message = `No terminal of ${header.pitchMm} mm takes ${gauges.join(' + ')} AWG at ${name}.`;
    yield warning('gauge-without-terminal', at, message, 'Add such a terminal to the catalogue, or check the gauge.');
  }
}

const repeating: Net['kind'][] = ['ground', 'supply', 'illumination']; // commons and lamp strings repeat their colour by right

/** Two lines of one colour in one connector are easily swapped. */
function* sameColours(header: Header, path: string, nets: Nets): Generator<Finding> {
  const seen = new Map<string, { net: string; position: number }>();
  for (const [k, pin] of header.pins.entries()) {
    const net = nets.get(pin.net);
    if (!net || repeating.includes(net.kind)) continue;
    for (const colour of new Set((pin.wires ?? [{}]).map((wire) => wire.colour ?? net.colour))) {
      const before = seen.get(colour);
      if (before && before.net !== net.id) {
        const message = `${pinOf(header.id, before.position)} and ${pinOf(header.id, pin.position)} are both ${colour}, but different lines.`;
        yield warning('same-colour', `${path}.pins[${k}]`, message, 'Check the colours; mark both wires before the housing comes off.');
      }
      seen.set(colour, { net: net.id, position: pin.position });
    }
  }
}

/** Two headers of one board with equal size, pitch and key: their plugs are easily exchanged. */
function* exchangeable({ headers }: BoardDesign, header: Header, i: number): Generator<Finding> {
  const shape = (h: Header) => [boardOf(h.id), h.positions, h.pitchMm, ...[...h.keys].sort((a, b) => a - b)].join(' ');
  const twin = headers.slice(0, i).find((h) => h.id !== header.id && shape(h) === shape(header));
  if (!twin) return;
  const message = `${twin.id} and ${header.id} have the same size and key: their plugs are easily exchanged.`;
  yield warning('exchangeable', `headers[${i}]`, message, 'Check the keys; mark both plugs before they come off.');
}
