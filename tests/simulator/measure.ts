/** A meter on a machine that is switched off: ohms and junction volts between two nodes, from the same netlist. */
import { cutOut } from './circuit';
import type { Network } from './network';
import { voltages } from './newton';
import { ground } from './wiring';

export interface Meter {
  volts: number; // open circuit
  ohms: number; // inside
}
/** Ranges of a usual hand-held meter: common practice, no source. */
export const ohmRange: Meter = { volts: 2, ohms: 1000 };
export const diodeRange: Meter = { volts: 3, ohms: 2000 };

export interface Probing {
  red: number;
  black: number;
  lines: Iterable<number>;
  closed: readonly number[];
  diodesOf?: readonly number[];
  plugged: boolean;
}

/** Volts between the probes. */
export function probe(net: Network, { red, black, lines, closed, diodesOf = [], plugged }: Probing, meter: Meter): number {
  const w = net.wiring;
  const cutLines = new Set([
    ...lines,
    ...net.always,
    ...[...closed, ...diodesOf].flatMap((i) => [w.contacts[i]!.column, w.contacts[i]!.row]),
  ]);
  cutLines.delete(-1);
  const circuit = cutOut(net, {
    lines: cutLines,
    closed,
    diodesOf,
    plugged,
    keep: [red, black],
    links: [{ a: red, b: black, ohms: meter.ohms }],
    supplyVolts: 0, // a rail of a machine that is off
  });
  const at = circuit.at(red) ?? circuit.at(black);
  if (!at) return meter.volts;
  const part = circuit.components[at.component]!;
  const amps = meter.volts / meter.ohms;
  for (const [node, sign] of [
    [red, 1],
    [black, -1],
  ] as const) {
    const seat = circuit.at(node);
    if (seat) part.current[seat.index]! += sign * amps;
  }
  const volts = voltages(part, [], w.values.diode);
  const of = (node: number) => (node === ground ? 0 : volts[circuit.at(node)!.index]!);
  return of(red) - of(black);
}

/** Ohms between the probes, as the meter shows them; infinite when it shows no reading. */
export function ohmsBetween(net: Network, probing: Probing): number {
  const volts = probe(net, probing, ohmRange);
  const amps = (ohmRange.volts - volts) / ohmRange.ohms;
  return amps < 1e-7 ? Number.POSITIVE_INFINITY : Math.max(0, volts / amps);
}
