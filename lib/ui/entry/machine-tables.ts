/** The tables of a machine. */
import { deviceWords, diodeWords, halfWords, lampWords, loadWords, restWords } from '@/lib/core/chart/entry/read/synonyms';
import { chain, directSwitch, illumination, inlineConnector, inlinePin, lamp, load, matrixSwitch, netKinds } from '@/lib/core/chart/schema';
import { choice, line, number, text, texts, wires, yesNo } from './cell-types';
import { steps } from './chain-text';
import { faceColumns } from './face-columns';
import type { ColumnSpec, TableSpec } from './types';

const contact: ColumnSpec[] = [
  { path: 'device', head: 'Device', type: choice(['leaf', 'microswitch', 'reed', 'opto', 'other'], deviceWords) },
  { path: 'normally', head: 'At rest', type: choice(['open', 'closed'], restWords), width: 'narrow' },
];
const more: ColumnSpec[] = [
  { path: 'location', head: 'Where', type: text, width: 'wide' },
  { path: 'also', head: 'Other numbers', type: texts },
  { path: 'emitterSupply', head: 'Light fed by', type: line(['supply']) },
  { path: 'optoBoard', head: 'Opto board', type: text },
];
const cell: ColumnSpec[] = [
  { path: 'number', head: 'No.', type: text, width: 'narrow', mono: true },
  { path: 'name', head: 'Name', type: text, width: 'wide', need: true },
  { path: 'column', head: 'Column', type: number, need: true, mono: true },
  { path: 'row', head: 'Row', type: number, need: true, mono: true },
];

