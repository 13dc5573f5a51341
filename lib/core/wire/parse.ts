/** Wire colours as people write them, in every notation in use. */
import { colourOfDigit, readColour } from './colours';
import type { Notation, StripeOrder } from './format';

/** One way to read what was written. */
export interface WireReading {
  base: string;
  stripe?: string;
  /** False when the notation does not say which is base and which stripe (IEC 60757, "grey and orange"). */
  ordered: boolean;
  notation: Notation;
  /** False when a short form may mean something else. */
  certain: boolean;
  /** GNYE: by IEC 60757 the protective earth, never a signal. */
  protectiveEarth?: true;
}

const longest = 60; // characters
const nothing: WireReading[] = [];

/**
 * All readings of a text that is one wire and nothing else: `grey/orange`, `GRY-ORN`, `gy og`, `grey with an orange stripe`, `8-3`,
 * `OGGY`, a single colour. Empty when it is not a wire; more than one when a short form is ambiguous. `stripeOrder` says which comes
 * first in a written pair; a spoken form says it itself, IEC 60757 letters never do.
 */
export function parseWire(text: string, stripeOrder: StripeOrder = 'base-stripe'): WireReading[] {
  const plain = tidied(text);
  if (plain === '' || plain.length > longest) return nothing;
  for (const read of readers) {
    const readings = read(plain);
    if (readings.length > 0) return stripeOrder === 'base-stripe' ? readings : readings.map(turned);
  }
  return nothing;
}

const tidy = /^[a-z\d]+(?:[ /-][a-z\d]+)*$/i; // letters and figures with single separators, as most wires are written
const withSign = / w\/ ?/gi;

