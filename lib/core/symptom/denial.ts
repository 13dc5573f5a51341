/** What the reader of a search does not want. */
import type { Found, Hits, Span } from './found';
import type { Token } from './tokens';

const reach = 3; // words between "not" and the verb that it denies
const begun = /(?:[,;:(]\s*|\b(?:but|and|though|yet|only)\s+)$/i; // what comes before a "not" that speaks of the rest of its clause
const merely = new Set(['onli', 'just', 'even', 'alwai', 'everi', 'all']); // "not only"

/** From a word to the end of its clause. */
function clauseFrom(k: number, tokens: readonly Token[], sentence: string): Span {
  const { from, to } = tokens[k]!;
  const end = sentence.slice(to).search(/[,.;:()]/);
  return [from, end < 0 ? sentence.length : to + end];
}

/** What is not wanted, the words that say so, the clauses that speak of nothing else, and what in them only describes what is not wanted. */
export type Denied = Set<Found> & { words: Set<number>; clauses: Span[]; aside: Set<Found> };

/** What the reader does not want: "not the left one", "without the bell". A denied verb is no such thing: "does not score". */
export function denials(sentence: string, tokens: readonly Token[], found: readonly Found[], hits: Hits): Denied {
  const stems = tokens.map(({ stem }) => stem);
  const verbs = hits('works');
  const denied: Denied = Object.assign(new Set<Found>(), { words: new Set<number>(), clauses: [], aside: new Set<Found>() });
  const deny = (f: Found) => denied.add(f);
  for (const [k, stem] of stems.entries()) {
    const said = hits('without').some(({ to }) => to === k + 1);
    if (!said && stem !== 'not' && stem !== 'no') continue;
    if (found.some((f) => (f.kind === 'does' || f.kind === 'when' || f.kind === 'extent') && f.from <= k && k < f.to)) continue;
    const isDevice = (from: number) => found.some((f) => f.kind === 'device' && f.from <= from && from < f.to); // "not the light"
    if (!said && verbs.some(({ from }) => from > k && from <= k + reach && !isDevice(from))) continue;
    if (said || (begun.test(sentence.slice(0, tokens[k]!.from)) && !merely.has(stems[k + 1] ?? ''))) {
      const [from, end] = clauseFrom(k, tokens, sentence);
      denied.clauses.push([from, end]);
      const inside = found.filter((f) => f.span[0] > from && f.span[1] <= end);
      const caused = inside.some((f) => f.kind === 'cause'); // "not the dead column driver": it is no device, and no line either
      for (const f of inside)
        if (f.kind === 'does' || (caused && f.kind !== 'cause')) denied.aside.add(f);
        else deny(f);
      for (let w = k + 1; w < tokens.length && tokens[w]!.to <= end; w++) denied.words.add(w);
    } else {
      const one = stem === 'not' || /^\s+(?:the|my|our)\b/i.test(sentence.slice(tokens[k]!.to)); // "no the left one", but "no lights" are dead
      const next = found.filter((f) => f.from === k + 1 && (one || f.kind === 'when'));
      if (stem === 'no' && next.length === 0) continue;
      next.forEach(deny);
      if (next.length > 0) denied.clauses.push(clauseFrom(k, tokens, sentence));
      const end = Math.max(k + 2, ...next.map((f) => f.to));
      // "not the left flipper": the side and its device go together.
      if (next.some((f) => f.kind === 'side')) found.filter((f) => f.from === end && f.kind === 'device').forEach(deny);
      for (let w = k + 1; w < end; w++) denied.words.add(w);
    }
  }
  for (const cleared of hits('cleared'))
    for (const f of found)
      if (f.kind === 'cause' && f.to <= cleared.from && cleared.from - f.to <= 1) {
        deny(f);
        denied.clauses.push([f.span[0], cleared.span[1]]);
        for (let w = f.from; w < cleared.to; w++) denied.words.add(w);
      }
  return denied;
}
