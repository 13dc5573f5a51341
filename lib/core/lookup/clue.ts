/** Takes a clue apart: pins, headers, matrix lines, numbers, wires; what is left are words of a name or a place. */
import { parseWire, type WireReading } from '../wire/parse';

export interface Clue {
  numbers: string[];
  columns: number[];
  rows: number[];
  pins: string[]; // A3J4-7
  headers: string[]; // A3J4
  lamps: string[];
  wires: { text: string; readings: WireReading[] }[];
  words: string[];
}

const longestWire = 6; // words
const noise = new Set('the a an of on at in is its to and with switch sw wire pin no number which what where'.split(' '));

export function readClue(text: string): Clue {
  const clue: Clue = { numbers: [], columns: [], rows: [], pins: [], headers: [], lamps: [], wires: [], words: [] };
  const take = (pattern: RegExp, keep: (match: RegExpMatchArray) => void) => (rest: string) =>
    rest.replace(pattern, (...args) => {
      keep(args as unknown as RegExpMatchArray);
      return ' ; ';
    });
  const upper = (s: string | undefined) => (s ?? '').toUpperCase();
  const rest = [
    take(/\b(A\d{1,2})[JP](\d{1,2})\s*(?:[-.:]|\s+pin\s*|\s+)\s*(\d{1,2})\b/gi, (m) =>
      clue.pins.push(`${upper(m[1])}J${m[2]}-${Number(m[3])}`),
    ),
    take(/\b(A\d{1,2})[JP](\d{1,2})\b/gi, (m) => clue.headers.push(`${upper(m[1])}J${m[2]}`)),
    take(/\blamp\s*#?(\d{1,3})\b/gi, (m) => clue.lamps.push(m[1] ?? '')),
    take(/\b(?:col(?:umn)?\.?|strobe|c)\s*(\d{1,2})(?![-/\d])\b/gi, (m) => clue.columns.push(Number(m[1]))),
    take(/\b(?:row|return|r)\s*(\d{1,2})(?![-/\d])\b/gi, (m) => clue.rows.push(Number(m[1]))),
    take(/(?:\b(?:switch|sw|no\.?|number)\s*#?|#)([a-z]?\d{1,3})\b/gi, (m) => clue.numbers.push(upper(m[1]))),
    take(/(?<![\d/-])\b([a-z]?\d{1,3})\b(?!\s*[-/]\s*\d)/gi, (m) => clue.numbers.push(upper(m[1]))),
  ].reduce((s, step) => step(s), text.toLowerCase());
  for (const stretch of rest.split(';')) wiresAndWords(stretch.trim().split(/\s+/).filter(Boolean), clue);
  return clue;
}

/** The longest run of words that is a wire with a stripe is a wire; a lone colour is one too; the rest are words. */
function wiresAndWords(words: string[], clue: Clue) {
  for (let at = 0; at < words.length; ) {
    const hit = wireAt(words, at);
    if (hit) {
      clue.wires.push(hit);
      at += hit.length;
      continue;
    }
    const word = fold(words[at] ?? '');
    if (word.length > 1 && !noise.has(word)) clue.words.push(word);
    at += 1;
  }
}

function wireAt(words: string[], at: number) {
  for (let length = Math.min(longestWire, words.length - at); length >= 1; length -= 1) {
    const text = words.slice(at, at + length).join(' ');
    const readings = parseWire(text);
    if (readings.length === 0 || (length === 1 && text.length === 1)) continue;
    if (length > 1 && !readings.some((r) => r.stripe)) continue;
    return { text, readings, length };
  }
  return null;
}

/** Lower case, accents and punctuation gone. */
export const fold = (word: string) =>
  word
    .normalize('NFKD')
    .replace(/\p{M}|[^\p{L}\p{N}]/gu, '')
    .toLowerCase();
