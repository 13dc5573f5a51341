/** The wire colours of one table: a code means one colour throughout, so an unclear one is settled once for all its cells. */
import { readColour } from '@/lib/core/wire/colours';
import { joinColour, type StripeOrder } from '@/lib/core/wire/format';
import { parseWire, type WireReading } from '@/lib/core/wire/parse';
import type { Steps } from '../steps';
import { type At, ask, found, type Reading } from './reading';

/** A wire cell; `line` is the colour that the chart has for its line, where both are known. */
export interface WireCell {
  text: string;
  at: At;
  line?: string;
}
type WireRead = { colour: string } | { why: string };
interface Colours {
  read(text: string, line?: string): WireRead;
}

const pairShape = /^([a-z]+)(\s*[-/\\_.|]\s*|\s+)([a-z]+)$/i;
const tidy = /^[!-~]+(?: [!-~]+)*$/; // ASCII with single blanks, as most cells are
const plain = (text: string) =>
  (tidy.test(text) ? text : text.normalize('NFKC').replace(/[‐-―]/g, '-').replace(/\s+/g, ' ').trim()).toLowerCase();

/** Settles the codes of all wire cells together, asking for what neither the table nor the chart can tell. */
export function* settleColours(reading: Reading, cells: readonly WireCell[]): Steps<Colours> {
  const distinct = new Map<string, WireCell>();
  for (const [i, cell] of cells.entries()) {
    const key = `${cell.text}→${cell.line ?? ''}`;
    if (!distinct.has(key)) distinct.set(key, cell);
    if (i % 500 === 499) yield;
  }
  const all = [...distinct.values()];
  yield;
  const glued = pairsOfLetters(reading, all);
  yield;
  const codes = yield* settleCodes(reading, all, glued);
  const once = new Map<string, WireReading[]>();
  const readings = (text: string): WireReading[] => {
    const known = once.get(text) ?? readingsOf(text, codes, glued);
    once.set(text, known);
    return known;
  };
  const order = yield* settleOrder(reading, all, readings);
  const cache = new Map<string, WireRead>();
  return {
    read(text, line) {
      const key = `${text}→${line ?? ''}`;
      const known = cache.get(key);
      if (known) return known;
      const read = readOne({ text, line, readings: readings(text), order, codes, glued });
      cache.set(key, read);
      return read;
    },
  };
}

type Codes = ReadonlyMap<string, string | null>; // null: waits for an answer

/** Words of a cell that are read as colour codes: a pair, or a cell of one word. */
function codesOf(text: string, glued: boolean): string[] {
  const t = plain(text);
  const [, first, , second] = pairShape.exec(t) ?? [];
  if (first && second) return [first, second];
  if (glued && /^[a-z]{2}$/.test(t)) return [...t];
  return /^[a-z]+$/.test(t) ? [t] : [];
}

function replaced(text: string, words: readonly string[], codes: Codes): string {
  // Codes of the standard stay as they are: by them one knows that a pair is not in order.
  const full = words.map((word) => codes.get(word) ?? (readColour(word)?.as === 'short' ? readColour(word)?.colours[0] : null) ?? word);
  return full.length === 2 ? full.join('/') : (full[0] ?? plain(text));
}

function readingsOf(text: string, codes: Codes, glued: boolean): WireReading[] {
  const words = codesOf(text, glued);
  return words.some((word) => codes.get(word) === null) ? [] : parseWire(replaced(text, words, codes));
}

/** True when cells of two letters are two colours: in no cell do two codes stand apart, and some cell of two letters is no code itself. */
function pairsOfLetters(reading: Reading, cells: readonly WireCell[]): boolean {
  const two = cells.filter((c) => /^[a-z]{2}$/i.test(c.text.trim()) && [...c.text.trim()].every((l) => readColour(l)));
  const [example] = two;
  if (!example || cells.some((c) => pairShape.test(plain(c.text)))) return false;
  if (two.some((c) => !readColour(c.text.trim()))) return true;
  const choice = ask(reading, {
    id: 'pair.letters',
    text: `Does “${example.text.trim()}” name one colour, or two by a letter each?`,
    choices: [
      { value: 'one', label: 'One colour' },
      { value: 'two', label: 'Two colours, a letter each' },
    ],
    guess: 'one',
    why: 'Every wire of this table is written with two letters.',
    at: example.at,
  });
  return choice === 'two';
}

