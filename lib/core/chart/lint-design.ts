/** What is wrong in a board design: each finding names the place and the mend. */
import type { TerminalPart } from '../parts/schema';
import { equivalentAwg } from '../wire/gauge';
import type { BoardDesign, Header, Net } from './schema';
import type { Finding } from './types';

const tapped: Net['kind'][] = ['switch-column', 'switch-row', 'direct', 'lamp-column', 'lamp-row', 'load'];
/** Lines that may repeat a colour within one connector. */
const repeating: Net['kind'][] = ['ground', 'supply', 'illumination'];

/** Findings of a board design by itself. With the catalogue's terminals, gauges that none of them takes are found too. */
export function lintDesign(design: BoardDesign, terminals?: readonly TerminalPart[]): Finding[] {
  const nets = new Map(design.nets.map((n) => [n.id, n]));
  return [
    ...design.nets.flatMap((net, i) => lintNet(design, net, i)),
    ...design.headers.flatMap((header, i) => lintHeader(design, header, `headers[${i}]`, nets, terminals)),
    ...exchangeable(design),
  ];
}

const error = (rule: string, path: string, message: string, mend: string): Finding => ({ level: 'error', rule, path, message, mend });
const warning = (rule: string, path: string, message: string, mend: string): Finding => ({ level: 'warning', rule, path, message, mend });

function lintNet(design: BoardDesign, net: Net, i: number): Finding[] {
  const found: Finding[] = [];
  const path = `nets[${i}]`;
  if (design.nets.findIndex((n) => n.id === net.id) !== i)
    found.push(error('net-twice', path, `The line ${net.id} stands here a second time.`, 'Remove one of the two.'));
  if (tapped.includes(net.kind) && !design.headers.some((h) => h.pins.some((p) => p.net === net.id))) {
    found.push(error('line-without-tap', path, `The line ${net.id} reaches no header.`, 'Give it a pin, or remove the line.'));
  }
  const matrix = /^(switch|lamp)-(column|row)$/.test(net.kind);
  if (matrix && net.number === undefined)
    found.push(
      error('line-without-number', path, `The matrix line ${net.id} has no number.`, 'Give it the number that the manual prints.'),
    );
  return found;
}

function lintHeader(
  design: BoardDesign,
  header: Header,
  path: string,
  nets: ReadonlyMap<string, Net>,
  terminals?: readonly TerminalPart[],
): Finding[] {
  const found: Finding[] = [];
  const board = header.id.split('J')[0];
  if (!design.boards.some((b) => b.designator === board))
    found.push(
      error(
        'header-without-board',
        `${path}.id`,
        `${header.id} belongs to a board ${board} that the design does not have.`,
        `Add the board ${board}, or correct the header’s name.`,
      ),
    );
  if (design.headers.find((h) => h.id === header.id) !== header)
    found.push(error('header-twice', `${path}.id`, `${header.id} stands here a second time.`, 'Remove or rename one of the two.'));
  for (const key of header.keys) {
    if (key > header.positions)
      found.push(
        error(
          'key-beyond-positions',
          `${path}.keys`,
          `The key at ${key} lies beyond the ${header.positions} positions of ${header.id}.`,
          'Correct the key or the number of positions.',
        ),
      );
  }
  header.pins.forEach((pin, k) => {
    const at = `${path}.pins[${k}]`;
    const name = `${header.id}-${pin.position}`;
    const net = nets.get(pin.net);
    if (pin.position > header.positions)
      found.push(
        error(
          'pin-beyond-positions',
          at,
          `${name} lies beyond the ${header.positions} positions.`,
          'Correct the position, or the number of positions.',
        ),
      );
    if (header.keys.includes(pin.position))
      found.push(error('wire-on-key', at, `${name} is the key, yet ${pin.net} is on it.`, 'Move the wire, or correct the key.'));
    const first = header.pins.findIndex((p) => p.position === pin.position);
    if (first !== k)
      found.push(
        error(
          'two-lines-on-pin',
          at,
          `${name} carries ${header.pins[first]?.net} and ${pin.net}.`,
          'One pin carries one line; two wires of one line belong in its “wires”.',
        ),
      );
    if (!net) {
      found.push(
        error(
          'unknown-line',
          at,
          `${name} names the line ${pin.net}, which the design does not have.`,
          'Add the line, or correct its name.',
        ),
      );
      return;
    }
    if ((pin.wires?.length ?? 1) > 2)
      found.push(
        warning(
          'many-wires',
          at,
          `${name} holds ${pin.wires?.length} wires.`,
          'More than two wires do not fit one terminal: check the manual.',
        ),
      );
    for (const wire of pin.wires ?? []) {
      if (wire.colour && wire.colour !== net.colour)
        found.push(
          warning(
            'colour-differs',
            at,
            `A wire at ${name} is ${wire.colour}; its line ${net.id} is ${net.colour}.`,
            'Correct one, or keep it when the manual really says so.',
          ),
        );
    }
    const gauges = (pin.wires ?? [{}]).map((w) => w.awg ?? net.awg);
    const ofPitch = terminals?.filter((t) => Math.abs(t.pitchMm - header.pitchMm) < 0.02);
    const together = equivalentAwg(gauges);
    if (ofPitch && !ofPitch.some((t) => together >= t.awg[0] - 0.15 && together <= t.awg[1])) {
      found.push(
        warning(
          'gauge-without-terminal',
          at,
          `No terminal of ${header.pitchMm} mm takes ${gauges.join(' + ')} AWG at ${name}.`,
          'Add such a terminal to the catalogue, or check the gauge.',
        ),
      );
    }
  });
  return [...found, ...sameColours(header, path, nets)];
}

/** Two different lines of one colour in one connector are easily swapped. Commons and lamp strings may repeat. */
function sameColours(header: Header, path: string, nets: ReadonlyMap<string, Net>): Finding[] {
  const seen = new Map<string, { net: string; position: number }>();
  const found: Finding[] = [];
  header.pins.forEach((pin, k) => {
    const net = nets.get(pin.net);
    if (!net || repeating.includes(net.kind)) return;
    const before = seen.get(net.colour);
    if (before && before.net !== net.id) {
      found.push(
        warning(
          'same-colour',
          `${path}.pins[${k}]`,
          `${header.id}-${before.position} and ${header.id}-${pin.position} are both ${net.colour} but different lines.`,
          'Check the colours; mark both wires before the housing comes off.',
        ),
      );
    }
    seen.set(net.colour, { net: net.id, position: pin.position });
  });
  return found;
}

/** Headers of one board with equal size, pitch and key: their plugs are easily exchanged. */
function exchangeable(design: BoardDesign): Finding[] {
  const shape = (h: Header) => `${h.id.split('J')[0]} ${h.positions} ${h.pitchMm} ${h.keys.join()}`;
  return design.headers.flatMap((header, i) => {
    const twin = design.headers.slice(0, i).find((h) => shape(h) === shape(header));
    return twin
      ? [
          warning(
            'exchangeable',
            `headers[${i}]`,
            `${twin.id} and ${header.id} have the same size and key: their plugs can be exchanged.`,
            'Mark the plugs before work; check this first when a fault follows it.',
          ),
        ]
      : [];
  });
}
