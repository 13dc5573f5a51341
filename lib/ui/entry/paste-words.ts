/** What the importer's words are called on the screen. */
import type { Meaning, TableKind } from '@/lib/core/chart/entry';

export const kindWords: Readonly<Record<TableKind, string>> = {
  'switch-matrix': 'the switch matrix, drawn as a grid',
  'lamp-matrix': 'the lamp matrix, drawn as a grid',
  switches: 'a list of switches',
  lamps: 'a list of lamps',
  loads: 'a list of coils, flashers, motors and relays',
  strings: 'a list of general illumination',
  pins: 'a list of connector pins',
  harness: 'a list of what stands behind each pin',
  headers: 'a list of headers',
  lines: 'a list of lines',
  unknown: 'something that was not recognised',
};
const meaningsApart: Readonly<Partial<Record<Meaning, string>>> = {
  columnWire: 'wire of the column',
  rowWire: 'wire of the row',
  columnPin: 'pin of the column',
  rowPin: 'pin of the row',
  normally: 'at rest',
  location: 'where',
  back: 'line back',
  lampCount: 'number of lamps',
  taps: 'fed at pins',
  emitterSupply: 'light fed by',
  also: 'other numbers',
  what: 'what stands there',
  loadKind: 'kind of load',
  lampKind: 'kind of bulb',
  termination: 'how wires are held',
  pinRows: 'rows of pins',
  pinNumbering: 'how positions run',
  skipLetters: 'letters left out',
  keyCounted: 'whether keys are counted',
  pinMm: 'pin, mm',
  half: 'half of an in-line connector',
  farWire: 'wire of the far half',
  pinsOn: 'half with the pins',
  nature: 'a.c. or d.c.',
  strandGauge: 'gauge of a strand',
  strandMm: 'strand, mm',
  wireNote: 'note on the wire',
  stored: 'stored charge',
  run: 'longest run',
  unused: 'left out',
};
/** A meaning in words; most of them say themselves. */
export const meaningWord = (meaning: Meaning): string => meaningsApart[meaning] ?? meaning.replace(/[A-Z]/g, (c) => ` ${c.toLowerCase()}`);

export const count = (n: number, one: string, many: string) => `${n.toLocaleString('en-GB')} ${n === 1 ? one : many}`;
