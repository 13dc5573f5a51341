/** Signs that no phrase gives by itself, and how likely each is. */
import type { Found, Hits, Span } from './found';
import { within } from './found';
import type { Guessed, Lexicon } from './lexicon';
import type { Hit } from './phrases';
import type { Token } from './tokens';
import type { Term, TermKind } from './types';

const reach = 3; // words between "not" and the verb that it denies
const numbers = 'an?|one|two|three|four|five|six|seven|eight|nine|ten|half|most|\\d{1,3}';
const partOf = new RegExp(
  `\\b(?:${numbers}) (?:times? )?(?:(?:in|of|out of) )+(?:every )?(?:an? )?(?:${numbers}|dozen|twenty|hundred)\\b`,
  'i',
);
const partOfTheTime =
  /\b(?:(?:half|third|quarter|most)(?: of)?|(?:part|some) of) (?:(?:the|its|his|her|their|all) )?(?:time|times|turns|hits|shots|presses|balls|coins|games|counts|spins)\b/i;
const everyFew =
  /\bevery (?:other|few|second|third|fourth|fifth|tenth|\d+(?:th|nd|rd)) (?:time|hit|turn|shot|ball|press|game|coin|go|spin|one)\b/i;

const wellBefore =
  /\b(?:fine|good|ok|okay|well|perfect|perfectly|alright|right|happy|normal|normally|healthy|sound|faultless|behaves|(?<!(?:not|n't|n’t|never|stops?|stopped|quits?) )(?:works|working|runs)|no (?:problem|trouble|fault|issue)s?)\b[^.,;]{0,24}$/i;
const wellWithin = /\b(?:fine|good|ok|okay|well|perfect|better|best|right|works?|gets|goes|until|till)\b/i; // says already which of the two it is
const otherWhen: Record<string, string> = { cold: 'warm', warm: 'cold' };

/** "Fine when cold": the fault is there when warm. */
export function turned(f: Found, sentence: string, { nameOf }: Lexicon) {
  const other = f.kind === 'when' ? otherWhen[f.value] : undefined;
  if (!other || wellWithin.test(sentence.slice(...f.span)) || !wellBefore.test(sentence.slice(0, f.span[0]))) return;
  f.value = other;
  f.label = nameOf('when', other);
}

const apart = 4; // words between the two of a pair

export function pairedSigns(hits: Hits, sentence: string, stems: string[], found: Found[], unsaid: Span[], { pairs }: Lexicon): Term[] {
  return pairs.flatMap(({ kind, id, name, first, second }): Term[] => {
    for (const one of hits(first)) {
      const aside = (hit: Hit) => unsaid.some((u) => within(hit.span, u));
      const near = (hit: Hit) => (hit.from >= one.to && hit.from - one.to <= apart) || (hit.to <= one.from && one.from - hit.to <= 1);
      const other = hits(second).find((hit) => near(hit) && aside(hit) === aside(one)); // "runs hot, but not when hit": no "when hot"
      if (!other) continue;
      const span: Span = [Math.min(one.span[0], other.span[0]), Math.max(one.span[1], other.span[1])];
      if (found.some((f) => f.kind === kind && f.value !== id && within(span, f.span))) continue; // "fine once warm"
      const denied = stems[one.from - 1] === 'not' || aside(one);
      return [{ kind, value: id, label: name, text: sentence.slice(...span), ...(denied && { without: true as const }) }];
    }
    return [];
  });
}

/** Signs that no phrase gives: a denied verb, a part of all times. */
export function foldedSigns(sentence: string, stems: string[], verbs: Hit[], steady: Hit[], lexicon: Lexicon): Term[] {
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

const leastChance = 0.3; // of what a device does that no phrase says
const leastExtent = { taught: 0.85, untaught: 0.95 }; // the phrases alone know no sentence about a single device
const ofPhrase = 2.2; // what a known phrase adds to the score of its sign
const leastOfPhrase = 0.2;
/** A word that a phrase of these kinds stands for. */
export const explained = ({ from, to }: Token, found: readonly Found[], kinds: ReadonlySet<TermKind>) =>
  found.some((f) => kinds.has(f.kind) && f.span[0] <= from && to <= f.span[1]);

/** Which sort of circuit, by how many of the words fit each; what was done or when it happens says nothing of it. */
export function sorts(hits: Hit[], sentence: string, terms: readonly Term[], { nameOf }: Lexicon): Term[] {
  const aside = terms
    .filter((t) => (t.kind === 'when' || t.kind === 'cause') && t.text !== '')
    .map(({ text }): Span => [sentence.indexOf(text), sentence.indexOf(text) + text.length]);
  const votes = new Map<string, number>();
  for (const { said, span } of hits) if (!aside.some((other) => within(span, other))) votes.set(said.id, (votes.get(said.id) ?? 0) + 1);
  const [first, second] = [...votes].sort((a, b) => b[1] - a[1]);
  if (!first || first[1] === second?.[1]) return [];
  return [{ kind: 'sort', value: first[0], label: nameOf('sort', first[0]), text: '', implied: true }];
}

/** How likely each sign is, by the words that stand for nothing else and by the phrases found; together 1. Empty when nothing tells. */
export function chancesOf(
  kind: Guessed,
  terms: readonly Term[],
  left: readonly Token[],
  { guess }: Lexicon,
  likely: (id: string) => number,
): Map<string, number> {
  if (left.every(({ filler }) => filler)) return new Map();
  const said = new Set(terms.flatMap((t) => (t.kind === kind && !t.without ? [t.value] : [])));
  const scores = guess[kind](left).map(({ id, chance }): [string, number] => [
    id,
    chance * likely(id) * (said.has(id) ? Math.exp(ofPhrase) : 1),
  ]);
  const all = scores.reduce((sum, [, score]) => sum + score, 0);
  return new Map(scores.map(([id, score]) => [id, score / all]));
}

/** Phrases found weigh as much as is likely; the likeliest other sign joins them. */
export function weigh(kind: Guessed, terms: Term[], chances: ReadonlyMap<string, number>, { nameOf }: Lexicon) {
  const most = Math.max(...chances.values());
  const least = kind === 'does' ? leastChance : chances.has('one') ? leastExtent.taught : leastExtent.untaught;
  for (const [id, chance] of chances) {
    const known = terms.filter((t) => t.kind === kind && !t.without && t.value === id);
    for (const term of known) term.chance = Math.max(chance, leastOfPhrase);
    if (known.length === 0 && id !== 'one' && chance >= least && chance >= most)
      terms.push({ kind, value: id, label: nameOf(kind, id), text: '', chance });
  }
}
