/** What a page's facts say of a circuit. Shared by the widgets that name circuits. */
import type { Circuit, Tap } from '@/lib/core/chart/types';
import type { CircuitView } from '@/lib/core/lookup/types';
import type { Fact } from '@/lib/widgets/definition';

/** A circuit in a row of plain data. */
export interface CircuitRow {
  number: string;
  name: string;
  known: boolean; // false: the chart has no such number
  wires: string[]; // of its lines, then those found on this machine instead; base/stripe
  pins: string[]; // taps of its lines
  headers: string[];
  press: { number: string; name: string }[]; // siblings that cut the fault in half
}

const unique = <T>(values: T[]): T[] => [...new Set(values)];
export const named = ({ number, name }: Pick<Circuit, 'number' | 'name'>) => (name ? `${number} ${name}` : number);

export function circuitRow(view: CircuitView): CircuitRow {
  const taps: Tap[] = view.lines.flatMap((line) => line.taps);
  return {
    number: view.circuit.number,
    name: view.circuit.name,
    known: true,
    wires: unique([...view.lines.map((line) => line.colour), ...view.asFound.flatMap((found) => found.wire ?? [])]),
    pins: unique(taps.map((tap) => tap.pin)),
    headers: unique(taps.map((tap) => tap.header)),
    press: view.press.map(({ number, name }) => ({ number, name })),
  };
}

export const wireFact = (colour: string): Fact => ({ kind: 'wire', value: colour, label: colour });
export const pinFact = (pin: string): Fact => ({ kind: 'pin', value: pin, label: pin });
export const headerFact = (header: string): Fact => ({ kind: 'header', value: header, label: header });

/** A circuit the chart does not know is still what the page is about. */
export function circuitFacts(row: CircuitRow): Fact[] {
  return [
    { kind: 'circuit', value: row.number, label: named(row) },
    ...row.wires.map(wireFact),
    ...row.pins.map(pinFact),
    ...row.headers.map(headerFact),
    ...row.press.map((sibling): Fact => ({ kind: 'sibling', value: sibling.number, label: named(sibling) })),
  ];
}

/** A place written as a pin or header, of the board (J) or of the plug (P): `A3J4-7`, `a3p4-7`, `A3J4`. */
export function readPlace(place: string): { pin: string; header: string } {
  const found = /^(A\d{1,2})[JP](\d{1,2})(?:-(\d{1,2}))?$/i.exec(place.trim());
  if (!found) return { pin: '', header: '' };
  const header = `${found[1]?.toUpperCase()}J${found[2]}`;
  return { header, pin: found[3] ? `${header}-${Number(found[3])}` : '' };
}
