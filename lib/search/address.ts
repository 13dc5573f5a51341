/** A search as an address: the question, what it is narrowed to, and how its reading was corrected. Pure. */
import type { Correction } from './correct';
import { type Facet, facets, type Narrowing } from './facet';
import { longestQuery } from './read-query';

export interface AskedSearch extends Correction {
  q: string;
  narrow: Narrowing;
  not: string[];
  as: string[];
}
type Given = Readonly<Record<string, string | string[] | undefined>>;

const most = 12; // corrections
const list = (value: string | string[] | undefined): string[] =>
  [value ?? []]
    .flat()
    .filter((v) => /^[a-z-]+:.{1,80}$/.test(v))
    .slice(0, most);

/** Reads what stands behind the question mark; what it does not know is left out. */
export function readAsked(given: Given): AskedSearch {
  const one = (key: string) => [given[key] ?? ''].flat()[0] ?? '';
  const narrow: Partial<Record<Facet, string>> = {};
  for (const facet of facets) if (one(facet)) narrow[facet] = one(facet).slice(0, 80);
  return { q: one('q').slice(0, longestQuery), narrow, not: list(given.not), as: list(given.as) };
}

/** What stands behind the question mark; the same search always gives the same. */
export function askedAs({ q, narrow, not, as }: AskedSearch): string {
  const params = new URLSearchParams({ q });
  for (const facet of facets) if (narrow[facet]) params.set(facet, narrow[facet]);
  for (const key of not) params.append('not', key);
  for (const key of as) params.append('as', key);
  return params.toString();
}

/** The same search narrowed, or no longer. */
export const narrowed = (asked: AskedSearch, facet: Facet, value: string | null): AskedSearch => {
  const { [facet]: _, ...rest } = asked.narrow;
  return { ...asked, narrow: value === null ? rest : { ...rest, [facet]: value } };
};

/** The same search without a term that was read, or that was added before. */
export const without = (asked: AskedSearch, key: string): AskedSearch =>
  asked.as.includes(key) ? { ...asked, as: asked.as.filter((a) => a !== key) } : { ...asked, not: [...new Set([...asked.not, key])] };
