/** Takes a clue apart, left to right: pins, connectors, lines, numbers, wires, kinds of thing; what is left are words of a name or place. */
import { parseWire, type WireReading } from '../wire/parse';
import type { Candidate } from './types';
import { fold } from './words';

export type Piece = { text: string } & (
  | { is: 'pin'; board: string | null; connector: number; position: number }
  | { is: 'header'; board: string | null; connector: number }
  | { is: 'line'; kind: 'switch-column' | 'switch-row' | 'lamp-column' | 'lamp-row' | 'direct'; number: number }
  /** `of`: which things the number was said to be of; null for a bare number. */
  | { is: 'number'; number: string; of: Candidate['kind'] | null }
  | { is: 'wire'; readings: WireReading[] }
  | { is: 'kind'; kind: Candidate['kind'] }
  | { is: 'word'; word: string }
);

type Reader = (rest: string, alone: boolean) => { piece: Piece; length: number } | null;

const readers: Reader[] = [
  byPattern(
    /^(?:(a\d{1,2}) ?)?[jp](\d{1,2})(?: ?[-.:/] ?| (?:pin|position|pos) | )(\d{1,2})(?= |$)/,
    (text, [, board, connector, position]) => ({
      text: text.toUpperCase(),
      is: 'pin',
      board: board?.toUpperCase() ?? null,
      connector: Number(connector),
      position: Number(position),
    }),
  ),
  byPattern(/^(?:(a\d{1,2}) ?)?[jp](\d{1,2})(?= |$)/, (text, [, board, connector]) => ({
    text: text.toUpperCase(),
    is: 'header',
    board: board?.toUpperCase() ?? null,
    connector: Number(connector),
  })),
  byPattern(/^(lamp )?(?:(col|column|strobe|c)|row|return|r)[ .-]{0,2}(\d{1,2})(?= |$)/, (text, [, lamp, column, number]) => ({
    text,
    is: 'line',
    kind: `${lamp ? 'lamp' : 'switch'}-${column ? 'column' : 'row'}`,
    number: Number(number),
  })),
  byPattern(/^direct (\d{1,2})(?= |$)/, (text, [, number]) => ({ text, is: 'line', kind: 'direct', number: Number(number) })),
  byPattern(/^(?:switch|sw|#)[ .#]{0,3}([a-z]?\d{1,3})(?= |$)/, (text, [, number]) => ({
    text,
    is: 'number',
    number: (number ?? '').toUpperCase(),
    of: 'circuit',
  })),
  byPattern(/^lamp[ .#]{0,3}(\d{1,3})(?= |$)/, (text, [, number]) => ({ text, is: 'number', number: number ?? '', of: 'lamp' })),
  byPattern(/^(?:coil|load|flasher)[ .#]{0,3}(l?\d{1,3})(?= |$)/, (text, [, number]) => ({
    text,
    is: 'number',
    number: (number ?? '').toUpperCase(),
    of: 'load',
  })),
  wireReader,
  byPattern(/^(?:(?:number|no|nr)[ .]{0,2})?([a-z]?\d{1,3})(?= |$)/, (text, [, number]) => ({
    text,
    is: 'number',
    number: (number ?? '').toUpperCase(),
    of: null,
  })),
];

const kinds: Record<string, Candidate['kind']> = {
  switch: 'circuit',
  switches: 'circuit',
  sw: 'circuit',
  lamp: 'lamp',
  lamps: 'lamp',
  coil: 'load',
  coils: 'load',
  solenoid: 'load',
  flasher: 'load',
  motor: 'load',
  relay: 'load',
};
const noise = new Set(
  'a an and are as at be by circuit connector for from has header in is it its line my no not number of on or our pin plug position so that the this to was what when where which wire wires with'.split(
    ' ',
  ),
);

/** Pieces in the order typed; words without a meaning of their own ("the", "pin") are left out. */
export function readClue(clue: string): Piece[] {
  const words = fold(clue)
    .replace(/\b([cr]\d{1,2})[,/]?([cr]\d{1,2})\b/g, '$1 $2')
    .split(/[\s,;]+/)
    .map((word) => word.replace(/^[("'“”‘’]+|[)"'“”‘’.!?:]+$/g, ''))
    .filter(Boolean);
  const pieces: Piece[] = [];
  for (let at = 0; at < words.length; ) {
    const rest = words.slice(at).join(' ');
    const hit = firstHit(rest, at === 0);
    if (hit) pieces.push(hit.piece);
    else pieces.push(...wordPiece(words[at] ?? ''));
    at += hit?.length ?? 1;
  }
  return pieces;
}

function firstHit(rest: string, first: boolean) {
  for (const read of readers) {
    const hit = read(rest, first && !rest.includes(' '));
    if (hit) return hit;
  }
  return null;
}

function wordPiece(word: string): Piece[] {
  const kind = kinds[word];
  if (kind) return [{ text: word, is: 'kind', kind }];
  const plain = word.replace(/[^\p{L}\p{N}]+/gu, ' ').trim();
  return plain === '' || noise.has(plain) ? [] : plain.split(' ').map((part) => ({ text: part, is: 'word', word: part }));
}

function byPattern(pattern: RegExp, make: (text: string, match: RegExpExecArray) => Piece): Reader {
  return (rest) => {
    const match = pattern.exec(rest);
    return match ? { piece: make(match[0], match), length: match[0].split(' ').length } : null;
  };
}

const longestWire = 7; // words: "an orange striped wire on the grey …"

/** The longest run of words that is one wire. A short form without a stripe ("g", "br") counts only when it is the whole clue. */
function wireReader(rest: string, alone: boolean): ReturnType<Reader> {
  const words = rest.split(' ');
  for (let length = Math.min(longestWire, words.length); length >= 1; length -= 1) {
    const text = words.slice(0, length).join(' ');
    const readings = parseWire(text);
    const sure = length === 1 ? alone || readings.some((r) => r.certain) : readings.some((r) => r.stripe || r.notation === 'words');
    if (readings.length > 0 && sure) return { piece: { text, is: 'wire', readings }, length };
  }
  return null;
}
