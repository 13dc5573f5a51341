/** Reads a sentence about a fault: which devices, what they do, how many at once, when. */
import { denials } from './denial';
import { type Found, phrasesIn, shakenBy, within } from './found';
import type { Guessed, Lexicon } from './lexicon';
import { anywhere, passing, settle } from './settle';
import { chancesOf, explained, foldedSigns, pairedSigns, sorts, turned, weigh } from './signs';
import { nameStems, type Token, wordsOf } from './tokens';
import type { Reading, Term, TermKind } from './types';

/** Words that tell only together with others. */
const linking = new Set(['not', 'when', 'whenev', 'if', 'as', 'on', 'off', 'by', 'with', 'no', 'up', 'out', 'while', 'after', 'sinc']);

const names = new WeakMap<Lexicon, Map<string, readonly Term[]>>();
/** The name of a device on a chart: its role and side, where the name tells them. Few names are asked for again and again. */
export function readName(name: string, lexicon: Lexicon): readonly Term[] {
  const known = names.get(lexicon) ?? new Map<string, readonly Term[]>();
  names.set(lexicon, known);
  const read = known.get(name) ?? readSymptom(name, lexicon).terms.filter((t) => t.kind === 'device' || t.kind === 'side');
  known.set(name, read);
  return read;
}

/** What the club has taught of a device counts from this chance on. */
const leastDevice = 0.5;

/** Never fails; what it does not know stays a word. `likely`: how likely each thing is that it does, by what else is known. */
export const readSymptom = (sentence: string, lexicon: Lexicon, likely?: (does: string) => number): Reading => ({
  terms: readClosely(sentence, lexicon, likely).terms,
});

/** A reading with what a club's speech is learnt from. */
export interface CloseReading extends Reading {
  /** The words that tell of each and stand for nothing else. */
  left: Record<Guessed | 'device', Token[]>;
  /** Of each thing that it may do; together 1. */
  does: ReadonlyMap<string, number>;
}

export function readClosely(sentence: string, lexicon: Lexicon, likely: (does: string) => number = () => 1): CloseReading {
  const words = wordsOf(sentence);
  const tokens = words.filter(({ filler }) => !filler); // places below are among these
  const stems = tokens.map(({ stem }) => stem);
  const hits = lexicon.phrases.find(words);
  const shaken = shakenBy(sentence);
  const found = phrasesIn(sentence, hits, shaken);
  const denied = denials(sentence, tokens, found, hits);
  for (const f of found) turned(f, sentence, lexicon);
  const unsaid = denied.clauses;
  const others = found.filter(
    (f) => f.kind !== 'side' && !denied.aside.has(f) && !(f.kind === 'does' && !denied.has(f) && unsaid.some((u) => within(f.span, u))),
  );
  const terms = others.map((f) => termOf(f, sentence));
  for (const [k, f] of others.entries()) if (denied.has(f)) terms[k]!.without = true;
  placeSides(found, others, sentence, terms, denied);
  passing(others, terms, sentence);
  for (const sign of pairedSigns(hits, sentence, stems, found, unsaid, lexicon)) terms.push(sign);
  if (shaken) terms.push({ kind: 'when', value: 'hit', label: lexicon.nameOf('when', 'hit'), text: sentence.slice(...shaken) });
  for (const sign of foldedSigns(sentence, stems, hits('works'), hits('steadily'), lexicon)) terms.push(sign);
  const meant = words.filter(({ from, to }) => !unsaid.some((u) => within([from, to], u)));
  const left = {
    does: meant.filter((word) => !explained(word, found, ofDevice)),
    extent: meant,
    device: meant.filter((word) => !explained(word, found, ofSign)),
  };
  terms.push(...taught(terms, left.device, lexicon));
  const does = chancesOf('does', terms, left.does, lexicon, likely);
  weigh('does', terms, does, lexicon);
  weigh(
    'extent',
    terms,
    chancesOf('extent', terms, left.extent, lexicon, () => 1),
    lexicon,
  );
  const sortsSaid = hits('sort').filter(({ span }) => !unsaid.some((u) => within(span, u)));
  terms.push(...sorts(sortsSaid, sentence, terms, lexicon));
  for (const [k, token] of tokens.entries())
    if (!linking.has(token.stem) && token.stem.length > 1) terms.push(wordOf(token, denied.words.has(k)));
  return {
    terms: settle(
      once([...quotes(sentence), ...terms]),
      sentence,
      stems,
      found.filter((f) => !denied.has(f)),
      lexicon,
    ),
    left,
    does,
  };
}

