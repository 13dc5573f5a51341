/** Reads a sentence about a fault: which devices, what they do, how many at once, when. */
import type { Lexicon } from './lexicon';
import type { Hit } from './phrases';
import { nameStems, type Token, wordsOf } from './tokens';
import type { Reading, SignKind, Term, TermKind } from './types';

const reach = 3; // words between "not" and what it denies
const numbers = 'an?|one|two|three|four|five|six|seven|eight|nine|ten|half|most|\\d{1,3}';
const partOf = new RegExp(
  `\\b(?:${numbers}) (?:times? )?(?:(?:in|of|out of) )+(?:every )?(?:an? )?(?:${numbers}|dozen|twenty|hundred)\\b`,
  'i',
);
const partOfTheTime =
  /\b(?:(?:half|third|quarter|most)(?: of)?|(?:part|some) of) (?:(?:the|its|his|her|their|all) )?(?:time|times|turns|hits|shots|presses|balls|coins|games|counts|spins)\b/i;
const everyFew =
  /\bevery (?:other|few|second|third|fourth|fifth|tenth|\d+(?:th|nd|rd)) (?:time|hit|turn|shot|ball|press|game|coin|go|spin|one)\b/i;

/** Words that tell only together with others. */
const linking = new Set(['not', 'when', 'whenev', 'if', 'as', 'on', 'off', 'by', 'with', 'no', 'up', 'out', 'while', 'after', 'sinc']);

/** A phrase found, with what it stands for. */
interface Found {
  kind: TermKind;
  value: string;
  label: string;
  from: number;
  to: number;
  span: [from: number, to: number];
  also?: string[];
}

/** The name of a device on a chart: its role and side, where the name tells them. */
export const readName = (name: string, lexicon: Lexicon): Term[] =>
  readSymptom(name, lexicon).terms.filter((t) => t.kind === 'device' || t.kind === 'side');

/** Never fails; what it does not know stays a word. */
export function readSymptom(sentence: string, lexicon: Lexicon): Reading {
  const words = wordsOf(sentence);
  const tokens = words.filter(({ filler }) => !filler); // places below are among these
  const stems = tokens.map(({ stem }) => stem);
  const hits = lexicon.phrases.find(words);
  const verbs = hits('works');
  const shaken = shakenBy(sentence);
  const found = withoutDescription(withoutInner(findAll(hits))).filter((f) => isDevice(f, sentence) && !(shaken && inSpan(f, shaken)));
  const denied = denials(stems, found, verbs);
  const terms = found.filter(({ kind }) => kind !== 'side').map((f) => termOf(f, sentence));
  for (const [k, f] of found.filter(({ kind }) => kind !== 'side').entries()) if (denied.has(f)) terms[k]!.without = true;
  placeSides(found, sentence, terms, denied);
  for (const sign of pairedSigns(hits, sentence, stems, lexicon)) terms.push(sign);
  if (shaken) terms.push({ kind: 'when', value: 'hit', label: lexicon.nameOf('when', 'hit'), text: sentence.slice(...shaken) });
  for (const sign of foldedSigns(sentence, stems, verbs, hits('steadily'), lexicon)) terms.push(sign);
  for (const [k, token] of tokens.entries())
    if (!linking.has(token.stem) && token.stem.length > 1) terms.push(...wordOf(token, denied.words.has(k)));
  return { terms: settle(once([...quotes(sentence), ...terms]), stems, found, lexicon) };
}

const kinds = ['does', 'extent', 'when', 'cause', 'device', 'side', 'name', 'concept'] as const;
type Hits = (list: string) => Hit[];

const findAll = (hits: Hits): Found[] =>
  kinds.flatMap((kind) =>
    hits(kind).map(({ said, ...at }) => ({ kind, value: said.id, label: said.name, ...at, ...(said.also && { also: said.also }) })),
  );

const kicks =
  /\b(?:when(?:ever)?|every time|each time|if|as)\s+(?:a|an|the|any|one of the|either)?\s*(?:\w+\s+)?(?:bumpers?|slings?|slingshots?|flippers?|coils?|kickers?|solenoids?)\s+(?:fires?|kicks?|pops?|flips?|go(?:es)? off|pulls? in)\b/i;

/** "Whenever a bumper fires": a jolt, not a device that anything is said of. */
function shakenBy(sentence: string): [number, number] | null {
  const found = kicks.exec(sentence);
  return found ? [found.index, found.index + found[0].length] : null;
}
const inSpan = ({ kind, span }: Found, [from, to]: [number, number]) =>
  (kind === 'device' || kind === 'name' || kind === 'concept') && span[0] >= from && span[1] <= to;

