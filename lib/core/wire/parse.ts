/** Wire colours as people write them, in every notation in use. */
import { colourNames, colourOfDigit, colourOfLetters, colours, coloursOf, letterRank } from './colours';

export const notations = ['names', 'short', 'digits', 'letters'] as const;
export type Notation = (typeof notations)[number];

/** One way to read what was written. */
export interface WireReading {
  base: string;
  stripe?: string;
  /** False when the notation does not say which is base and which stripe (IEC 60757). */
  ordered: boolean;
  notation: Notation;
  /** False when a short form may mean several colours. */
  certain: boolean;
  /** GNYE: by IEC 60757 the protective earth, never a signal. */
  protectiveEarth?: boolean;
}

const longest = 60; // characters
const filler = /\b(?:an?|the|wire|wires|lead|coloured|colored|colour|color|insulation|line)\b/g;
const stripeWords = /\b(?:stripe[ds]?|tracer|trace|band|ring)\b/;

/**
 * All readings of a text that is nothing but one wire: `grey/orange`, `GRY-ORN`, `gy og`, `grey with an orange stripe`, `8-3`, `OGGY`,
 * a single colour. Empty when it is not a wire. More than one when a short form is ambiguous.
 */
export function parseWire(text: string): WireReading[] {
  const plain = text.trim().toLowerCase();
  if (plain === '' || plain.length > longest) return [];
  return digits(plain) ?? words(plain) ?? letters(plain) ?? [];
}

function digits(text: string): WireReading[] | null {
  const match = /^([0-9])\s*[-/]\s*([0-9])$/.exec(text);
  if (!match) return null;
  const base = colourOfDigit(Number(match[1]));
  const stripe = colourOfDigit(Number(match[2]));
  if (!base || !stripe) return null;
  return [pair(base, stripe, { ordered: true, notation: 'digits', certain: true })];
}

function words(text: string): WireReading[] | null {
  const swapped = new RegExp(`^(.+?)\\s+${stripeWords.source}\\s+(?:on|over)\\s+(.+)$`).exec(text) ?? /^(.+?)\s+on\s+(.+)$/.exec(text);
  const [first, second] = swapped ? [swapped[2] ?? '', swapped[1] ?? ''] : split(text);
  const bases = coloursOf(first);
  if (bases.length === 0) return null;
  if (second === undefined) {
    return bases.map((base) => ({ base, ordered: true, notation: notationOf(first), certain: bases.length === 1 }));
  }
  const stripes = coloursOf(second);
  if (stripes.length === 0) return null;
  const notation = notationOf(first) === 'names' && notationOf(second) === 'names' ? 'names' : 'short';
  const readings = bases
    .flatMap((b) => stripes.map((s) => [b, s] as const))
    .filter(([b, s]) => b !== s || (bases.length === 1 && stripes.length === 1));
  return readings.map(([b, s]) => pair(b, s, { ordered: true, notation, certain: readings.length === 1 }));
}

/** Two colour words, or one; anything else gives a word that no colour has. */
function split(text: string): [string, string | undefined] {
  const bare = text
    .replace(filler, ' ')
    .replace(/\b(?:with|and|plus)\b/g, ' ')
    .replace(stripeWords, ' ')
    .replace(/[-/+,|]/g, ' ')
    .trim();
  const parts = bare.split(/\s+/);
  return parts.length <= 2 ? [parts[0] ?? '', parts[1]] : ['', undefined];
}

function letters(text: string): WireReading[] | null {
  const match = /^([a-z]{2})([a-z]{2})$/.exec(text);
  if (!match) return null;
  const one = colourOfLetters(match[1] ?? '');
  const two = colourOfLetters(match[2] ?? '');
  if (!one || !two) return null;
  const reading = pair(one, two, { ordered: false, notation: 'letters', certain: true });
  return [text === 'gnye' ? { ...reading, protectiveEarth: true } : reading];
}

const notationOf = (word: string): Notation => (colourNames.includes(word) ? 'names' : 'short');
const pair = (base: string, stripe: string, rest: Pick<WireReading, 'ordered' | 'notation' | 'certain'>): WireReading =>
  base === stripe ? { base, ...rest } : { base, stripe, ...rest };

/** Writes a wire in a notation; null where that notation has no code for one of its colours, or (digits) for a single colour. */
export function formatWire(base: string, stripe: string | undefined, notation: Notation): string | null {
  const find = (name: string) => colours.find((c) => c.name === name);
  const all = [base, ...(stripe ? [stripe] : [])];
  switch (notation) {
    case 'names':
      return all.join('/');
    case 'short':
      return all.map((n) => find(n)?.short[0]?.toUpperCase() ?? n).join('-');
    case 'digits': {
      const codes = all.map((n) => find(n)?.digit ?? null);
      return stripe && codes.every((d) => d !== null) ? codes.join('-') : null;
    }
    case 'letters': {
      if (!stripe || all.some((n) => letterRank(n) < 0)) return null;
      return [...all]
        .sort((a, b) => letterRank(a) - letterRank(b))
        .map((n) => find(n)?.iec60757)
        .join('');
    }
  }
}

/** `grey/orange` as its colours. */
export function splitColour(colour: string): { base: string; stripe?: string } {
  const [base = '', stripe] = colour.split('/');
  return stripe ? { base, stripe } : { base };
}
export const joinColour = (base: string, stripe?: string) => (stripe ? `${base}/${stripe}` : base);
