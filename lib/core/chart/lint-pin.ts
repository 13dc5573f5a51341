/** What is wrong at the positions of a header: lines, wires and colours. */
import type { TerminalPart } from '../parts/schema';
import { awgAreaMm2, conductorAreaMm2, togetherAwg } from '../wire/gauge';
import { error, warning } from './finding';
import { lintColour } from './lint-colour';
import { pinOf } from './names';
import type { Header, Net, Pin, Wire } from './schema';
import type { Finding } from './types';

type Nets = ReadonlyMap<string, Net>;

export function* lintPin(header: Header, pin: Pin, k: number, path: string): Generator<Finding> {
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

export function* lintWires(
  header: Pick<Header, 'id' | 'termination' | 'pitchMm'>,
  pin: Pin,
  net: Net,
  at: string,
  terminals?: readonly TerminalPart[],
): Generator<Finding> {
  const name = pinOf(header.id, pin.position);
  const wires = pin.wires ?? [{}];
  if (wires.length > 2) {
    const mend = 'More than two wires do not fit one terminal: check the manual, or splice outside the housing.';
    yield warning('many-wires', `${at}.wires`, `${name} holds ${wires.length} wires.`, mend);
  }
  for (const [w, wire] of wires.entries()) {
    yield* lintStrands(wire, wire.awg ?? net.awg, name, `${at}.wires[${w}]`);
    const { colour } = wire;
    if (colour === undefined) continue;
    yield* lintColour(`${at}.wires[${w}].colour`, colour, net.kind === 'ground');
    if (colour === net.colour) continue;
    const message = `A wire at ${name} is ${colour}, but its line ${net.id} is ${net.colour}.`;
    yield warning('colour-differs', `${at}.wires[${w}].colour`, message, 'Correct one; leave it when the manual really says so.');
  }
  if (header.termination === 'soldered') return; // no terminal to fit
  const gauges = wires.map((wire) => wire.awg ?? net.awg);
  const together = togetherAwg(wires.map((wire) => ({ ...wire, awg: wire.awg ?? net.awg })));
  const ofPitch = terminals?.filter((t) => t.pitchMm === header.pitchMm);
  if (ofPitch && !ofPitch.some((t) => together >= t.awg[0] - slack && together <= t.awg[1])) {
    const message = `No terminal of ${header.pitchMm} mm takes ${gauges.join(' + ')} AWG at ${name}.`;
    yield warning('gauge-without-terminal', at, message, 'Add such a terminal to the catalogue, or check the gauge.');
  }
}

const strandSlack = 0.25; // share of the area; the strandings in use are within 12 % of their gauge

/** Strands that cannot make up the gauge are a slip of the pen, and the plan would count with them. */
function* lintStrands({ strands, strandAwg, strandMm }: Wire, awg: number, name: string, at: string): Generator<Finding> {
  if (strandAwg === undefined && strandMm === undefined) return;
  if (strands === undefined) {
    const message = `A wire at ${name} says how thick a strand is, but not how many there are.`;
    yield warning('strand-without-count', `${at}.strands`, message, 'Count the strands, or take the strand out.');
    return;
  }
  const share = conductorAreaMm2({ awg, strands, strandAwg, strandMm }) / awgAreaMm2(awg);
  if (Math.abs(share - 1) <= strandSlack) return;
  const strand = strandMm === undefined ? `${strandAwg} AWG` : `${strandMm} mm`;
  const message = `${strands} strands of ${strand} at ${name} have ${Math.round(share * 100)} % of the copper of ${awg} AWG.`;
  yield warning('strands-not-gauge', `${at}.strands`, message, 'Count and measure again, or correct the gauge.');
}

const repeating: Net['kind'][] = ['ground', 'supply', 'illumination']; // commons and lamp strings repeat their colour by right

/** Two lines of one colour in one connector are easily swapped. */
export function* sameColours(header: Pick<Header, 'id' | 'pins'>, path: string, nets: Nets): Generator<Finding> {
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