/** Words that are a device only as a noun: "the drop", "the light", not "drops", "sometimes lights". */
function isDevice({ kind, value, span }: Found, sentence: string): boolean {
  if (kind !== 'device') return true;
  const text = sentence.slice(...span).toLowerCase();
  const before = /(\p{L}+)[^\p{L}]*$/u.exec(sentence.slice(0, span[0]))?.[1]?.toLowerCase() ?? '';
  if (value === 'drop-target' && /^drop(s|ped|ping)?$/.test(text))
    return text === 'drop' && !/^(not|never|to|will|won|can|t)$/.test(before);
  if (value === 'lamp' && /^lights?$/.test(text))
    return (
      before === '' ||
      /^(the|a|all|every|each|no|both|some|these|those|its|any|of|left|right|upper|lower|top|middle|one|two|three|four|five|insert|feature)$/.test(
        before,
      )
    );
  return true;
}

const generic = new Set(['lane', 'target', 'lamp', 'switch', 'coil', 'button', 'gate', 'illumination']);

/** "Ramp lane", "start button lamp": one device, which the other word only describes. */
function withoutDescription(all: Found[]): Found[] {
  const devices = all.filter(({ kind }) => kind === 'device');
  return all.filter(
    (a) =>
      a.kind !== 'device' ||
      !generic.has(a.value) ||
      !devices.some((b) => b !== a && b.value !== a.value && (b.to === a.from || a.to === b.from)),
  );
}

/** A phrase means what it means as a whole: "too hot to touch" is no touching. Names and groups hold words of their own. */
function withoutInner(all: Found[]): Found[] {
  const outer = all.filter(({ kind }) => kind === 'does' || kind === 'when' || kind === 'cause' || kind === 'device');
  const inside = (a: Found, b: Found) => b.from <= a.from && a.to <= b.to && b.to - b.from > a.to - a.from;
  return all.filter(
    (a) =>
      a.kind === 'extent' ||
      !outer.some((b) => b !== a && b.kind !== a.kind && !(a.kind === 'name' && b.kind === 'device') && inside(a, b)),
  );
}

/** What the reader does not want: "not the left one", "without the bell". A denied verb is no such thing: "does not score". */
function denials(stems: string[], found: Found[], verbs: Hit[]): Set<Found> & { words: Set<number> } {
  const denied = Object.assign(new Set<Found>(), { words: new Set<number>() });
  for (const [k, stem] of stems.entries()) {
    if (stem !== 'not' && stem !== 'without' && stem !== 'except' && stem !== 'exclud') continue;
    if (found.some((f) => (f.kind === 'does' || f.kind === 'when' || f.kind === 'extent') && f.from <= k && k < f.to)) continue;
    if (stem === 'not' && verbs.some(({ from }) => from > k && from <= k + reach)) continue;
    const next = found.filter((f) => f.from > k && f.from <= k + (stem === 'not' ? 1 : reach));
    for (const f of next) denied.add(f);
    const end = Math.max(k + 2, ...next.map((f) => f.to));
    // "not the left flipper": the side and its device go together.
    if (next.some((f) => f.kind === 'side')) for (const f of found) if (f.from === end && f.kind === 'device') denied.add(f);
    for (let w = k + 1; w < end; w++) denied.words.add(w);
  }
  return denied;
}

const termOf = ({ kind, value, label, span, also }: Found, sentence: string): Term => ({
  kind,
  value,
  label,
  text: sentence.slice(...span),
  ...(also && { also }),
});

