/** What kind of list a table is, by the meanings of its columns. */
import type { Headed } from './columns';
import { ask, type Reading } from './reading';
import type { Meaning, TableKind } from './types';

export interface Kind {
  kind: TableKind;
  sure: number;
  why: string;
}
const listKinds = ['switches', 'lamps', 'loads', 'pins', 'headers', 'lines'] as const;
type ListKind = (typeof listKinds)[number];
const kindWords: Readonly<Record<ListKind, string>> = {
  switches: 'Switches',
  lamps: 'Lamps',
  loads: 'Coils, flashers, motors, relays',
  pins: 'Which pin carries which line',
  headers: 'Headers: positions, pitch, keys',
  lines: 'Lines: wires, gauges, volts',
};

/** The kind that the headings speak for; by question where two are near. */
export function settleKind(reading: Reading, { columns, title }: Headed): Kind {
  const given = listKinds.find((kind) => kind === reading.answers.kind);
  if (given) return { kind: given, sure: 1, why: 'So it was answered.' };
  const has = (meaning: Meaning) => columns.reduce((most, c) => (c.meaning === meaning ? Math.max(most, c.sure) : most), 0);
  const any = (...all: Meaning[]) => Math.max(...all.map(has));
  const words = [title, ...columns.map((c) => c.why)].join(' ').toLowerCase();
  const word = (form: RegExp) => (form.test(words) ? 1 : 0);
  const pair = Math.min(any('column', 'columnWire', 'columnPin'), any('row', 'rowWire', 'rowPin'));
  const scores: Record<ListKind, number> = {
    switches:
      has('name') +
      has('number') +
      pair +
      any('device', 'normally', 'diode') +
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
    pins:
      1.5 * Math.min(has('header'), any('position', 'pin')) +
      1.5 * has('pin') +
      any('line', 'goesTo') +
      has('wire') -
      2 * pair -
      has('name') -
      has('number'),
    headers:
      has('header') +
      2 * any('positions', 'pitch') +
      any('keys', 'plating', 'termination') -
      2 * has('position') -
      any('wire', 'line') -
      pair,
    lines:
      1.5 * has('line') + any('gauge', 'volts', 'amps') + has('wire') - has('header') - any('position', 'pin') - 2 * pair - has('number'),
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
