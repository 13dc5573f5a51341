/** Reads what was typed in the search box: clues (wires, pins, headers, switch numbers, board designs, machines) and plain words. */
import { parseWire } from '@/lib/core/wire';
import type { QueryPart } from './types';

/** What the club's own data adds to reading a query. */
export interface Vocabulary {
  machines: { id: string; title: string }[];
  designs: string[];
  /** Groups of words that mean the same in the trade. */
  thesaurus: readonly (readonly string[])[];
}

export const longestQuery = 300; // characters

const stop = new Set(
  'a an and are as at be but by for from has have he her his i in is it its my no not of on or our she so that the their then there they this to was we were when with you your'.split(
    ' ',
  ),
);
const longestPhrase = 4; // words: "after half an hour"
const longestWire = 6; // words: "grey with an orange stripe" and one to spare

const split = (query: string): string[] =>
  query
    .slice(0, longestQuery)
    .split(/[\s\p{Cc}]+/u)
    .filter(Boolean); // a null character ends in an error of the database

/** Parts in the order typed. A word that belongs to a clue is not repeated as a word. */
export function readQuery(query: string, vocabulary: Vocabulary): QueryPart[] {
  const words = split(query);
  const parts: QueryPart[] = [];
  for (let at = 0; at < words.length; ) {
    const hit = clueAt(words, at, vocabulary) ?? phraseAt(words, at, vocabulary.thesaurus);
    if (hit) {
      parts.push(hit.part);
      at += hit.length;
      continue;
    }
    const part = word(words[at] ?? '', vocabulary.thesaurus);
    if (part) parts.push(part);
    at += 1;
  }
  return parts;
}

/** The clues of a query, and what is left of it to be read as a symptom. */
export function splitQuery(query: string, vocabulary: Vocabulary): { clues: QueryPart[]; rest: string } {
  const words = split(query);
  const clues: QueryPart[] = [];
  const rest: string[] = [];
  for (let at = 0; at < words.length; ) {
    const hit = clueAt(words, at, vocabulary);
    if (hit) clues.push(hit.part);
    else rest.push(words[at] ?? '');
    at += hit?.length ?? 1;
  }
  return { clues, rest: rest.join(' ') };
}

type Hit = { part: QueryPart; length: number };
const clue = (as: QueryPart['as'], text: string, value: string, label: string, length: number): Hit => ({
  part: { text, as, value, label, synonyms: [] },
  length,
});

function clueAt(words: string[], at: number, { machines, designs }: Vocabulary): Hit | null {
  const first = words[at] ?? '';
  const next = words[at + 1] ?? '';
  const pin = /^(A\d{1,2})[JP](\d{1,2})[-.:](\d{1,2})$/i.exec(first);
  if (pin) return pinHit(first, pin, 1);
  const header = /^(A\d{1,2})[JP](\d{1,2})$/i.exec(first);
  if (header) {
    const position = /^(?:pin)?(\d{1,2})$/i.exec(/^pin$/i.test(next) ? (words[at + 2] ?? '') : next);
    if (position) {
      const length = /^pin$/i.test(next) ? 3 : 2;
      return pinHit(words.slice(at, at + length).join(' '), [first, header[1] ?? '', header[2] ?? '', position[1] ?? ''], length);
    }
    const id = `${header[1]}J${header[2]}`.toUpperCase();
    return clue('header', first, id, `connector ${id}`, 1);
  }
  if (/^(sw|switch|no\.?|number)$/i.test(first) && /^[A-Z]?\d{1,3}$/i.test(next)) {
    return clue('circuit', `${first} ${next}`, next.toUpperCase(), `switch ${next.toUpperCase()}`, 2);
  }
  const number = /^(?:sw|#)?([A-Z]?\d{2,3})$/i.exec(first);
  if (number && !counts(words, at))
    return clue('circuit', first, (number[1] ?? '').toUpperCase(), `switch ${(number[1] ?? '').toUpperCase()}`, 1);
  const design = designs.find((d) => d.toLowerCase() === first.toLowerCase());
  if (design) return clue('board-design', first, design, `board design ${design}`, 1);
  for (const machine of machines) {
    const name = machine.title
      .toLowerCase()
      .split(/[\s,]+/)
      .slice(0, 2);
    if (name.length === 2 && name.every((w, i) => plainWord(words[at + i] ?? '') === w)) {
      return clue('machine', words.slice(at, at + 2).join(' '), machine.id, machine.title, 2);
    }
  }
  for (let length = Math.min(longestWire, words.length - at); length >= 1; length -= 1) {
    const text = words.slice(at, at + length).join(' ');
    const pairs = [
      ...new Set(
        parseWire(text)
          .filter((r) => r.stripe)
          .map((r) => `${r.base}/${r.stripe}`),
      ),
    ];
    const pair = pairs[0];
    if (pair) {
      const hit = clue('wire', text, pair, `wire ${pair}, either way round`, length);
      hit.part.synonyms = pairs.slice(1);
      return hit;
    }
  }
  return null;
}

const counted =
  /^(%|of|times?|turns?|counts?|presses|games?|balls?|sec|secs|seconds?|min|mins|minutes?|h|hours?|days?|weeks?|months?|years?|mm|cm|m|v|volts?|amps?|ohms?|Ω|w|watts?|°?c|degrees)$/i;

/** A number that counts or measures something, such as "20 minutes" or "3 of 20", names no switch. */
const counts = (words: string[], at: number): boolean =>
  /^\d+$/.test(words[at] ?? '') && (counted.test(plainWord(words[at + 1] ?? '')) || /^(of|after|every)$/i.test(words[at - 1] ?? ''));

/** An expression of the trade in several words, such as "comes and goes"; the longest that fits. */
function phraseAt(words: string[], at: number, thesaurus: Vocabulary['thesaurus']): Hit | null {
  for (let length = Math.min(longestPhrase, words.length - at); length >= 2; length -= 1) {
    const text = words.slice(at, at + length).join(' ');
    const part = partOf(
      text,
      words
        .slice(at, at + length)
        .map(plainWord)
        .join(' '),
      thesaurus,
    );
    if (part.synonyms.length > 0) return { part, length };
  }
  return null;
}

function pinHit(text: string, match: ArrayLike<string>, length: number): Hit {
  const value = `${match[1]}J${match[2]}-${Number(match[3])}`.toUpperCase();
  return clue('pin', text, value, `pin ${value}`, length);
}

function word(text: string, thesaurus: Vocabulary['thesaurus']): QueryPart | null {
  const plain = plainWord(text);
  return plain.length < 2 || stop.has(plain) ? null : partOf(text, plain, thesaurus);
}

const plainWord = (text: string): string => text.toLowerCase().replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, '');

function partOf(text: string, plain: string, thesaurus: Vocabulary['thesaurus']): QueryPart {
  const synonyms = [...new Set(thesaurus.filter((group) => group.some((w) => w === plain)).flat())].filter((w) => w !== plain);
  return {
    text,
    as: 'word',
    value: plain,
    label: synonyms.length ? `“${plain}” and ${synonyms.slice(0, 3).join(', ')}` : `“${plain}”`,
    synonyms,
  };
}