/** A side belongs to the device right behind it, or right before it; alone it is a term of its own. */
function placeSides(found: Found[], sentence: string, terms: Term[], denied: Set<Found>) {
  const rest = found.filter(({ kind }) => kind !== 'side');
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

const apart = 4; // words between the two of a pair

function pairedSigns(hits: Hits, sentence: string, stems: string[], { pairs }: Lexicon): Term[] {
  return pairs.flatMap(({ kind, id, name, first, second }): Term[] => {
    for (const one of hits(first)) {
      const other = hits(second).find((s) => (s.from >= one.to && s.from - one.to <= apart) || (s.to <= one.from && one.from - s.to <= 1));
      if (!other) continue;
      const text = sentence.slice(Math.min(one.span[0], other.span[0]), Math.max(one.span[1], other.span[1]));
      const denied = stems
        .slice(Math.max(0, one.from - 2), one.from)
        .some((stem) => stem === 'not' || stem === 'without' || stem === 'except');
      return [{ kind, value: id, label: name, text, ...(denied && { without: true as const }) }];
    }
    return [];
  });
}

/** Signs that no phrase gives: a denied verb, a part of all times. */
function foldedSigns(sentence: string, stems: string[], verbs: Hit[], steady: Hit[], lexicon: Lexicon): Term[] {
  const sign = (id: string, text: string): Term => ({ kind: 'does', value: id, label: lexicon.nameOf('does', id), text });
  const signs: Term[] = [];
  const part = partOf.exec(sentence) ?? partOfTheTime.exec(sentence) ?? everyFew.exec(sentence);
  if (part) signs.push(sign('sometimes', part[0]));
  for (const { from, to } of verbs) {
    const word = stems.slice(from, to).join(' ');
    const before = stems.slice(Math.max(0, from - reach), from);
    if (before.some((stem) => stem === 'onli' || stem === 'rare' || stem === 'seldom')) signs.push(sign('sometimes', `only ${word}`));
    else if (
      before.some((stem) => stem === 'not' || stem === 'never' || stem === 'none') ||
      ['fail', 'refus', 'stop', 'ceas', 'quit'].includes(before.at(-1) ?? '')
    ) {
      const always = steady.some((s) => s.from >= from - reach && s.to <= to + reach);
      signs.push(sign(always ? 'sometimes' : 'dead', `not ${word}`));
    }
  }
  return signs;
}

function wordOf({ stem, text }: Token, without: boolean): Term[] {
  return [{ kind: 'word', value: stem, label: text.toLowerCase(), text, ...(without && { without: true as const }) }];
}

const quotes = (sentence: string): Term[] =>
  [...sentence.matchAll(/["“”«]([^"“”«»]{2,120})["“”»]/g)].flatMap(([, inner = '']) => {
    const value = nameStems(inner);
    return value ? [{ kind: 'quote' as const, value, label: `“${inner.trim()}”`, text: inner }] : [];
  });

const once = (terms: Term[]): Term[] => {
  const seen = new Set<string>();
  return terms.filter(({ kind, value, side, without }) => {
    const key = `${kind} ${value} ${side ?? ''} ${without ?? ''}`;
    return !seen.has(key) && seen.add(key);
  });
};

const general = new Set(['switch', 'lamp', 'coil', 'connector', 'illumination']);
const anywhere = new Set(['switch', 'connector', 'board', 'supply', 'coil']); // "sets off another switch": what is meant is the device that is named

function withoutGeneral(terms: Term[]): Term[] {
  const special = terms.some((t) => (t.kind === 'device' && !anywhere.has(t.value)) || t.kind === 'name');
  return special ? terms.filter((t) => t.kind !== 'device' || !anywhere.has(t.value)) : terms;
}

const facing: Record<string, string> = { left: 'right', right: 'left' };
/** "Flipper weak, not the left one": the right one, then. */
function opposite(terms: Term[]): Term[] {
  const not = terms.find((t) => t.kind === 'side' && t.without && facing[t.value]);
  const devices = terms.filter((t) => t.kind === 'device' && !t.without);
  if (!not || devices.length !== 1 || devices[0]?.side) return terms;
  return terms.map((t) => (t === devices[0] ? { ...t, side: facing[not.value]! } : t));
}

const wide: SignKind = 'extent';

/** What follows from the terms together: a fault that comes and goes is not dead; two devices are several. */
function settle(terms: Term[], stems: string[], found: Found[], lexicon: Lexicon): Term[] {
  const has = (kind: TermKind, value: string) => terms.some((t) => t.kind === kind && t.value === value && !t.without);
  let left = terms;
  const drop = (kind: TermKind, value: string) => {
    left = left.filter((t) => t.kind !== kind || t.value !== value || t.without);
  };
  const when =
    stems.some((stem) => stem === 'when' || stem === 'whenev') || found.some((f) => f.kind === 'does' && f.value === 'with-another');
  const distinct = new Set(
    terms.filter((t) => t.kind === 'device' && !t.without && !anywhere.has(t.value)).map((t) => `${t.value} ${t.side ?? ''}`),
  );
  if (when && distinct.size > 1 && !terms.some((t) => t.kind === 'does'))
    left = [...left, { kind: 'does', value: 'with-another', label: lexicon.nameOf('does', 'with-another'), text: '' }];
  if (has('does', 'sometimes')) drop('does', 'dead');
  if (has('does', 'blows-fuse')) drop('does', 'dead');
  // "Two points instead of one", "another one as well": no exchange.
  if (has('does', 'twice') || has('does', 'with-another')) drop('does', 'wrong-one');
  left = withoutGeneral(opposite(left));
  const extents = ['everything', 'line', 'bank', 'several'].filter((id) => has(wide, id));
  const every = found.find(
    (f) =>
      f.kind === 'device' &&
      stems.slice(Math.max(0, f.from - 2), f.from).some((s) => s === 'all' || s === 'everi' || s === 'none' || s === 'each' || s === 'no'),
  );
  const devices = new Set(
    left.filter((t) => t.kind === 'device' && !t.without && !general.has(t.value)).map((t) => `${t.value} ${t.side ?? ''}`),
  );
  let extent = extents.includes('line') ? 'line' : extents[0];
  const said = extent !== undefined;
  if (!extent && every) extent = general.has(every.value) ? 'everything' : 'bank';
  if (!extent) extent = devices.size > 1 ? 'several' : 'one';
  if (said) for (const other of extents) if (other !== extent) drop(wide, other);
  if (!said)
    left = [
      ...left,
      { kind: wide, value: extent, label: extent === 'one' ? 'one' : lexicon.nameOf(wide, extent), text: '', implied: true },
    ];
  return left;
}