export const machineTables: readonly TableSpec[] = [
  {
    key: 'switches',
    title: 'Switches',
    about: 'Every place of the matrix has a row. Name those that the machine has; leave the others blank.',
    shape: matrixSwitch,
    names: ['number', 'column', 'row'],
    columns: [
      ...cell,
      ...contact,
      { path: 'diode', head: 'Diode', type: choice(['at the switch', 'on a strip', 'on the board'], diodeWords) },
      ...more,
      { path: 'parallel', head: 'Parallel', type: yesNo, width: 'narrow' },
    ],
  },
  {
    key: 'direct',
    title: 'Direct switches',
    about: 'Switches with an input of their own, outside the matrix.',
    shape: directSwitch,
    names: ['number', 'net'],
    columns: [
      { path: 'number', head: 'No.', type: text, width: 'narrow', need: true, mono: true },
      { path: 'name', head: 'Name', type: text, width: 'wide', need: true },
      { path: 'net', head: 'Line', type: line(['direct']), need: true, mono: true },
      ...contact,
      ...more,
    ],
  },
  {
    key: 'lamps',
    title: 'Lamps',
    about: 'Every place of the lamp matrix has a row.',
    shape: lamp,
    names: ['number', 'column', 'row'],
    columns: [...cell, { path: 'kind', head: 'Bulb', type: choice(['tungsten', 'led'], lampWords) }],
  },
  {
    key: 'loads',
    title: 'Loads',
    about: 'Coils, flashers, motors and relays. Each has a line that drives it and a supply.',
    shape: load,
    names: ['number', 'net'],
    columns: [
      { path: 'number', head: 'No.', type: text, width: 'narrow', need: true, mono: true },
      { path: 'name', head: 'Name', type: text, width: 'wide', need: true },
      { path: 'kind', head: 'Kind', type: choice(['coil', 'flasher', 'motor', 'relay'], loadWords), need: true },
      { path: 'net', head: 'Line', type: line(['load']), need: true, mono: true },
      { path: 'supply', head: 'Supply', type: line(['supply']), need: true, mono: true },
      { path: 'fuse', head: 'Fuse', type: text },
      { path: 'ohms', head: 'Ohms', type: number, width: 'narrow' },
      { path: 'volts', head: 'Volts', type: number, width: 'narrow' },
      { path: 'windings', head: 'Windings', type: choice(['single', 'double']) },
      { path: 'holdOhms', head: 'Hold ohms', type: number, width: 'narrow' },
      { path: 'flyback', head: 'Diode', type: choice(['at the coil', 'on the board', 'none']) },
      { path: 'pulsed', head: 'Pulsed', type: yesNo, width: 'narrow' },
      { path: 'predriver', head: 'Predriver', type: text, width: 'narrow' },
    ],
  },
  {
    key: 'illumination',
    title: 'General illumination',
    about: 'Strings of lamps that are all lit together, each with the line that feeds it and the line back.',
    shape: illumination,
    names: ['id'],
    columns: [
      { path: 'id', head: 'String', type: text, width: 'narrow', need: true, mono: true },
      { path: 'name', head: 'Name', type: text, width: 'wide', need: true },
      { path: 'net', head: 'Line', type: line(['illumination', 'supply']), need: true, mono: true },
      { path: 'back', head: 'Line back', type: line(['illumination', 'ground']), need: true, mono: true },
      { path: 'lamps', head: 'Lamps', type: number, width: 'narrow', need: true },
      { path: 'fuse', head: 'Fuse', type: text },
      { path: 'volts', head: 'Volts', type: number, width: 'narrow' },
      { path: 'supply', head: 'Current', type: choice(['ac', 'dc']), width: 'narrow' },
      { path: 'taps', head: 'Fed at pins', type: texts },
    ],
  },
  {
    key: 'chains',
    title: 'Harness',
    about:
      'How the wire runs behind a pin: X1-4 > 16 > 46 > S2 (26 > 36 | 56). X1-4 is a position of an in-line connector; S2 is a splice, its branches stand in brackets.',
    shape: chain,
    names: ['tap'],
    columns: [
      { path: 'tap', head: 'Pin', type: text, need: true, mono: true },
      { path: 'steps', head: 'Runs to, in order from the board', type: steps, width: 'wide', need: true },
    ],
  },
  {
    key: 'inline',
    title: 'In-line connectors',
    about: 'Plugs in the middle of a cable, such as where the playfield parts from the cabinet. Their positions come in the next table.',
    shape: inlineConnector,
    names: ['id'],
    columns: [
      { path: 'id', head: 'In line', type: text, width: 'narrow', need: true, mono: true },
      { path: 'name', head: 'Name', type: text, width: 'wide' },
      { path: 'place', head: 'Where', type: text, width: 'wide' },
      ...faceColumns,
      { path: 'pinsOn', head: 'Half with pins', type: choice(['board', 'far'], halfWords) },
    ],
  },
  {
    key: 'inlinePins',
    title: 'In-line pins',
    about:
      'Which line each position carries. Wires only where they differ from their line; those of the far half where they differ from the first.',
    shape: inlinePin,
    names: ['pin'],
    columns: [
      { path: 'pin', head: 'Pin', type: text, need: true, mono: true },
      { path: 'net', head: 'Line', type: line([...netKinds]), need: true, mono: true },
      { path: 'wires', head: 'Wires towards the boards', type: wires, width: 'wide' },
      { path: 'far', head: 'Wires of the far half', type: wires, width: 'wide' },
    ],
  },
];

/** One row each in the table of the machine itself. */
export const machineFields: readonly ColumnSpec[] = [
  { path: 'name', head: 'Name', type: text, need: true },
  { path: 'unit', head: 'The club’s mark', type: text },
  { path: 'sort', head: 'What it is', type: text },
  { path: 'serial', head: 'Serial number', type: text },
  { path: 'since', head: 'In the club since', type: text },
  { path: 'numbering.order', head: 'Numbers are', type: choice(['column-row', 'row-column', 'down-columns', 'along-rows']), need: true },
  { path: 'numbering.first', head: 'First number of a sequence', type: number },
  { path: 'numbering.width', head: 'Digits of a number', type: number },
  { path: 'numbering.base.column', head: 'Digit of the first column', type: number },
  { path: 'numbering.base.row', head: 'Digit of the first row', type: number },
  { path: 'numbering.radix', head: 'Counted in', type: choice([8, 10, 16]) },
  { path: 'numbering.prefix', head: 'Letters before a number', type: text },
];