function* settleCodes(reading: Reading, cells: readonly WireCell[], glued: boolean): Steps<Codes> {
  const first = new Map<string, At>();
  for (const [i, cell] of cells.entries()) {
    for (const word of codesOf(cell.text, glued)) if (!first.has(word)) first.set(word, cell.at);
    if (i % 200 === 199) yield;
  }
  const sure = new Map<string, string>(); // colour → the code that surely means it
  for (const word of first.keys()) {
    const colours = readColour(word)?.colours ?? [];
    const [only] = colours;
    if (only && colours.length === 1) sure.set(only, word);
  }
  const codes = new Map<string, string | null>();
  for (const [word, at] of first) {
    const all = readColour(word)?.colours ?? [];
    if (all.length < 2) continue;
    yield;
    const left = all.filter((colour) => !sure.has(colour));
    const byChart = all.filter((colour) => cells.some((cell) => cell.line !== undefined && fits(cell, word, colour, glued)));
    const [only] = byChart.length === 1 ? byChart : left;
    const settled = byChart.length === 1 || left.length === 1 ? only : undefined;
    const answered = reading.answers[`colour.${word}`];
    if (settled && (answered === undefined || answered === settled)) {
      const others = all.filter((c) => c !== settled);
      const why = byChart.length === 1 ? 'so the chart has it' : `${others.join(' and ')} is written otherwise here`;
      const code = word.toUpperCase();
      found(reading, 'information', 'colour-code', at, `“${code}” was read as ${settled}: ${why}.`, 'Change the answer if it is not so.');
      codes.set(word, settled);
      continue;
    }
    const answer = ask(reading, {
      id: `colour.${word}`,
      text: `Which colour is “${word.toUpperCase()}”?`,
      choices: all.map((value) => ({ value, label: value })),
      why: `Both ${all.join(' and ')} are written so.`.replace(/^Both (.* and .* and)/, '$1'),
      at,
    });
    codes.set(word, answer ?? null);
  }
  return codes;
}

/** Whether the cell reads as its line's colour, either way round, when the code means that colour. */
function fits(cell: WireCell, word: string, colour: string, glued: boolean): boolean {
  const words = codesOf(cell.text, glued);
  if (!words.includes(word) || cell.line === undefined) return false;
  const parts = cell.line.split('/');
  return (
    words.length === parts.length &&
    parts.includes(colour) &&
    [parts, parts.toReversed()].some((order) =>
      words.every((w, i) => (w === word ? order[i] === colour : (readColour(w)?.colours ?? []).includes(order[i] ?? ''))),
    )
  );
}

/** Which colour of a pair stands first; by the chart's own lines where they show it. */
function* settleOrder(reading: Reading, cells: readonly WireCell[], read: (text: string) => WireReading[]): Steps<StripeOrder | null> {
  let [straight, turned] = [0, 0];
  let example: WireCell | undefined;
  for (const [i, cell] of cells.entries()) {
    if (i % 100 === 99) yield;
    const [one, more] = read(cell.text);
    if (!one?.stripe || more || one.notation === 'words') continue;
    if (!one.ordered && !pairShape.test(plain(cell.text))) continue; // glued codes of the standard have no order
    example ??= cell;
    if (cell.line === joinColour(one.base, one.stripe)) straight += 1;
    if (cell.line === joinColour(one.stripe, one.base)) turned += 1;
  }
  const byDesign = reading.chart.design.stripeOrder ?? 'base-stripe';
  if (!example || (straight > 0 && turned === 0)) return example && straight > 0 ? 'base-stripe' : byDesign;
  const seen = straight + turned > 0;
  if (!seen && reading.answers['stripe-order'] === undefined) return byDesign;
  return ask(reading, {
    id: 'stripe-order',
    text: `Which colour of “${example.text}” is the stripe?`,
    choices: [
      { value: 'base-stripe', label: 'The second' },
      { value: 'stripe-base', label: 'The first' },
    ],
    guess: turned > straight ? 'stripe-base' : 'base-stripe',
    why: `${turned} of ${straight + turned} wires that the chart knows are the other way round there.`,
    at: example.at,
  }) as StripeOrder;
}

interface Settled {
  text: string;
  line: string | undefined;
  readings: WireReading[];
  order: StripeOrder | null;
  codes: Codes;
  glued: boolean;
}
function readOne({ text, line, readings, order, codes, glued }: Settled): WireRead {
  const [one] = readings;
  if (!one) {
    const waiting = codesOf(text, glued).find((word) => codes.get(word) === null);
    return {
      why: waiting ? `It waits for the answer which colour “${waiting.toUpperCase()}” is.` : 'This is not a wire colour that is known.',
    };
  }
  const whole = readings.filter((r) => (glued ? r.stripe !== undefined : readings.length === 1 || r.stripe === undefined));
  const [only] = whole.length === 1 ? whole : readings;
  if (!only || (readings.length > 1 && whole.length !== 1)) return { why: 'This can be read as more than one wire.' };
  if (only.stripe === undefined) return { colour: only.base };
  const pairs = [joinColour(only.base, only.stripe), joinColour(only.stripe, only.base)] as const;
  if (!only.ordered && !pairShape.test(plain(text))) {
    const known = pairs.find((pair) => pair === line);
    return known
      ? { colour: known }
      : { why: 'Codes of the standard do not say which colour is the stripe, and the chart does not know this line.' };
  }
  return { colour: order === 'stripe-base' && only.notation !== 'words' ? pairs[1] : pairs[0] };
}

/** Whether a cell could be a wire, whatever its codes mean. */
export const looksLikeWire = (text: string): boolean => text.length <= 40 && parseWire(text).length > 0;
