/**
 * Ranking past fixes: words and derived facts, weighed together. Pure; the database only gathers what matched.
 *
 * A word counts by how rare it is in the club's pages (idf); a clue counts by how exactly it names a circuit. A fix on the same board
 * design outranks an unrelated word match, since the same pin fails there again.
 */
import type { FactKind } from '@/lib/widgets/definition';
import type { QueryPart } from './types';

/** One page with all that the query touched on it. */
export interface Match {
  page: string;
  /** Facts of the page that the query names, directly or by board design. */
  facts: { kind: FactKind; value: string; label: string }[];
  /** Query words found in the text, each with where. */
  words: { value: string; via: string; inTitle: boolean }[];
  state: 'open' | 'mended';
  on: string; // day, ISO
}
/** How many pages there are, and in how many each word occurs. */
export interface Corpus {
  pages: number;
  withWord: ReadonlyMap<string, number>;
}

const factWeight: Partial<Record<FactKind, number>> = {
  pin: 5,
  wire: 4,
  circuit: 4,
  header: 2.5,
  machine: 1.5,
  'board-design': 1,
  fault: 1,
  part: 1,
  sibling: 0.4,
};
const synonymWeight = 0.7; // a word of the trade that means the same, against the word itself
const titleBonus = 1.5;
const openShare = 0.7; // an open page asks what a finished fix answers

const asFact: Partial<Record<QueryPart['as'], FactKind>> = {
  wire: 'wire',
  pin: 'pin',
  header: 'header',
  circuit: 'circuit',
  'board-design': 'board-design',
  machine: 'machine',
};
const inWords: Partial<Record<FactKind, (label: string) => string>> = {
  wire: (l) => `${l} is on this repair`,
  pin: (l) => `touches ${l}`,
  header: (l) => `touches connector ${l}`,
  circuit: (l) => `is about ${l}`,
  sibling: (l) => `${l} shares a line with it`,
  'board-design': (l) => `same board design ${l}`,
  machine: (l) => `on ${l}`,
};

/** Facts a clue looks for: a wire either way round, a switch also as a sibling. */
export function factsSought(part: QueryPart): { kind: FactKind; value: string }[] {
  const kind = asFact[part.as];
  if (!kind) return [];
  if (kind === 'wire')
    return [part.value, ...part.synonyms].flatMap((pair) => [pair, pair.split('/').reverse().join('/')]).map((value) => ({ kind, value }));
  if (kind === 'circuit')
    return [
      { kind, value: part.value },
      { kind: 'sibling', value: part.value },
    ];
  return [{ kind, value: part.value }];
}

/** Score (0 when nothing matched) and the reasons in words, strongest first. */
export function rate(match: Match, parts: QueryPart[], corpus: Corpus): { score: number; why: string[] } {
  const reasons: { weight: number; text: string }[] = [];
  for (const part of parts) {
    if (part.as === 'word') {
      const hit = match.words
        .filter((w) => w.value === part.value)
        .sort((a, b) => Number(b.via === part.value) - Number(a.via === part.value))[0];
      if (!hit) continue;
      const idf = Math.log(1 + (corpus.pages + 1) / (1 + (corpus.withWord.get(part.value) ?? 0)));
      const own = hit.via === part.value;
      reasons.push({
        weight: idf * (own ? 1 : synonymWeight) * (hit.inTitle ? titleBonus : 1),
        text: own ? `says “${hit.via}”` : `says “${hit.via}” for “${part.value}”`,
      });
      continue;
    }
    const best = factsSought(part)
      .flatMap((sought) => match.facts.filter((f) => f.kind === sought.kind && f.value === sought.value))
      .sort((a, b) => (factWeight[b.kind] ?? 0) - (factWeight[a.kind] ?? 0))[0];
    if (best) reasons.push({ weight: factWeight[best.kind] ?? 0, text: (inWords[best.kind] ?? ((l: string) => l))(best.label) });
  }
  if (reasons.length === 0) return { score: 0, why: [] };
  const matched = reasons.reduce((sum, r) => sum + r.weight, 0);
  const share = reasons.length / Math.max(1, parts.length); // pages that answer all of the question first
  return {
    score: matched * (0.5 + 0.5 * share) * (match.state === 'open' ? openShare : 1),
    why: reasons.sort((a, b) => b.weight - a.weight).map((r) => r.text),
  };
}
