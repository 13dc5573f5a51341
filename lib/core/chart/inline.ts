/**
 * In-line connectors: a plug in the middle of a cable, where one loom parts from another. One half hangs towards the boards, the far half
 * towards the switches and loads; the wires of a position may differ in colour and gauge from half to half.
 */
import { beyondEach, firstInWords, type Hung, lampsOf, loadsOf, switchesOf } from './chain';
import type { Steps } from './entry/steps';
import { splitPin } from './names';
import type { Machine, Net } from './schema';
import type { Chart, Half, Inline, Through } from './types';
import { wireEnd } from './wire-end';

/** `X1-4` → `X1` and 4; null when it is no position of an in-line connector. */
export function splitInline(pin: string): { connector: string; position: number } | null {
  const at = isInline(pin) ? splitPin(pin) : null;
  return at && { connector: at.header, position: at.position };
}
/** True of `X1` and `X1-4`. */
export const isInline = (designator: string): boolean => /^X\d/.test(designator);

/** A header of a board or an in-line connector, by its designator. */
export const connectorOf = (chart: Pick<Chart, 'headers' | 'inline'>, id: string) => chart.headers.get(id) ?? chart.inline.get(id);

const pinsAStep = 100;

/** Each in-line connector with its positions, the wires those of the half towards the boards. Of two of one name the first is kept. */
export function* withPositions({ inline = [], inlinePins = [] }: Machine): Steps<Map<string, Inline>> {
  const all = new Map<string, Inline>();
  for (const { place = '', pinsOn = 'far', ...connector } of inline)
    if (!all.has(connector.id)) all.set(connector.id, { ...connector, place, pinsOn, pins: [] });
  for (const [i, { pin, net, wires }] of inlinePins.entries()) {
    if (i % pinsAStep === pinsAStep - 1) yield;
    const at = splitInline(pin);
    if (at) all.get(at.connector)?.pins.push({ position: at.position, net, ...(wires && { wires }) });
  }
  for (const { pins } of all.values()) pins.sort((a, b) => a.position - b.position);
  return all;
}

/** The positions by name, each with what hangs beyond it. */
export function* throughOf(
  machine: Machine,
  inline: ReadonlyMap<string, Inline>,
  nets: ReadonlyMap<string, Net>,
  nameOf: (number: string, kind: Hung) => string,
): Steps<Map<string, Through>> {
  const passes = new Map<string, Machine['chains'][number]['steps'][]>();
  for (const [i, chain] of machine.chains.entries()) {
    if (i % pinsAStep === pinsAStep - 1) yield;
    for (const { pin, steps } of beyondEach(chain.steps)) if (steps.length > 0) passes.set(pin, [...(passes.get(pin) ?? []), steps]);
  }
  const all = new Map<string, Through>();
  for (const [i, { pin, net, wires = [{}], far = wires }] of (machine.inlinePins ?? []).entries()) {
    if (i % pinsAStep === pinsAStep - 1) yield;
    const at = splitInline(pin);
    if (!at || all.has(pin) || !inline.has(at.connector)) continue;
    const ways = passes.get(pin) ?? [];
    const each = (numbersOf: (steps: Machine['chains'][number]['steps']) => string[]) => [...new Set(ways.flatMap(numbersOf))];
    const ends = (of: typeof wires) => of.map((wire) => wireEnd(wire, nets.get(net)));
    all.set(pin, {
      pin,
      header: at.connector,
      position: at.position,
      net,
      wires: { board: ends(wires), far: ends(far) },
      goesTo: ways.map((steps) => firstInWords(steps, nameOf)).join('; '),
      behind: each(switchesOf),
      loads: each(loadsOf),
      lamps: each(lampsOf),
    });
  }
  return all;
}

export const halves: readonly Half[] = ['board', 'far'];
const halfLetters: Readonly<Record<Half, string>> = { board: 'B', far: 'F' };

/** `X1` → `X1B` for the half towards the boards, `X1F` for the far one. */
export const halfName = (connector: string, half: Half): string => `${connector}${halfLetters[half]}`;
/** `X1F` → `X1` and far; null when it names no half. */
export function splitHalf(id: string): { connector: string; half: Half } | null {
  const [, connector, letter] = /^(X\d{1,2})([BF])$/.exec(id) ?? [];
  return connector ? { connector, half: letter === 'B' ? 'board' : 'far' } : null;
}

/** "X1, half towards the boards": how a half is called. */
export const halfTitle = (connector: string, half: Half): string =>
  `${connector}, ${half === 'board' ? 'half towards the boards' : 'far half'}`;
/** What the contacts of a half are. */
export const contactsOf = ({ pinsOn }: Pick<Inline, 'pinsOn'>, half: Half): 'pins' | 'sockets' => (pinsOn === half ? 'pins' : 'sockets');
