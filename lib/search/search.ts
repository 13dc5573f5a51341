/** Past fixes by symptom: one box for words and clues, each result with its reasons. */
import { sql } from 'drizzle-orm';
import thesaurus from '@/content/thesaurus.json';
import type { Chart } from '@/lib/core/chart/types';
import { database } from '@/lib/store/database';
import type { FactKind } from '@/lib/widgets/definition';
import { answer } from './answer';
import { allCharts } from './charts';
import { type Found, gather } from './gather';
import { rate } from './rank';
import { longestQuery, readQuery, type Vocabulary } from './read-query';
import type { QueryPart, SearchResponse, SearchResult } from './types';

/** Everything of the club that fits, best first. Long queries are cut at 300 characters. */
export async function searchFixes(
  query: string,
  { limit = 20, machine, state }: { limit?: number; machine?: string; state?: 'open' | 'mended' } = {},
): Promise<SearchResponse> {
  const began = performance.now();
  const charts = await allCharts();
  const parts = readQuery(query, vocabularyOf(charts));
  const named = parts.filter((p) => p.as === 'machine').map((p) => p.value);
  const results = (
    await ranked([...parts, ...designsOf(parts, charts)], charts, ({ kind }, on) =>
      named.length > 0 && ofMachine.has(kind) ? named.includes(on.machineId ?? '') : true,
    )
  ).filter((r) => (!machine || r.machineId === machine) && (!state || r.state === state));
  return {
    query: query.slice(0, longestQuery),
    parts,
    answers: answer(query, parts, charts),
    results: results.slice(0, limit),
    total: results.length,
    milliseconds: performance.now() - began,
  };
}

const ofMachine = new Set<FactKind>(['circuit', 'sibling']); // a switch number means another switch on another machine
const ofDesign = new Set<FactKind>(['pin', 'header']);

const seenKinds: FactKind[] = ['pin', 'wire', 'circuit', 'header', 'board-design'];

/** Past fixes like this page, those at the same pin of the same board design first, then by circuits, pins and words. The page itself is left out. */
export async function seenBefore(page: string, limit: number): Promise<SearchResult[]> {
  const db = database();
  const [index, facts, charts] = await Promise.all([
    db.execute<{ title: string; place: string | null; machine: string | null; design: string | null }>(
      sql`select i.title, i.record ->> 'place' as place, c.machine, c.design from page_index i left join page_chart c on c.page = i.page where i.page = ${page}`,
    ),
    db.execute<{ kind: FactKind; value: string; label: string }>(
      sql`select kind, value, label from page_fact where page = ${page} and kind = any(${sql.param(seenKinds)}::text[])`,
    ),
    allCharts(),
  ]);
  const own = index.rows[0];
  if (!own) return [];
  const words = readQuery(own.title, vocabularyOf(charts)).filter((p) => p.as === 'word');
  const clues = facts.rows.map(
    (f): QueryPart => ({ text: f.value, as: f.kind as QueryPart['as'], value: f.value, label: f.label, synonyms: [] }),
  );
  const results = await ranked([...words, ...clues], charts, ({ kind }, on) =>
    ofMachine.has(kind) ? on.machineId === own.machine : ofDesign.has(kind) ? on.design === own.design : true,
  );
  const pinIn = (place: string) => readQuery(place, vocabularyOf(charts)).find((p) => p.as === 'pin')?.value;
  const pin = pinIn(own.place ?? '');
  const samePin = (r: SearchResult) =>
    pin !== undefined && pinIn(r.place) === pin && charts.some((c) => c.machine.id === r.machineId && c.design.id === own.design);
  // The same board design alone is no likeness.
  return results
    .map((r) => ({ r, first: samePin(r) }))
    .sort((a, b) => Number(b.first) - Number(a.first))
    .map(({ r, first }) => (first ? { ...r, why: [`was at ${pin} too`, ...r.why] } : r))
    .filter((r) => r.page !== page && r.state === 'mended' && r.why.some((w) => !w.startsWith('same board design')))
    .slice(0, limit);
}

const vocabularyOf = (charts: Chart[]): Vocabulary => ({
  machines: charts.map((c) => ({ id: c.machine.id, title: c.title })),
  designs: [...new Set(charts.map((c) => c.design.id))],
  thesaurus: thesaurus.groups,
});

/** A machine named in the query also speaks for its board design: the same pin fails on its sisters. */
function designsOf(parts: QueryPart[], charts: Chart[]): QueryPart[] {
  return parts
    .filter((p) => p.as === 'machine')
    .flatMap((p) =>
      charts
        .filter((c) => c.machine.id === p.value)
        .map((c): QueryPart => ({ text: p.text, as: 'board-design', value: c.design.id, label: c.design.id, synonyms: [] })),
    );
}

/** `counts` says whether a fact of a page means the same there as in the question. */
async function ranked(
  parts: QueryPart[],
  charts: Chart[],
  counts: (fact: Found['facts'][number], on: Found) => boolean,
): Promise<SearchResult[]> {
  if (parts.length === 0) return [];
  const { found, corpus } = await gather(parts);
  return found
    .map((f) => ({ f, ...rate({ ...f, facts: f.facts.filter((fact) => counts(fact, f)) }, parts, corpus) }))
    .filter((r) => r.score > 0)
    .sort((a, b) => b.score - a.score || b.f.on.localeCompare(a.f.on) || a.f.page.localeCompare(b.f.page))
    .map(({ f, score, why }) => resultOf(f, score, why, charts));
}

const resultOf = (f: Found, score: number, why: string[], charts: Chart[]): SearchResult => ({
  page: f.page,
  title: f.title,
  machine: charts.find((c) => c.machine.id === f.machineId)?.title ?? '',
  machineId: f.machineId,
  on: f.on,
  by: f.record.by,
  minutes: f.record.minutes,
  state: f.state,
  cause: f.record.cause,
  place: f.record.place,
  excerpt: f.record.excerpt,
  wires: f.record.wires,
  why,
  score,
});
