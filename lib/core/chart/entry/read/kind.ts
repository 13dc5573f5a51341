/** What kind of list a table is, by the meanings of its columns. */

import type { Meaning, TableKind } from '../types';
import type { Headed } from './columns';
import { ask, type Reading } from './reading';

export interface Kind {
  kind: TableKind;
  sure: number;
  why: string;
}
const listKinds = ['switches', 'lamps', 'loads', 'strings', 'pins', 'harness', 'headers', 'lines'] as const;
type ListKind = (typeof listKinds)[number];
const kindWords: Readonly<Record<ListKind, string>> = {
  switches: 'Switches',
  lamps: 'Lamps',
  loads: 'Coils, flashers, motors, relays',
  strings: 'Lamp strings of the general illumination',
  pins: 'Which pin carries which line',
  harness: 'What stands behind each pin',
  headers: 'Headers: positions, pitch, keys',
  lines: 'Lines: wires, gauges, volts',
};

/** The kind that the headings speak for; by question where two are near. */
export function settleKind(reading: Reading, rows: readonly string[][], { columns, title, headRow }: Headed): Kind {
  const given = listKinds.find((kind) => kind === reading.answers.kind);
  if (given) return { kind: given, sure: 1, why: 'So it was answered.' };
  const has = (meaning: Meaning) => columns.reduce((most, c) => (c.meaning === meaning ? Math.max(most, c.sure) : most), 0);
  const any = (...all: Meaning[]) => Math.max(...all.map(has));
  const words = [title, ...columns.map((c) => c.why)].join(' ').toLowerCase();
  const word = (form: RegExp) => (form.test(words) ? 1 : 0);
  const mixed = linesOfManyKinds(rows.slice(headRow + 1), columns.find((c) => c.meaning === 'line')?.index) ? 1 : 0;
  const pair = Math.min(any('column', 'columnWire', 'columnPin'), any('row', 'rowWire', 'rowPin'));
  const axes = [any('column', 'columnWire', 'columnPin'), any('row', 'rowWire', 'rowPin')].filter((sure) => sure > 0.5).length;
  const oneAxis = axes === 1 && !has('name') && !has('number') && any('wire', 'pin', 'columnWire', 'rowWire', 'columnPin', 'rowPin') > 0;
  const scores: Record<ListKind, number> = {
    switches:
      has('name') +
      has('number') +
      pair +
      any('device', 'normally', 'diode', 'location') +
      word(/“[^”]*\b(switch|sw)\b|\bswitch/) -
      2 * word(/“[^”]*\b(lamp|coil|solenoid)\b/),
    lamps: has('name') + has('number') + pair + has('lampKind') + 2 * word(/\b(lamps?|bulbs?)\b/) - 1 - has('normally') - has('device'),
    loads:
      has('name') +
      has('number') +
      any('supply', 'driver') +
      has('loadKind') +
      any('ohms', 'volts') +
      has('fuse') +
      2 * word(/\b(coils?|solenoids?|flashers?|loads?|motors?)\b/) -
      1 -
      2 * pair,
    strings:
      1.5 * has('lampCount') +
      has('back') +
      has('taps') +
      has('name') +
      any('line', 'wire', 'pin', 'taps') +
      2 * word(/\billumination\b|\bstrings?\b|\bgi\b/) -
      1 -
      2 * pair,
    harness: 2 * has('step') + has('what') + has('pin') + has('number') - has('wire') - has('position') - 1,
    pins:
      1.5 * Math.min(has('header'), any('position', 'pin')) +
      1.5 * has('pin') +
      any('line', 'goesTo') +
      4 * any('half', 'farWire') +
      has('wire') -
      2 * pair -
      has('name') -
      has('number') -
      has('step'),
    headers:
      has('header') +
      2 * any('positions', 'pitch') +
      any('keys', 'plating', 'termination') -
      2 * has('position') -
      any('wire', 'line') -
      pair,
    lines:
      1.5 * has('line') +
      4 * mixed +
      (oneAxis ? 5 : 0) +
      any('gauge', 'volts', 'amps') +
      has('wire') -
      has('header') -
      any('position', 'pin') -
      2 * pair -
      has('number'),
  };
  const order = [...listKinds].sort((a, b) => scores[b] - scores[a]);
  const [first = 'switches', second = 'lamps'] = order;
  if (scores[first] < 1) {
    ask(reading, {
      id: 'kind',
      text: 'What is this table?',
      choices: listKinds.map((value) => ({ value, label: kindWords[value] })),
      why: 'Its headings and cells do not say it.',
      at: { row: 1, column: 1 },
    });
    return { kind: 'unknown', sure: 0, why: 'Its headings and cells do not say what it is.' };
  }
  const margin = (scores[first] - scores[second]) / Math.max(1, scores[first]);
  if (margin < 0.1) {
    ask(reading, {
      id: 'kind',
      text: `Is this a list of ${kindWords[first].toLowerCase()}?`,
      choices: order.slice(0, 3).map((value) => ({ value, label: kindWords[value] })),
      guess: first,
      why: 'Its headings fit more than one kind of list.',
      at: { row: 1, column: 1 },
    });
  }
  const meant = columns.filter((c) => c.meaning !== 'unused').map((c) => c.meaning);
  return { kind: first, sure: Math.min(0.98, 0.55 + margin), why: `It has ${meant.slice(0, 5).join(', ')}.` };
}

/** Each cell another line, and not of one kind: a list of the lines themselves. */
function linesOfManyKinds(body: readonly string[][], column: number | undefined): boolean {
  if (column === undefined) return false;
  const cells = body.slice(0, 200).flatMap((row) => row[column - 1]?.toLowerCase() || []);
  const kinds = new Set(cells.map((cell) => /^[a-z -]+/.exec(cell)?.[0].trim() ?? ''));
  return kinds.size > 2 && new Set(cells).size > 0.95 * cells.length;
}
