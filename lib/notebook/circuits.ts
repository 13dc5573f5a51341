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
  pins: string[]; // taps of its lines, and the in-line positions that it passes
  headers: string[];
  press: { number: string; name: string }[]; // siblings that cut the fault in half
}

const unique = <T>(values: T[]): T[] => [...new Set(values)];
export const named = ({ number, name }: Pick<Circuit, 'number' | 'name'>) => (name ? `${number} ${name}` : number);

export function circuitRow(view: CircuitView): CircuitRow {
  const taps: Tap[] = view.lines.flatMap((line) => line.taps);
  const through = view.lines.flatMap((line) => line.through);
  return {
    number: view.circuit.number,
    name: view.circuit.name,
    known: true,
    wires: unique([
      ...view.lines.map((line) => line.colour),
      ...through.flatMap(({ wires }) => wires.far.map((wire) => wire.colour)),
      ...view.asFound.flatMap((found) => found.wire ?? []),
    ]),
    pins: unique([...taps, ...through].map((tap) => tap.pin)),
    headers: unique([...taps, ...through].map((tap) => tap.header)),
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

/** A place written as a pin or header, of the board (J) or of the plug (P), or of an in-line connector or a half of it: `A3J4-7`, `a3p4-7`, `A3J4`, `X1F-2`. */
export function readPlace(place: string): { pin: string; header: string } {
  const inLine = /^(X\d{1,2})[BF]?(?:-(\d{1,2}))?$/i.exec(place.trim());
  if (inLine) return { header: inLine[1]?.toUpperCase() ?? '', pin: inLine[2] ? `${inLine[1]?.toUpperCase()}-${Number(inLine[2])}` : '' };
  const found = /^(A\d{1,2})[JP](\d{1,2})(?:-(\d{1,2}))?$/i.exec(place.trim());
  if (!found) return { pin: '', header: '' };
  const header = `${found[1]?.toUpperCase()}J${found[2]}`;
  return { header, pin: found[3] ? `${header}-${Number(found[3])}` : '' };
}
