/** Takes a clue apart, left to right: pins, connectors, lines, numbers, wires, kinds of thing; what is left are words of a name or place. */
import type { StripeOrder } from '../wire/format';
import { parseWire, type WireReading } from '../wire/parse';
import type { Candidate } from './types';
import { fold } from './words';

export type Piece = { text: string } & (
  | { is: 'pin'; board: string | null; connector: number; position: number }
  /** A pin by the letter that is printed beside it, as on a card edge. */
  | { is: 'lettered-pin'; board: string | null; connector: number; letter: string }
  | { is: 'header'; board: string | null; connector: number }
  | { is: 'board'; board: string }
  | { is: 'position'; position: number }
  | { is: 'line'; kind: 'switch-column' | 'switch-row' | 'lamp-column' | 'lamp-row' | 'direct'; number: number }
  /** `of`: which things the number was said to be of; null for a bare number. */
  | { is: 'number'; number: string; of: Candidate['kind'] | null }
  /** `insteadOf`: what was typed, when the reading is a guess at a wire that faded. */
  | { is: 'wire'; readings: (WireReading & { insteadOf?: string })[] }
  | { is: 'kind'; kind: Candidate['kind'] }
  | { is: 'word'; word: string }
);

/** In place of a board: the connector hangs in a cable. Its halves, X1B and X1F, are asked for by their own names too. */
export const inLine = 'X';
/** `A3J4`, or `X1`; without a board the end of the name. */
export const designatorOf = ({ board, connector }: { board: string | null; connector: number }): string =>
  board === inLine ? `${inLine}${connector}` : `${board ?? ''}J${connector}`;

type Reader = (rest: string, alone: boolean, stripeOrder: StripeOrder) => { piece: Piece; length: number } | null;

const readers: Reader[] = [
  byPattern(/^x ?(\d{1,2})[bf]?(?: ?[-.:/#] ?| ?(?:pin|position|pos) ?| )(\d{1,2})(?= |$)/, (text, [, connector, position]) => ({
    text: text.toUpperCase(),
    is: 'pin',
    board: inLine,
    connector: Number(connector),
    position: Number(position),
  })),
  byPattern(/^x(\d{1,2})[bf]?(?= |$)/, (text, [, connector]) => ({
    text: text.toUpperCase(),
    is: 'header',
    board: inLine,
    connector: Number(connector),
  })),
  byPattern(
    /^(?:(a\d{1,2})[ -]?)?[jp](\d{1,2})(?: ?[-.:/#] ?| ?(?:pin|position|pos) ?| )(\d{1,2})(?= |$)/,
    (text, [, board, connector, position]) => ({
      text: text.toUpperCase(),
      is: 'pin',
      board: board?.toUpperCase() ?? null,
      connector: Number(connector),
      position: Number(position),
    }),
  ),
  byPattern(/^(?:(a\d{1,2})[ -]?)?[jp](\d{1,2})[-.:/#](([a-z])\4{0,2})(?= |$)/, (text, [, board, connector, letter]) => ({
    text: text.toUpperCase(),
    is: 'lettered-pin',
    board: board?.toUpperCase() ?? null,
    connector: Number(connector),
    letter: letter?.toUpperCase() ?? '',
  })),
  byPattern(/^(?:(a\d{1,2})[ -]?)?[jp](\d{1,2})(?= |$)/, (text, [, board, connector]) => ({
    text: text.toUpperCase(),
    is: 'header',
    board: board?.toUpperCase() ?? null,
    connector: Number(connector),
  })),
  byPattern(/^a\d{1,2}(?= |$)/, (text) => ({ text, is: 'board', board: text.toUpperCase() })),
  byPattern(/^(?:pin|position|pos)[ .#]{0,2}(\d{1,2})(?= |$)/, (text, [, position]) => ({
    text,
    is: 'position',
    position: Number(position),
  })),
  byPattern(/^(lamp )?(?:(col|column|strobe|c)|row|return|r)[ .:=-]{0,2}(\d{1,2})(?= |$)/, (text, [, lamp, column, number]) => ({
    text,
    is: 'line',
    kind: `${lamp ? 'lamp' : 'switch'}-${column ? 'column' : 'row'}`,
    number: Number(number),
  })),
  byPattern(/^direct (\d{1,2})(?= |$)/, (text, [, number]) => ({ text, is: 'line', kind: 'direct', number: Number(number) })),
  byPattern(/^(?:switch|sw|#)[ .:#-]{0,3}([a-z]?\d{1,3})(?= |$)/, (text, [, number]) => ({
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

/** A clue as folded words, cell names ("c4r6") and numbered names ("lantern1") taken apart. */
export const clueWords = (clue: string): string[] =>
  fold(clue)
    .replace(/\b((?:column|col|row|c|r)\d{1,2})[,/x-]?((?:column|col|row|c|r)\d{1,2})\b/g, '$1 $2')
    .replace(/\b(?!sw[a-z]\d)([a-z]{3,})(\d{1,3})\b/g, '$1 $2')
    .replace(/[+&]/g, ' + ')
    .split(/[\s,;]+/)
    .map((word) => word.replace(/^[("'“”‘’]+|[)"'“”‘’.!?:]+$/g, ''))
    .filter(Boolean);

/** Pieces in the order typed; words without a meaning of their own ("the", "pin") are left out. */
export function readClue(clue: string, stripeOrder: StripeOrder = 'base-stripe'): Piece[] {
  const words = clueWords(clue);
  const pieces: Piece[] = [];
  for (let at = 0; at < words.length; ) {
    const rest = words.slice(at).join(' ');
    const hit = firstHit(rest, at === 0, stripeOrder);
    if (hit) pieces.push(hit.piece);
    else pieces.push(...wordPiece(words[at] ?? ''));
    at += hit?.length ?? 1;
  }
  return pieces;
}

function firstHit(rest: string, first: boolean, stripeOrder: StripeOrder) {
  for (const read of readers) {
    const hit = read(rest, first && !rest.includes(' '), stripeOrder);
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
function wireReader(rest: string, alone: boolean, stripeOrder: StripeOrder): ReturnType<Reader> {
  const words = rest.split(' ', longestWire);
  for (let length = Math.min(longestWire, words.length); length >= 1; length -= 1) {
    const text = words.slice(0, length).join(' ');
    const readings = parseWire(text, stripeOrder);
    const sure = length === 1 ? alone || readings.some((r) => r.certain) : readings.some((r) => r.stripe || r.notation === 'words');
    if (readings.length > 0 && sure) return { piece: { text, is: 'wire', readings }, length };
  }
  return null;
}