const ofDevice = new Set<TermKind>(['device', 'name', 'side', 'when', 'extent', 'cause']);
const ofSign = new Set<TermKind>(['does', 'side', 'when', 'extent', 'cause']);

/** Devices by names that do not tell them, and by words of the club where no device is named. */
function taught(terms: readonly Term[], words: Token[], { roles, guess, nameOf }: Lexicon): Term[] {
  const device = (value: string, more: Partial<Term>): Term => ({
    kind: 'device',
    value,
    label: nameOf('device', value),
    text: '',
    ...more,
  });
  const called = terms.flatMap((t) => {
    const role = t.kind === 'name' ? roles.get(t.value) : undefined;
    const told = terms.some((d) => d.kind === 'device' && t.text.toLowerCase().includes(d.text.toLowerCase()));
    return role === undefined || told ? [] : [device(role, { text: t.text, ...(t.without && { without: true as const }) })];
  });
  const named = terms.some((t) => !t.without && (t.kind === 'name' || (t.kind === 'device' && !anywhere.has(t.value))));
  if (named || terms.some((t) => t.kind === 'extent' && t.value !== 'several')) return called;
  const [best] = guess.device(words);
  if (!best || best.chance < leastDevice) return called;
  const side = terms.find((t) => t.kind === 'side' && !t.without)?.value;
  return [...called, device(best.id, { chance: best.chance, ...(side && { side }) })];
}

function termOf({ kind, value, label, span: [from, to], also }: Found, sentence: string): Term {
  const term: Term = { kind, value, label, text: sentence.slice(from, to) };
  if (also) term.also = also;
  return term;
}

/** A side belongs to the device right behind it, or right before it; alone it is a term of its own. */
function placeSides(found: Found[], rest: Found[], sentence: string, terms: Term[], denied: Set<Found>) {
  for (const side of found.filter(({ kind }) => kind === 'side')) {
    const behind = rest.findIndex((f) => f.kind === 'device' && f.from >= side.to && f.from - side.to <= 1);
    const before = rest.findIndex((f) => f.kind === 'device' && f.to === side.from);
    const at = behind >= 0 ? behind : before;
    const device = terms[at];
    if (device && device.side === undefined) device.side = side.value;
    else if (device)
      terms.push({ ...device, side: side.value }); // "the left and right slings"
    else terms.push({ ...termOf(side, sentence), ...(denied.has(side) && { without: true as const }) });
  }
}

function wordOf({ stem, text }: Token, without: boolean): Term {
  const term: Term = { kind: 'word', value: stem, label: text.toLowerCase(), text };
  if (without) term.without = true;
  return term;
}

const quotes = (sentence: string): Term[] =>
  [...sentence.matchAll(/["“”«]([^"“”«»]{2,120})["“”»]/g)].flatMap(([, inner = '']) => {
    const value = nameStems(inner);
    return value ? [{ kind: 'quote' as const, value, label: `“${inner.trim()}”`, text: inner }] : [];
  });

const once = (terms: Term[]): Term[] => {
  const seen = new Map<string, Set<string>>(); // by kind: most terms are words, whose value alone tells them apart
  return terms.filter(({ kind, value, side, without }) => {
    const known = seen.get(kind) ?? new Set();
    seen.set(kind, known);
    const key = side === undefined && !without ? value : `${value} ${side ?? ''} ${without ?? ''}`;
    return !known.has(key) && known.add(key);
  });
};