function tidied(text: string): string {
  if (tidy.test(text)) return text.replace(withSign, ' with ').toLowerCase();
  return text
    .normalize('NFKC')
    .replace(/[‐-―]/g, '-')
    .replace(/^[\s"'“”‘’(]+|[\s"'“”‘’).,;:!?]+$/g, '')
    .replace(/\s+/g, ' ')
    .replace(withSign, ' with ')
    .toLowerCase();
}

/** A written pair of a chart that prints the stripe first. */
function turned(reading: WireReading): WireReading {
  const { base, stripe, ordered, notation } = reading;
  return stripe !== undefined && ordered && notation !== 'words' ? { ...reading, base: stripe, stripe: base } : reading;
}

/** `8-3`: the digits of IEC 60062, base first. */
function digits(text: string): WireReading[] {
  const [, first, second] = /^(\d) ?[-/] ?(\d)$/.exec(text) ?? [];
  if (!first || !second) return nothing;
  const base = colourOfDigit(Number(first));
  const stripe = colourOfDigit(Number(second));
  return base && stripe ? [wire(base, stripe, { ordered: true, notation: 'digits', certain: true })] : nothing;
}

/** `OGGY`: two codes of IEC 60757 without a separator. The standard's own order hides which is the stripe. */
function joinedLetters(text: string): WireReading[] {
  const [, first = '', second = ''] = /^([a-z]{2})([a-z]{2})$/.exec(text) ?? [];
  const [one, two] = [readColour(first), readColour(second)];
  if (one?.as !== 'letters' || two?.as !== 'letters') return nothing;
  const earth = text === 'gnye' || text === 'yegn';
  return pairs(one, two, { ordered: false }).map((r) => (earth ? { ...r, protectiveEarth: true } : r));
}

/** `grey/orange`, `GRY-ORN`, `g/o`, `GY - OG`. */
function marked(text: string): WireReading[] {
  const [, first = '', second = ''] = /^([a-z]+) ?[-/\\_.|] ?([a-z]+)$/.exec(text) ?? [];
  const [one, two] = [readColour(first), readColour(second)];
  if (!one || !two || text === 'w/o') return nothing; // "without", not white/orange
  const readings = pairs(one, two, { ordered: !(one.as === 'letters' && two.as === 'letters') });
  return first.length === 1 || second.length === 1 ? readings.map((r) => ({ ...r, certain: false })) : readings;
}

const stripe = '(?:stripes?|striped|tracer|trace|band|bands|ring|rings)';
const filler = /\b(?:an?|the|wire|lead|coloured|colored|insulation|base|body|solid|plain|all)\b/g;

const forms: readonly { form: RegExp; stripeFirst?: true; ordered: boolean }[] = [
  { form: new RegExp(`^([a-z]+) (?:with|has|and)? ?([a-z]+)[ -]${stripe}$`), ordered: true },
  { form: new RegExp(`^([a-z]+)[/-]([a-z]+) ${stripe}$`), ordered: true },
  { form: new RegExp(`^([a-z]+)[ -]${stripe} (?:on|over|along) ([a-z]+)$`), stripeFirst: true, ordered: true },
  { form: /^([a-z]+) (?:on|over) ([a-z]+)$/, stripeFirst: true, ordered: true },
  { form: /^([a-z]+) with ([a-z]+)$/, ordered: true },
  { form: /^([a-z]+) and ([a-z]+)$/, ordered: false },
  { form: new RegExp(`^([a-z]+)[ -]${stripe} ([a-z]+)$`), ordered: false }, // "orange striped grey" goes either way
];

/** Spoken: `grey with an orange stripe`, `orange stripe on grey`, `orange on grey`, `grey and orange`, `black wire`, `the grey-orange wire`. */
function phrase(text: string): WireReading[] {
  const bare = text.replace(filler, ' ').replace(/,/g, ' ').replace(/\s+/g, ' ').trim();
  for (const { form, stripeFirst, ordered } of forms) {
    const [, first = '', second = ''] = form.exec(bare) ?? [];
    const [one, two] = [colourWord(first), colourWord(second)];
    if (one && two) return stripeFirst ? pairs(two, one, { ordered }, 'words') : pairs(one, two, { ordered }, 'words');
  }
  if (bare === text) return nothing;
  const alone = colourWord(bare);
  if (!alone) return marked(bare).concat(spaced(bare)).concat(digits(bare));
  return alone.colours.map((base) => ({ base, ordered: true, notation: 'words', certain: alone.colours.length === 1 }));
}

/** A word that means a colour among other words: "or" and single letters are English there. */
const colourWord = (word: string) => (word.length < 2 || word === 'or' ? null : readColour(word));

/** `grey orange`, `gy og`, `gry or`. */
function spaced(text: string): WireReading[] {
  const [, first = '', second = ''] = /^([a-z]{2,}) ([a-z]{2,})$/.exec(text) ?? [];
  const [one, two] = [readColour(first), readColour(second)];
  if (!one || !two || first === 'or') return nothing;
  if (second === 'or' && one.as === 'names') return nothing; // "grey or …"
  return pairs(one, two, { ordered: !(one.as === 'letters' && two.as === 'letters') });
}

/** One colour. A short form such as `BR` may also be two letters, black and red, without a separator. */
function single(text: string): WireReading[] {
  const word = text === 'or' ? null : readColour(text);
  if (!word) return nothing;
  const asOne = word.colours.map((base): WireReading => ({ base, ordered: true, notation: word.as, certain: true }));
  const [, first = '', second = ''] = (word.as === 'short' && /^([a-z])([a-z])$/.exec(text)) || [];
  const [one, two] = [readColour(first), readColour(second)];
  const readings = one && two ? [...asOne, ...pairs(one, two, { ordered: true })] : asOne;
  return readings.length === 1 && text.length > 1 ? readings : readings.map((r) => ({ ...r, certain: false }));
}

type Word = NonNullable<ReturnType<typeof readColour>>;

/** Every pair that two words may mean. */
function pairs(base: Word, other: Word, { ordered }: { ordered: boolean }, notation?: Notation): WireReading[] {
  const both = base.colours.flatMap((b) => other.colours.map((s) => [b, s] as const));
  const apart = both.length > 1 ? both.filter(([b, s]) => b !== s) : both;
  const of = notation ?? (base.as === other.as ? base.as : 'short');
  return apart.map(([b, s]) => wire(b, s, { ordered, notation: of, certain: apart.length === 1 }));
}

const wire = (base: string, other: string, rest: Pick<WireReading, 'ordered' | 'notation' | 'certain'>): WireReading =>
  base === other ? { base, ...rest, ordered: true } : { base, stripe: other, ...rest };

const readers = [digits, joinedLetters, marked, phrase, spaced, single];
